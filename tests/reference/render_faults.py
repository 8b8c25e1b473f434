"""Houses with known faults as a measurement would see them without noise: strengths over the picture, and terms.

    python3 render_faults.py --out golden

Writes faults.json. `strengths` holds for each lens and picture 15 places, row by row from the upper left (the middles of
five by three parts of the picture). `terms` are the eight terms and the worst vertical error by their definition
(misalignment.py), of geometry that is computed here from the machine: path lengths, focal lengths, curved and twisted
mirrors, slanted paths, perforations of the film. Nothing of the program's own optics is used.
"""
import argparse
import json
import os

import numpy as np

from camera import turn
from misalignment import measure_terms
from polarization import House

ASPECT = 2.35
COLUMNS, ROWS = 5, 3
THROW_IH = 27.0 / (10.4 / ASPECT)
MIRROR_IH = 0.1 * THROW_IH / 27.0 * 4  # 0.4 m from lens to mirror
PERFORATION_IN, APERTURE_IN, CENTRES_IN = 0.1870, 0.825, 0.387

OTHER = {"left": "right", "right": "left"}


def places():
    for row in range(ROWS):
        for column in range(COLUMNS):
            yield ASPECT * ((column + 0.5) / COLUMNS - 0.5), 0.5 - (row + 0.5) / ROWS


def linear(a, b, c, d):
    return np.array([[a, b, 0], [c, d, 0], [0, 0, 1.0]])


def curved_mirror(radius_ih, incidence_deg):
    """A ray at field angle t meets the mirror MIRROR_IH * t off its middle and is turned by that times its power."""
    c = np.cos(np.radians(incidence_deg))
    across, along = 2 * c / radius_ih, 2 / (radius_ih * c)
    return linear(1 + MIRROR_IH * across, 0, 0, 1 + MIRROR_IH * along)


def twisted_mirror(saddle, twist, incidence_deg):
    """A surface s (x^2 - y^2) / 2 + t x y by clamps; powers as of a curved mirror, of opposite sign along and across."""
    c = np.cos(np.radians(incidence_deg))
    return linear(1 + 2 * MIRROR_IH * saddle * c, 2 * MIRROR_IH * twist, 2 * MIRROR_IH * twist, 1 - 2 * MIRROR_IH * saddle / c)


def slanted_path(sideways_deg, upwards_deg):
    """A beam that reaches the screen at a slant, brought back to its middle: a pinhole's picture on a turned plane."""
    camera = turn("y", sideways_deg) @ turn("x", upwards_deg)
    h = np.diag([THROW_IH, THROW_IH, 1.0]) @ camera @ np.diag([1 / THROW_IH, 1 / THROW_IH, 1.0])
    middle = h @ np.array([0, 0, 1.0])
    back = np.eye(3)
    back[:2, 2] = -middle[:2] / middle[2]
    return back @ h


def half_frame_offset_ih():
    """Right minus left where the film stands two perforations out. Places along the film, upwards as on the screen."""
    height_in = APERTURE_IN / ASPECT
    # The right-eye picture of a frame stands above its left-eye picture; the next frame's lies four perforations below.
    left, next_right = -CENTRES_IN, -4 * PERFORATION_IN
    # Two out, the aperture holds these two, the left one in the upper port. The attachment lowers the upper port's
    # picture onto the lower one's by CENTRES_IN, whatever comes through.
    left_on_screen, right_on_screen = left - CENTRES_IN, next_right
    return (right_on_screen - left_on_screen) / height_in


