"""Photographs without glasses, and pairs, in houses that bend and move; with the truth by definition.

    python3 render_house.py --target DIR --out golden/houses
    python3 render_house.py --target DIR --out DIR --random 40        draws houses, for judge_houses.py

Reads the target's PNG files and target.json as `twinplumb target` writes them, and nothing else of the program.
"""
import argparse
import json
import os

import cv2
import numpy as np

from bent_house import PICTURE_HEIGHT_MM, House
from light import blur, expose, hot_spot, linear_from_srgb, vignette

PARTS = 4
FRAMES = 6


def read_target(folder):
    with open(os.path.join(folder, "target.json")) as file:
        aspect = json.load(file)["aspect"]
    read = lambda eye: linear_from_srgb(cv2.imread(os.path.join(folder, f"target-{eye}.png"), cv2.IMREAD_GRAYSCALE))
    return aspect, {"left": read("left"), "right": read("right")}


def expose_film(recipe, rng):
    """Frames of one exposure: share, (x, y, turn). An exposure of N frames begins within one, so that N + 1 share it."""
    motion_mm, turn_rad = recipe["film_mm"], recipe["film_turn"]
    count = recipe["frames"]
    if motion_mm == 0 and turn_rad == 0:
        return [(1.0, (0.0, 0.0, 0.0))]
    begin = rng.uniform()
    shares = np.array([1 - begin] + [1.0] * (count - 1) + [begin]) / count
    sigma = motion_mm / PICTURE_HEIGHT_MM
    weave = sigma * rng.standard_normal()  # slow: one place for the whole exposure
    return [(s, (weave, sigma * rng.standard_normal(), turn_rad * rng.standard_normal())) for s in shares]


def render_eye(house, picture, eye, lens, frames):
    """Light of one eye's picture over the whole photograph, 1 = white of the target."""
    camera = house.recipe["camera"]
    width, height = camera["width"], camera["height"]
    x, y = np.meshgrid(np.arange(width, dtype=float), np.arange(height, dtype=float))
    film = house.film_from_pixels(eye, lens, np.column_stack([x.ravel(), y.ravel()]))
    rows, columns = picture.shape
    light = np.zeros((height, width), np.float32)
    offsets = (np.arange(PARTS) + 0.5) / PARTS - 0.5
    for share, movement in frames:
        chart = house.chart_from_film(eye, film, movement)
        u = (chart[:, 0] * rows + (columns - 1) / 2).reshape(height, width)
        v = ((rows - 1) / 2 - chart[:, 1] * rows).reshape(height, width)
        (u_y, u_x), (v_y, v_x) = np.gradient(u), np.gradient(v)
        for dy in offsets:
            for dx in offsets:
                at = [(a + dy * a_y + dx * a_x).astype(np.float32) for a, a_y, a_x in ((u, u_y, u_x), (v, v_y, v_x))]
                light += share * cv2.remap(picture, *at, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=0)
    return light / PARTS**2


def photograph(house, target, lens, rng):
    recipe = house.recipe
    camera = recipe["camera"]
    frames = expose_film(recipe, rng)
    passes = recipe["passes"][lens]
    seen = sum(strength * render_eye(house, target[eye], eye, lens, frames) for eye, strength in zip(("left", "right"), passes))
    x, y = np.meshgrid(np.arange(camera["width"], dtype=np.float32), np.arange(camera["height"], dtype=np.float32))
    lit = vignette(x, y, house.principal, camera["focal"], 0.7) * hot_spot(
        (x - camera["width"] / 2) / camera["height"], (camera["height"] / 2 - y) / camera["height"], (0.1, -0.05), 0.7, 0.3
    )
    light = recipe["black"] + recipe["exposure"] * blur((seen * lit).astype(np.float32), recipe["blur"], recipe["blur_shape"])
    sensor = {"full_well_e": recipe["full_well"], "read_noise_e": 5.0, "mosaic": recipe["mosaic"], "tint_bgr": [1, 1, 1]}
    return expose(light.astype(np.float32), sensor, rng), frames


def render(recipe, target_folder, out_folder):
    aspect, target = read_target(target_folder)
    house = House({**recipe, "aspect": aspect})
    house.check_round_trip()
    rng = np.random.default_rng(recipe["seed"] + 5_000_000)
    os.makedirs(out_folder, exist_ok=True)
    places = []
    for name in recipe["photographs"]:
        lens = name.split("-")[0]
        picture, frames = photograph(house, target, lens, rng)
        grey = cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY) if recipe["grey"] else picture
        cv2.imwrite(os.path.join(out_folder, f"{name}.jpg"), grey, [cv2.IMWRITE_JPEG_QUALITY, recipe["quality"]])
        places.append([[round(float(v), 9) for v in (share, *movement)] for share, movement in frames])
    return {"misalignment": house.misalignment(), "film": places, "recipe": recipe}


def waves(rng, sigma_px, length_px):
    """Four waves across the photograph, together of this standard deviation in each direction."""
    drawn = []
    for _ in range(4):
        angle, phase = rng.uniform(0, 2 * np.pi, 2)
        k = 2 * np.pi / (length_px * rng.uniform(0.8, 1.3))
        a = sigma_px * np.sqrt(2 / 4) * np.array([rng.choice([-1, 1]), rng.choice([-1, 1])])
        drawn.append([float(v) for v in (k * np.cos(angle), k * np.sin(angle), phase, *a)])
    return drawn


