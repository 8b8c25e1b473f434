"""Photographs of the projected alignment target, rendered without any code of the program under test.

Reads target-left.png, target-right.png and target.json as `twinplumb target` writes them, and nothing else of it.
Writes left.jpg (through the left lens of the glasses), right.jpg and truth.json.

    python3 render_pair.py --target DIR --out DIR --seed 3 [--kind plain] [--width 4000]

Pixel (i, j) of a target picture lies at chart x = (i - (W - 1) / 2) / H, y = ((H - 1) / 2 - j) / H. Light is summed
linearly over 4 x 4 points of each photo pixel; the target is interpolated linearly between its pixels.
"""
import argparse
import json
import os
import subprocess

import cv2
import numpy as np

from camera import Camera, Lens, transfer
from light import blur, expose, hot_spot, linear_from_srgb, vignette
from misalignment import measure_terms
from recipe import draw_recipe

PARTS = 4


def read_target(folder):
    with open(os.path.join(folder, "target.json")) as file:
        aspect = json.load(file)["aspect"]
    read = lambda eye: linear_from_srgb(cv2.imread(os.path.join(folder, f"target-{eye}.png"), cv2.IMREAD_GRAYSCALE))
    return aspect, {"left": read("left"), "right": read("right")}


def homographies(recipe):
    """Photo-from-chart of both eyes, undistorted."""
    camera = Camera(**recipe["camera"]).photo_from_chart()
    pictures = {eye: np.array(recipe["screen_from_chart"][eye]) for eye in ("left", "right")}
    return {eye: camera @ h / (camera @ h)[2, 2] for eye, h in pictures.items()}


def lens_of(recipe):
    camera = Camera(**recipe["camera"])
    half = np.array([camera.width_px, camera.height_px]) / 2
    radius = {"diagonal": np.hypot(*half), "width": half[0], "focal": camera.focal_px}[recipe["lens"]["normalised_by"]]
    return Lens(recipe["lens"]["form"], recipe["lens"]["k1"], radius, camera.principal_point())


def picture_box(lens, homography, aspect, width, height, margin=40):
    """Photo rectangle that holds both pictures and their blur: x0, y0, x1, y1 (exclusive)."""
    t = np.linspace(-0.5, 0.5, 41)
    rim = np.vstack([np.column_stack([aspect * s, r]) for s, r in ((t, 0 * t + 0.5), (t, 0 * t - 0.5))])
    rim = np.vstack([rim, np.column_stack([0 * t + aspect / 2, t]), np.column_stack([0 * t - aspect / 2, t])])
    seen = np.vstack([lens.distort(transfer(h, rim)) for h in homography.values()])
    low = np.maximum(np.floor(seen.min(0)) - margin, 0).astype(int)
    high = np.minimum(np.ceil(seen.max(0)) + margin, [width, height]).astype(int)
    return low[0], low[1], high[0], high[1]


def target_map(picture_shape, homography, lens, box):
    """Where each photo pixel's centre lies in a target picture: columns, rows (float64)."""
    x0, y0, x1, y1 = box
    rows, columns = picture_shape
    g = np.array([[rows, 0, (columns - 1) / 2], [0, -rows, (rows - 1) / 2], [0, 0, 1]]) @ np.linalg.inv(homography)
    x = np.arange(x0, x1)[None, :] - lens.centre[0]
    y = np.arange(y0, y1)[:, None] - lens.centre[1]
    factor = lens.undistort_factor((x * x + y * y) / lens.radius_px**2)
    qx = x * factor + lens.centre[0]
    qy = y * factor + lens.centre[1]
    w = 1 / (g[2, 0] * qx + g[2, 1] * qy + g[2, 2])
    return (g[0, 0] * qx + g[0, 1] * qy + g[0, 2]) * w, (g[1, 0] * qx + g[1, 1] * qy + g[1, 2]) * w


def render_layer(picture, homography, lens, box, parts=PARTS):
    """Light of one eye's picture alone in the photo rectangle, 1 = full white of the target.

    The map from photo to target is so nearly straight within a pixel that its points follow from the centre's place
    and slopes (the neglected curvature is below 1e-5 target pixels).
    """
    u, v = target_map(picture.shape, homography, lens, box)
    slopes = [part.astype(np.float32) for part in (*np.gradient(u), *np.gradient(v))]
    u, v = u.astype(np.float32), v.astype(np.float32)
    layer = np.zeros(u.shape, np.float32)
    offsets = (np.arange(parts) + 0.5) / parts - 0.5
    for dy in offsets:
        across_u, across_v = cv2.scaleAdd(slopes[0], dy, u), cv2.scaleAdd(slopes[2], dy, v)
        for dx in offsets:
            part_u, part_v = cv2.scaleAdd(slopes[1], dx, across_u), cv2.scaleAdd(slopes[3], dx, across_v)
            layer += cv2.remap(picture, part_u, part_v, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=0)
    return layer / (parts * parts)


