"""Light and sensor: sRGB (IEC 61966-2-1), defocus, vignetting, hot spot, noise."""
import cv2
import numpy as np


def linear_from_srgb(codes):
    v = np.arange(256) / 255.0
    table = np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)
    return table[codes].astype(np.float32)


def srgb_codes_table(steps=65536):
    light = np.arange(steps) / (steps - 1)
    coded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    return np.round(255 * coded).astype(np.uint8)


CODES = srgb_codes_table()


def srgb_from_linear(light):
    """8-bit codes of linear light; light is taken in steps of 1/65535, a twentieth of a code at the darkest."""
    return CODES[(np.clip(light, 0, 1) * 65535 + 0.5).astype(np.uint16)]


def disc_kernel(radius_px, parts=15):
    """The evenly lit disc of a defocused lens, its rim averaged over parts x parts points of each pixel."""
    reach = int(np.ceil(radius_px + 0.5))
    fine = (np.arange((2 * reach + 1) * parts) + 0.5) / parts - 0.5 - reach
    inside = (fine[:, None] ** 2 + fine[None, :] ** 2 <= radius_px**2).astype(float)
    size = 2 * reach + 1
    kernel = inside.reshape(size, parts, size, parts).mean((1, 3))
    return (kernel / kernel.sum()).astype(np.float32)


def blur(picture, sigma_px, shape):
    """Softens by a kernel of standard deviation sigma_px (along each axis), 'gauss' or 'disc'."""
    if sigma_px < 0.1:
        return picture
    if shape == "gauss":
        reach = int(np.ceil(5 * sigma_px))
        return cv2.GaussianBlur(picture, (2 * reach + 1, 2 * reach + 1), sigma_px, borderType=cv2.BORDER_REPLICATE)
    return cv2.filter2D(picture, -1, disc_kernel(2 * sigma_px), borderType=cv2.BORDER_REPLICATE)


def vignette(x, y, centre, focal_px, strength):
    """cos^4 of the angle off the lens axis, to the given power."""
    r2 = ((x - centre[0]) ** 2 + (y - centre[1]) ** 2) / focal_px**2
    return (1 + r2) ** (-2 * strength)


def hot_spot(x, y, centre, width, fall):
    """A metallic screen's brightness: 1 at its centre, down to 1 - fall far away; chart coordinates."""
    return 1 - fall * (1 - np.exp(-((x - centre[0]) ** 2 + (y - centre[1]) ** 2) / (2 * width**2)))


def expose(light, recipe, rng):
    """Linear light (1 = clipping) to an 8-bit BGR picture with photon and read noise; 'mosaic' by a Bayer filter."""
    electrons, read = recipe["full_well_e"], recipe["read_noise_e"]

    def noisy(channel):
        sigma = np.sqrt(np.maximum(channel, 0) * electrons + read**2) / electrons
        return channel + sigma.astype(np.float32) * rng.standard_normal(channel.shape, dtype=np.float32)

    if recipe["mosaic"]:
        raw = np.clip(noisy(light) + 0.02, 0, 1.02)  # the pedestal keeps the noise of the dark unclipped
        channels = cv2.cvtColor((raw * 60000).astype(np.uint16), cv2.COLOR_BayerBG2BGR).astype(np.float32) / 60000 - 0.02
        channels = cv2.split(channels)
    else:
        channels = [noisy(light) for _ in range(3)]
    tint = recipe["tint_bgr"]
    return np.dstack([srgb_from_linear(c * t) for c, t in zip(channels, tint)])
