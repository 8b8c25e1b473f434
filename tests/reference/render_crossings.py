"""Single crossings with known centres, and where OpenCV and a plain saddle fit find them.

    python3 render_crossings.py --target DIR --out golden

Writes crossings.png (a sheet of 112 x 112 px crops, 8-bit sRGB) and crossings.json. Each crop is its own photo frame:
(0, 0) is the centre of its top-left pixel. `photo_from_chart` holds for the crop; `centre_px` is the crossing's true
place in it. Positions by others:

    opencv_px   cv2.cornerSubPix on the linear light as 32-bit floats, for each half window; Foerstner and Guelch,
                A fast operator for detection and precise location of distinct points, corners and centres of circular
                features (1987)
    saddle_px   centre of the quadratic that fits the linear light best, weighted with a Gaussian, iterated
"""
import argparse
import json
import os

import cv2
import numpy as np

from camera import Lens, transfer
from light import blur, linear_from_srgb, srgb_from_linear
from recipe import draw_recipe
from render_pair import homographies, read_target, render_layer

SIDE = 112
COLUMNS, ROWS = 6, 4
MARGIN = 16
HALF_WINDOWS = [6, 8, 10]
SADDLE_SIGMA_PX = 5.0


def shot_of(index, marks, target, rng):
    """One crop and what is known of it."""
    recipe = draw_recipe(500 + index, "oblique" if index % 6 == 5 else "plain", 4000)
    mark = marks[rng.integers(len(marks))]
    homography = homographies(recipe)[mark["eye"]]
    at = transfer(homography, [[mark["x"], mark["y"]]])[0]
    corner = np.round(at - (SIDE - 1) / 2 + rng.uniform(-3, 3, 2)).astype(int)
    homography = np.array([[1, 0, -corner[0]], [0, 1, -corner[1]], [0, 0, 1]]) @ homography
    homography /= homography[2, 2]
    box = (-MARGIN, -MARGIN, SIDE + MARGIN, SIDE + MARGIN)
    plain = Lens("forward", 0.0, 1.0, np.zeros(2))
    light = render_layer(target[mark["eye"]], homography, plain, box)
    light = blur(light, recipe["blur_px"] * (1.7 if index % 4 == 3 else 1), recipe["blur_shape"])
    light = light[MARGIN:-MARGIN, MARGIN:-MARGIN]
    tilt = rng.uniform(-0.0015, 0.0015, 2)
    y, x = np.mgrid[:SIDE, :SIDE] - (SIDE - 1) / 2
    light = recipe["black_level"] + recipe["exposure"] * light * (1 + tilt[0] * x + tilt[1] * y)
    electrons, read = recipe["full_well_e"], recipe["read_noise_e"]
    light = light + np.sqrt(light * electrons + read**2) / electrons * rng.standard_normal(light.shape)
    codes = srgb_from_linear(light)
    known = {
        "mark": mark["id"],
        "photo_from_chart": homography.ravel().tolist(),
        "centre_px": transfer(homography, [[mark["x"], mark["y"]]])[0].tolist(),
        "start_px": None,
        "blur_px": recipe["blur_px"] * (1.7 if index % 4 == 3 else 1),
        "blur_shape": recipe["blur_shape"],
    }
    known["start_px"] = (np.array(known["centre_px"]) + rng.uniform(-1.2, 1.2, 2)).tolist()
    return codes, known


def refine_corner(light, start, half):
    place = np.array([[start]], np.float32)
    stop = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 100, 1e-5)
    return cv2.cornerSubPix(light, place, (half, half), (-1, -1), stop)[0, 0].astype(float).tolist()


def fit_saddle(light, start):
    """The stationary point of a + b x + c y + d x^2 + e x y + f y^2, fitted under a Gaussian around the last one."""
    rows, columns = np.mgrid[:SIDE, :SIDE].astype(float)
    centre = np.array(start, float)
    for _ in range(50):
        x, y = (columns - centre[0]).ravel(), (rows - centre[1]).ravel()
        weight = np.exp(-(x * x + y * y) / (4 * SADDLE_SIGMA_PX**2))
        basis = np.column_stack([np.ones_like(x), x, y, x * x, x * y, y * y])
        _, b, c, d, e, f = np.linalg.lstsq(basis * weight[:, None], light.ravel() * weight, rcond=None)[0]
        step = np.linalg.solve([[2 * d, e], [e, 2 * f]], [-b, -c])
        centre = centre + step
        if np.hypot(*step) < 1e-6:
            break
    return centre.tolist()


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--target", required=True)
    parser.add_argument("--out", required=True)
    options = parser.parse_args()
    _, target = read_target(options.target)
    with open(os.path.join(options.target, "target.json")) as file:
        marks = json.load(file)["marks"]
    rng = np.random.default_rng(96)
    sheet = np.zeros((ROWS * SIDE, COLUMNS * SIDE), np.uint8)
    crossings = []
    for index in range(ROWS * COLUMNS):
        codes, known = shot_of(index, marks, target, rng)
        row, column = divmod(index, COLUMNS)
        sheet[row * SIDE : (row + 1) * SIDE, column * SIDE : (column + 1) * SIDE] = codes
        light = linear_from_srgb(codes)
        known["opencv_px"] = {str(half): refine_corner(light, known["start_px"], half) for half in HALF_WINDOWS}
        known["saddle_px"] = fit_saddle(light, known["start_px"])
        crossings.append({"row": row, "column": column, **known})
    os.makedirs(options.out, exist_ok=True)
    cv2.imwrite(os.path.join(options.out, "crossings.png"), sheet, [cv2.IMWRITE_PNG_COMPRESSION, 9])
    with open(os.path.join(options.out, "crossings.json"), "w") as file:
        json.dump({"opencv_version": cv2.__version__, "side_px": SIDE, "crossings": crossings}, file, indent=1)
    truth = np.array([c["centre_px"] for c in crossings])
    for name, places in [
        *[(f"opencv {half}", [c["opencv_px"][str(half)] for c in crossings]) for half in HALF_WINDOWS],
        ("saddle", [c["saddle_px"] for c in crossings]),
    ]:
        error = np.array(places) - truth
        print(f"{name:10} rms {np.sqrt((error**2).mean()):.4f} px, mean {error.mean(0).round(4)}, largest {abs(error).max():.4f}")