def plant(name, house, pictures, rng):
    """Puts a fault into the house; `pictures` are the screen-from-chart maps of both eyes."""
    eye = rng.choice(["left", "right"])
    sign = rng.choice([-1, 1])
    apart = lambda change: pictures.update(right=change @ pictures["right"])
    if name == "projector-polarizer-turned":
        house.axis[eye] += sign * rng.uniform(8, 28)
    elif name == "glasses-lens-turned":
        house.lens[eye] += sign * rng.uniform(8, 24)
    elif name == "one-path-depolarizes":
        if rng.uniform() < 0.5:
            house.spoilt[eye] = rng.uniform(0.03, 0.3)
        else:
            house.path_retarder[eye] = (rng.uniform(45, 120), house.axis[eye] + 45)
    elif name == "glasses-tilted":
        house.glasses_roll += sign * rng.uniform(7, 12)
    elif name == "both-polarizers-turned":
        turned = sign * rng.uniform(7, 14)
        house.axis = {side: axis + turned for side, axis in house.axis.items()}
    elif name == "screen-depolarizes":
        house.matt = rng.uniform(0.06, 0.8)
    elif name == "screen-patch-depolarizes":
        house.stain = ((rng.uniform(-0.8, 0.8), rng.uniform(-0.3, 0.3)), rng.uniform(0.3, 0.5), rng.uniform(0.2, 0.9))
    elif name == "port-glass-strained":
        house.pane_nm = rng.uniform(45, 110)
    elif name == "polarizers-missing":
        house.fitted = False
    elif name == "polarization-kinds-mixed":
        house.circular_glasses = True
    elif name == "camera-filters-missing":
        house.glasses = False
    elif name == "polarizers-exchanged":
        house.axis = {side: house.axis[OTHER[side]] for side in house.axis}
    elif name == "camera-filters-exchanged":
        house.lenses_exchanged = True
    elif name == "half-frame-threading":
        house.axis = {side: house.axis[OTHER[side]] for side in house.axis}
        offset = np.eye(3)
        offset[1, 2] = half_frame_offset_ih()
        apart(offset)
    elif name == "path-lengths-differ":
        grown = 1 + sign * rng.uniform(0.16, 0.4) / 27.0
        apart(linear(grown, 0, 0, grown))
    elif name == "lens-elements-differ":
        grown = 70.0 / (70.0 + sign * rng.uniform(0.42, 1.0))
        apart(linear(grown, 0, 0, grown))
    elif name == "mirror-not-flat":
        apart(curved_mirror(sign * rng.uniform(17, 26), 45))
    elif name == "mirror-strained":
        apart(twisted_mirror(sign * rng.uniform(0.035, 0.05), rng.uniform(-0.05, 0.05), 45))
    elif name == "attachment-off-axis":
        slant = sign * rng.uniform(1.5, 2.6)
        apart(slanted_path(slant, rng.uniform(-1, 1) * slant))
        pictures.update(left=slanted_path(-slant, 0) @ pictures["left"])
    elif name == "picture-missing":
        house.light[eye] = 0.0
    else:
        raise ValueError(name)


LIGHT = [
    "projector-polarizer-turned",
    "glasses-lens-turned",
    "one-path-depolarizes",
    "glasses-tilted",
    "both-polarizers-turned",
    "screen-depolarizes",
    "screen-patch-depolarizes",
    "port-glass-strained",
    "polarizers-missing",
    "polarization-kinds-mixed",
    "camera-filters-missing",
    "polarizers-exchanged",
    "camera-filters-exchanged",
    "half-frame-threading",
    "picture-missing",
]
SHAPE = ["path-lengths-differ", "lens-elements-differ", "mirror-not-flat", "mirror-strained", "attachment-off-axis"]
ALONE = {"polarizers-missing", "polarization-kinds-mixed", "camera-filters-missing", "picture-missing"}
EXCHANGES = {"polarizers-exchanged", "camera-filters-exchanged", "half-frame-threading"}


def pairs():
    names = [name for name in LIGHT + SHAPE if name not in ALONE]
    for i, a in enumerate(names):
        for b in names[i + 1 :]:
            if not {a, b} <= EXCHANGES:
                yield [a, b]


def misaligned(rng):
    """What screws leave: pictures a little off each other."""
    shift = lambda most: rng.uniform(-most, most)
    size = 1 + shift(0.0012)
    return {"left": np.eye(3), "right": np.array([[size, 0, shift(0.002)], [0, size, shift(0.0015)], [0, 0, 1.0]])}


def render_case(faults, seed):
    rng = np.random.default_rng([97, seed])
    house, pictures = House(rng), misaligned(rng)
    for fault in faults:
        plant(fault, house, pictures, rng)
    strengths = {
        lens: {
            picture: [float(f"{house.strength(picture, lens, x, y):.4g}") for x, y in places()]
            for picture in ("left", "right")
        }
        for lens in ("left", "right")
    }
    terms = measure_terms(pictures["left"], pictures["right"], ASPECT)
    return {"faults": faults, "terms": {k: float(f"{v:.5g}") for k, v in terms.items()}, "strengths": strengths}


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--out", required=True)
    parser.add_argument("--each", type=int, default=5)
    parser.add_argument("--healthy", type=int, default=200)
    options = parser.parse_args()
    wanted = [[name] for name in LIGHT + SHAPE for _ in range(options.each)]
    wanted += list(pairs())
    wanted += [[] for _ in range(options.healthy)]
    cases = [render_case(faults, seed) for seed, faults in enumerate(wanted)]
    with open(os.path.join(options.out, "faults.json"), "w") as file:
        file.write("[\n" + ",\n".join(json.dumps(case, separators=(",", ":")) for case in cases) + "\n]\n")
    print(len(cases), "cases")
