"""The two pairs kept with the tests: small photographs (2.8 megapixels) with their truth.

    python3 make_golden.py --target DIR --out golden
"""
import argparse
import json
import os

from recipe import draw_recipe
from render_pair import render

WIDTH_PX = 1920
PAIRS = {
    # A camera lens as the program models it, eyes as they should be, chroma at half resolution.
    "pair-correct": (13, "plain", {"chroma": "half", "quality": 90, "full_well_e": 40000.0, "blur_px": 0.8}),
    # A lens that it does not model exactly, and the eyes exchanged; grey.
    "pair-swapped": (10, "swapped", {"chroma": "grey", "quality": 92, "full_well_e": 30000.0, "blur_px": 0.9}),
}


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--target", required=True)
    parser.add_argument("--out", required=True)
    options = parser.parse_args()
    for name, (seed, kind, set_by_hand) in PAIRS.items():
        recipe = {**draw_recipe(seed, kind, WIDTH_PX), **set_by_hand}
        folder = os.path.join(options.out, name)
        truth = render(recipe, options.target, folder)
        size = sum(os.path.getsize(os.path.join(folder, f"{side}.jpg")) for side in ("left", "right"))
        print(name, size, recipe["lens"], json.dumps(truth["misalignment"]), truth["crosstalk_left_pct"], truth["crosstalk_right_pct"])