def shade(recipe, homography, box, lens):
    """Hot spot (in chart coordinates) times vignetting, over the photo rectangle."""
    x0, y0, x1, y1 = box
    x, y = np.meshgrid(np.arange(x0, x1, dtype=np.float32), np.arange(y0, y1, dtype=np.float32))
    g = np.linalg.inv(homography["left"])
    w = g[2, 0] * x + g[2, 1] * y + g[2, 2]
    spot = recipe["hot_spot"]
    lit = hot_spot(
        (g[0, 0] * x + g[0, 1] * y + g[0, 2]) / w,
        (g[1, 0] * x + g[1, 1] * y + g[1, 2]) / w,
        spot["centre"],
        spot["width"],
        spot["fall"],
    )
    return (lit * vignette(x, y, lens.centre, recipe["camera"]["focal_px"], recipe["vignetting"])).astype(np.float32)


def cover_with_heads(light, recipe, floor):
    """Dark heads and shoulders at the bottom of the photograph, out of focus."""
    cover = np.zeros_like(light)
    for head in recipe["heads"]:
        x, y, r = (int(round(v)) for v in head)
        cv2.ellipse(cover, (x, y), (r, int(1.25 * r)), 0, 0, 360, 1.0, -1)
        cv2.ellipse(cover, (x, y + int(2.6 * r)), (int(2.1 * r), int(1.7 * r)), 0, 0, 360, 1.0, -1)
    cover = cv2.GaussianBlur(cover, (0, 0), 6)
    return light * (1 - cover) + floor * cover


def photograph(recipe, layers, box, shaded, lens_of_glasses, rng):
    """The photo through one lens of the glasses, 8-bit BGR."""
    left, right = recipe["passes"][lens_of_glasses]
    camera = recipe["camera"]
    x0, y0, x1, y1 = box
    light = np.full((camera["height_px"], camera["width_px"]), recipe["black_level"], np.float32)
    seen = (left * layers["left"] + right * layers["right"]) * shaded
    light[y0:y1, x0:x1] += recipe["exposure"] * blur(seen, recipe["blur_px"], recipe["blur_shape"])
    light = cover_with_heads(light, recipe, 0.4 * recipe["black_level"]) if recipe["heads"] else light
    return expose(light, recipe, rng)


def render(recipe, target_folder, out_folder, parts=PARTS):
    """Renders both photographs; returns the truth."""
    aspect, target = read_target(target_folder)
    homography = homographies(recipe)
    lens = lens_of(recipe)
    camera = recipe["camera"]
    rng = np.random.default_rng(recipe["seed"] + 1_000_000)
    os.makedirs(out_folder, exist_ok=True)
    for side in ("left", "right"):
        moved = np.array([[1, 0, recipe["moved_px"][0]], [0, 1, recipe["moved_px"][1]], [0, 0, 1]])
        seen = homography if side == "left" else {eye: moved @ h for eye, h in homography.items()}
        if side == "left" or np.any(recipe["moved_px"]):
            box = picture_box(lens, seen, aspect, camera["width_px"], camera["height_px"])
            layers = {eye: render_layer(target[eye], seen[eye], lens, box, parts) for eye in target}
            shaded = shade(recipe, seen, box, lens)
        picture = photograph(recipe, layers, box, shaded, side, rng)
        write_jpeg(os.path.join(out_folder, f"{side}.jpg"), picture, recipe)
    passes = recipe["passes"]
    truth = {
        "misalignment": measure_terms(homography["left"], homography["right"], aspect),
        "crosstalk_left_pct": 100 * passes["left"][1] / passes["left"][0],
        "crosstalk_right_pct": 100 * passes["right"][0] / passes["right"][1],
        "assignment": "swapped" if passes["left"][1] > passes["left"][0] else "correct",
        "photo_from_chart": {eye: h.ravel().tolist() for eye, h in homography.items()},
        "recipe": recipe,
    }
    with open(os.path.join(out_folder, "truth.json"), "w") as file:
        json.dump(truth, file, indent=1)
    return truth


def write_jpeg(path, picture, recipe):
    """A JPEG file: chroma at half resolution, at full resolution (written by ImageMagick), or none at all (grey)."""
    if recipe["chroma"] == "full":
        lossless = path + ".png"
        cv2.imwrite(lossless, picture, [cv2.IMWRITE_PNG_COMPRESSION, 1])
        sampling = ["-sampling-factor", "1x1", "-quality", str(recipe["quality"])]
        subprocess.run(["convert", lossless, "-strip", *sampling, path], check=True)
        os.remove(lossless)
        return
    if recipe["chroma"] == "grey":
        picture = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY)
    cv2.imwrite(path, picture, [cv2.IMWRITE_JPEG_QUALITY, recipe["quality"]])


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--target", required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--seed", type=int, required=True)
    parser.add_argument("--kind", default="plain")
    parser.add_argument("--width", type=int, default=4000)
    options = parser.parse_args()
    drawn = draw_recipe(options.seed, options.kind, options.width)
    print(json.dumps(render(drawn, options.target, options.out)["misalignment"]))