def draw_house(seed, width=1800, **given):
    """A house with nothing but a drawn misalignment; `given` changes fields. Angles in radians, lengths in ih."""
    rng = np.random.default_rng([seed, 77])
    aside = np.radians(given.pop("aside_deg", rng.uniform(-6, 6)))
    distance, height = rng.uniform(3, 3.8), round(0.54 * width)
    radius_widths = given.pop("radius_widths", None)
    u = lambda most: float(rng.uniform(-most, most))
    throw, rake = rng.uniform(5.5, 7), np.radians(rng.uniform(2, 9))
    path = lambda: {"turn": [u(0.006) / throw, u(0.006) / throw, np.radians(u(0.15))], "size": u(0.002)}
    # The camera sees the picture over 0.86 of its width.
    focal = 0.86 * width * distance / (2.35 * np.cos(aside))
    still = {"shift": [0.0, 0.0], "waves": []}
    ghost = given.pop("ghost", 0.005)
    return {
        "seed": seed,
        "photographs": ["bare"],
        "port": [u(0.15), float(throw * np.sin(rake)), float(throw * np.cos(rake))],
        "upper": "right",
        "path": {"left": path(), "right": path()},
        "lens_pct": {"left": 0.0, "right": 0.0},
        "radius": None if radius_widths is None else 2.35 * radius_widths,
        "film_mm": 0.0,
        "film_turn": 0.0,
        "frames": FRAMES,
        "camera": {
            "width": width,
            "height": height,
            "focal": float(focal),
            "place": [float(distance * np.sin(aside)), u(0.25), float(distance * np.cos(aside))],
            "aim": [u(0.03), u(0.03), 0.0],
            "roll": float(np.radians(u(1))),
            "off_centre": [u(12), u(12)],
            "lens": [u(0.02), u(0.01), u(2e-4), u(2e-4)],
        },
        "glasses": {"left": still, "right": still},
        "passes": {"bare": [0.5, 0.5], "left": [1.0, ghost], "right": [ghost, 1.0]},
        "exposure": 0.75,
        "black": 0.002,
        "blur": float(rng.uniform(0.6, 1.0)),
        "blur_shape": ["gauss", "disc"][seed % 2],
        "full_well": 30000.0,
        "mosaic": False,
        "grey": True,
        "quality": 82,
        **given,
    }


def glasses(seed, sigma_px, shift_px=0.0):
    rng = np.random.default_rng([seed, 99])
    angle = rng.uniform(0, 2 * np.pi)
    half = [float(shift_px / 2 * np.cos(angle)), float(shift_px / 2 * np.sin(angle))]
    lens = lambda sign: {"shift": [sign * h for h in half], "waves": waves(rng, sigma_px, 450) if sigma_px else []}
    return {"left": lens(1), "right": lens(-1)}


BOTH = ["bare", "left", "right"]
pincushion = lambda percent, other=None: {"left": percent, "right": percent if other is None else other}
MOVING = {"film_mm": 0.005, "film_turn": np.sqrt(2) * 0.005 / 19}

HOUSES = {
    "moving-film": draw_house(1, **MOVING, photographs=BOTH),
    "much-moving-film": draw_house(2, film_mm=0.0089),
    "radius-1-aside-20": draw_house(3, radius_widths=1, aside_deg=20),
    "radius-2-aside-15": draw_house(5, radius_widths=2, aside_deg=15),
    "radius-4-aside-20": draw_house(6, radius_widths=4, aside_deg=-20),
    "pincushion": draw_house(7, lens_pct=pincushion(0.5)),
    "barrel-unlike": draw_house(8, lens_pct=pincushion(-1.0, -0.8)),
    "wavy-filter": draw_house(9, glasses=glasses(9, 0.2), photographs=["left", "right"]),
    "everything": draw_house(10, **MOVING, radius_widths=2, aside_deg=12, lens_pct=pincushion(0.2)),
}


def draw_random(seed):
    """One of the kinds above, with everything else drawn."""
    rng = np.random.default_rng([seed, 55])
    kind = list(HOUSES)[seed % len(HOUSES)]
    like = HOUSES[kind]
    given = {"photographs": like["photographs"], "film_mm": like["film_mm"], "film_turn": like["film_turn"]}
    if like["radius"] is not None:
        given["radius_widths"] = float(rng.uniform(1, 4)) if "everything" == kind else like["radius"] / 2.35
        given["aside_deg"] = float(rng.uniform(-20, 20))
    if like["lens_pct"]["left"]:
        bend = float(rng.choice([-1, 1]) * 0.02 * 50 ** rng.uniform())
        given["lens_pct"] = pincushion(bend, bend * float(rng.uniform(0.8, 1.2)))
    if any(like["glasses"]["left"]["shift"]) or like["glasses"]["left"]["waves"]:
        given["glasses"] = glasses(seed, float(rng.uniform(0.05, 0.2)), float(rng.uniform(0, 3)))
    ghost = float(np.exp(rng.uniform(np.log(0.0005), np.log(0.03))))
    return kind, draw_house(1000 + seed, ghost=ghost, mosaic=bool(rng.integers(2)), grey=False, quality=90, **given)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--target", required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--random", type=int, default=0, help="draws so many houses instead of the kept ones")
    parser.add_argument("--only", nargs="*")
    options = parser.parse_args()
    drawn = [(f"{i:03d}-{kind}", r) for i in range(options.random) for kind, r in [draw_random(i)]] or list(HOUSES.items())
    truths = {}
    for name, recipe in drawn:
        if options.only and name not in options.only:
            continue
        truths[name] = render(recipe, options.target, os.path.join(options.out, name))
        print(name, {key: round(value, 5) for key, value in truths[name]["misalignment"].items()}, flush=True)
    with open(os.path.join(options.out, "truths.json"), "w") as file:
        json.dump(truths, file, indent=1)
        file.write("\n")
