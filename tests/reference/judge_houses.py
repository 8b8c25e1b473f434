"""Measures rendered houses with the built command and tabulates errors over uncertainties.

    python3 judge_houses.py --houses DIR --program ../../out/node/twinplumb.js

DIR as `render_house.py --out DIR --random N` leaves it. The print has no errors there: what it adds to u is taken off.
"""
import argparse
import json
import os
import subprocess
from collections import defaultdict

import numpy as np

TERMS = ["vertical_offset_pct", "horizontal_offset_pct", "rotation_deg", "size_pct", "stretch_pct", "shear_pct",
         "keystone_h_pct", "keystone_v_pct", "worst_vertical_pct"]


def measure(program, folder, names):
    words = []
    for role in ("bare", "left", "right"):
        files = [os.path.join(folder, f"{name}.jpg") for name in names if name.split("-")[0] == role]
        words += [f"--{role}", *files] if files else []
    ran = subprocess.run(["node", program, "measure", "--json", *words], capture_output=True, text=True)
    return json.loads(ran.stdout)


def without_print(budget):
    return np.sqrt(sum(line["u"] ** 2 for line in budget["lines"] if not line["source"].startswith("print")))


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--houses", required=True)
    parser.add_argument("--program", required=True)
    options = parser.parse_args()
    with open(os.path.join(options.houses, "truths.json")) as file:
        truths = json.load(file)
    ratios, errors, refused = defaultdict(list), defaultdict(list), []
    for house, truth in truths.items():
        names = truth["recipe"]["photographs"]
        for kind, chosen in (("bare", [n for n in names if n.startswith("bare")]), ("pair", [n for n in names if not n.startswith("bare")])):
            if not chosen:
                continue
            reading = measure(options.program, os.path.join(options.houses, house), chosen)
            condition = f"{house.split('-', 1)[1]}, {kind}"
            if reading["outcome"] != "measured":
                refused.append((house, kind, reading["refusal"]["code"]))
                continue
            budgets = {budget["figure"]: without_print(budget) for budget in reading["budget"]}
            for term in TERMS:
                error = reading["misalignment"][term]["value"] - truth["misalignment"][term]
                ratios[condition].append(error / budgets[term])
                errors[condition].append(abs(error))
    print("condition | figures | within 2u, % | rms of error / u | median error | largest error / u")
    for condition in sorted(ratios):
        r = np.array(ratios[condition])
        print(f"{condition} | {len(r)} | {100 * np.mean(np.abs(r) < 2):.1f} | {np.sqrt(np.mean(r * r)):.2f} | {np.median(errors[condition]):.5f} | {np.abs(r).max():.1f}")
    print("refused:", refused)
