"""Runs the built command over rendered pairs and compares its readings with the renderer's truth.

    python3 judge_pairs.py --target DIR --work DIR --program out/node/twinplumb.js --kind plain --first 0 --count 60
    python3 judge_pairs.py --summarise results.jsonl ...

Appends one line a pair to WORK/results.jsonl and deletes the photographs.
"""
import argparse
import json
import os
import shutil
import subprocess
from collections import defaultdict

import cv2
import numpy as np

from recipe import draw_recipe
from render_pair import render

# Median and 95th percentile of the absolute error to reach.
GOALS = {
    "vertical_offset_pct": (0.0005, 0.0015),
    "horizontal_offset_pct": (0.0010, 0.003),
    "rotation_deg": (0.0003, 0.001),
    "size_pct": (0.0012, 0.0035),
}
TERMS = [*GOALS, "stretch_pct", "shear_pct", "keystone_h_pct", "keystone_v_pct", "worst_vertical_pct"]


def judge_one(options, seed):
    recipe = draw_recipe(seed, options.kind, options.width)
    folder = os.path.join(options.work, f"{options.kind}-{seed}")
    truth = render(recipe, options.target, folder, parts=3)
    shots = [os.path.join(folder, f"{side}.jpg") for side in ("left", "right")]
    ran = subprocess.run(
        ["node", options.program, "measure", "--json", "--left", shots[0], "--right", shots[1]],
        capture_output=True,
        text=True,
    )
    line = {"kind": options.kind, "seed": seed, "status": ran.returncode, "recipe": recipe}
    reading = json.loads(ran.stdout) if ran.stdout.strip() else {"outcome": "none", "stderr": ran.stderr[-500:]}
    line["outcome"] = reading["outcome"]
    line["refusal"] = reading.get("refusal")
    if reading["outcome"] == "measured":
        line["terms"] = {
            name: [reading["misalignment"][name]["value"], reading["misalignment"][name]["u"], truth["misalignment"][name]]
            for name in TERMS
        }
        line["assignment"] = [reading["eyes"]["assignment"], truth["assignment"]]
        line["crosstalk"] = {
            name: [reading["eyes"][name]["value"], reading["eyes"][name]["u"], truth[name]]
            for name in ("crosstalk_left_pct", "crosstalk_right_pct")
        }
        line["marks"] = reading["marks"]
        line["steadiness"] = reading["steadiness"]
        line["distortion"] = reading["evidence"]["distortion"]
        line["blur"] = reading["evidence"]["blur_px"]
    with open(os.path.join(options.work, "results.jsonl"), "a") as file:
        file.write(json.dumps(line) + "\n")
    if not options.keep:
        shutil.rmtree(folder)


def groups_of(line):
    recipe = line["recipe"]
    lens = recipe["lens"]
    yield f"kind {line['kind']}"
    if line["kind"] != "plain":
        return
    yield "lens none" if lens["k1"] == 0 else f"lens {lens['form']} by {lens['normalised_by']}"
    yield f"chroma {recipe['chroma']}"
    yield "quality below 92" if recipe["quality"] < 92 else "quality from 92"
    yield f"blur {recipe['blur_shape']}"
    yield "mosaic" if recipe["mosaic"] else "no mosaic"


def summarise(paths):
    lines = [json.loads(line) for path in paths for line in open(path)]
    groups = defaultdict(list)
    for line in lines:
        for name in groups_of(line):
            groups[name].append(line)
    for group, members in groups.items():
        measured = [line for line in members if line["outcome"] == "measured"]
        refused = [line["refusal"]["code"] if line["refusal"] else line["status"] for line in members if line not in measured]
        print(f"\n{group}: {len(members)} pairs, {len(measured)} measured, refused {refused}")
        if not measured:
            continue
        print(f"  {'':24}{'median':>10}{'p95':>10}{'largest':>10}{'bias':>10}{'u of bias':>10}{'rms z':>8}{'in 2u':>8}")
        for name in TERMS:
            value, u, truth = np.array([line["terms"][name] for line in measured]).T
            if name == "worst_vertical_pct":
                value = np.abs(value)
            error = value - truth
            z = error / u
            goal = GOALS.get(name)
            met = "" if not goal else ("  met" if np.median(abs(error)) <= goal[0] and np.percentile(abs(error), 95) <= goal[1] else "  NOT MET")
            print(
                f"  {name:24}{np.median(abs(error)):10.6f}{np.percentile(abs(error), 95):10.6f}{abs(error).max():10.6f}"
                f"{error.mean():10.6f}{error.std() / np.sqrt(len(error)):10.6f}{np.sqrt((z**2).mean()):8.2f}"
                f"{100 * (abs(z) <= 2).mean():7.1f}%{met}"
            )
        talk = np.array([value for line in measured for value in line["crosstalk"].values()])
        error, truth = talk[:, 0] - talk[:, 2], talk[:, 2]
        outside = (abs(error) > np.maximum(0.1 * truth, 0.1)).sum()
        print(
            f"  crosstalk: relative error median {np.median(abs(error) / truth):.4f} p95 {np.percentile(abs(error) / truth, 95):.4f}"
            f" bias {np.median(error / truth):+.4f}, absolute p95 {np.percentile(abs(error), 95):.4f}, beyond goal {outside} of {len(error)},"
            f" in 2u {100 * (abs(error) <= 2 * talk[:, 1]).mean():.0f}%"
        )
        wrong = [line["seed"] for line in measured if line["assignment"][0] != line["assignment"][1]]
        print(f"  assignment wrong: {wrong}; marks median {np.median([line['marks']['left'] + line['marks']['right'] for line in measured])}")
        steady = [line["steadiness"] for line in measured if line["steadiness"]]
        if steady:
            z = [s["movement_px"]["value"] / s["movement_px"]["u"] for s in steady]
            print(
                f"  steadiness: told in {len(steady)}; movement median {np.median([s['movement_px']['value'] for s in steady]):.4f} px,"
                f" over its u median {np.median(z):.2f} largest {max(z):.2f}, least chance {min(s['chance'] for s in steady):.1e}"
            )


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--summarise", nargs="+")
    parser.add_argument("--target")
    parser.add_argument("--work")
    parser.add_argument("--program")
    parser.add_argument("--kind", default="plain")
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int, default=1)
    parser.add_argument("--step", type=int, default=1)
    parser.add_argument("--width", type=int, default=4000)
    parser.add_argument("--keep", action="store_true")
    options = parser.parse_args()
    if options.summarise:
        summarise(options.summarise)
    else:
        cv2.setNumThreads(1)
        os.makedirs(options.work, exist_ok=True)
        for seed in range(options.first, options.first + options.count, options.step):
            judge_one(options, seed)
