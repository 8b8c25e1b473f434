"""Draws what a pair of photographs shows: pose, misalignment, lens, light. A recipe is plain data (JSON)."""
import numpy as np

LENSES = [
    ("none", "diagonal"),
    ("forward", "diagonal"),
    ("forward", "width"),
    ("forward", "focal"),
    ("inverse", "diagonal"),
    ("inverse", "width"),
]
CHROMAS = ["half", "full", "grey"]
KINDS = ["plain", "soft", "dim", "noisy", "heads", "corner", "oblique", "swapped", "moved"]


def picture_change(rng, offset, roll_deg, size, shape, keystone):
    """A small homography in chart coordinates; each argument is the largest amount (fractions, degrees)."""
    u = lambda most: rng.uniform(-most, most)
    roll, scale, stretch, shear = np.radians(u(roll_deg)), u(size), u(shape), u(shape)
    affine = np.array([[1 + scale + stretch, shear - roll, u(offset)], [shear + roll, 1 + scale - stretch, u(offset)]])
    return np.vstack([affine, [u(keystone), u(keystone), 1]])


def draw_recipe(seed, kind="plain", width_px=4000):
    """The same seed, kind and width give the same recipe."""
    rng = np.random.default_rng([seed, KINDS.index(kind)])
    scale = width_px / 4000
    height_px = round(width_px * 3 / 4)
    focal_px = width_px * rng.uniform(0.9, 2.4)
    fill = rng.uniform(0.7, 0.85)
    off_axis = rng.uniform(25, 35) * rng.choice([-1, 1]) if kind == "oblique" else rng.uniform(-12, 12)
    foreshortened = np.cos(np.radians(off_axis))
    form, normalised_by = LENSES[seed % len(LENSES)]
    common = picture_change(rng, 0, 0, 0, 0.01, 0.01)
    change = picture_change(rng, 0.012, 0.4, 0.008, 0.003, 0.003)
    aim = [rng.uniform(-0.08, 0.08), rng.uniform(-0.1, 0.1)]
    if kind == "corner":
        fill, aim = 0.97, [rng.choice([-1, 1]) * rng.uniform(0.15, 0.22), rng.choice([-1, 1]) * 0.35]
    half = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1]]) + (change - np.eye(3)) / 2
    other = np.eye(3) - (change - np.eye(3)) / 2
    leak = lambda: float(np.exp(rng.uniform(np.log(0.002), np.log(0.2))))
    balance = rng.uniform(0.85, 1.18)
    leak_left, leak_right = leak(), leak()
    if kind == "moved":
        leak_left, leak_right = 0.01, 0.01
    passes = {"left": [1.0, leak_left * balance], "right": [leak_right, balance]}
    if kind == "swapped":
        passes = {"left": passes["right"], "right": passes["left"]}
    exposure = rng.uniform(0.45, 0.8) * (0.12 if kind == "dim" else 1)
    moved = rng.uniform(0.4, 4) if kind == "moved" else 0
    bearing = rng.uniform(0, 2 * np.pi)
    heads = []
    if kind == "heads":
        # The picture's lower edge lies near here; heads reach into it from below.
        lower_edge = height_px / 2 + fill * width_px / 2.35 / 2
        heads = [
            [rng.uniform(0.15, 0.85) * width_px, lower_edge + rng.uniform(-90, 60) * scale, rng.uniform(70, 130) * scale]
            for _ in range(rng.integers(3, 6))
        ]
    return {
        "seed": seed,
        "kind": kind,
        "camera": {
            "width_px": width_px,
            "height_px": height_px,
            "focal_px": float(focal_px),
            "distance": float(focal_px * 2.35 * foreshortened / (fill * width_px)),
            "azimuth_deg": float(off_axis),
            "elevation_deg": float(rng.uniform(-5, 5)),
            "roll_deg": float(rng.uniform(-1.5, 1.5)),
            "aim": [float(v) for v in aim],
            "principal_px": [float(rng.uniform(-15, 15) * scale), float(rng.uniform(-15, 15) * scale)],
        },
        "screen_from_chart": {"left": (common @ other).tolist(), "right": (common @ half).tolist()},
        "lens": {
            "form": "forward" if form == "none" else form,
            "k1": 0.0 if form == "none" else float(rng.uniform(-0.04, 0.04)),
            "normalised_by": normalised_by,
        },
        "hot_spot": {
            "centre": [float(rng.uniform(-0.4, 0.4)), float(rng.uniform(-0.2, 0.2))],
            "width": float(rng.uniform(0.5, 0.9)),
            "fall": float(rng.uniform(0.1, 0.5)),
        },
        "vignetting": float(rng.uniform(0.5, 1.2)),
        "passes": passes,
        "exposure": float(exposure),
        "black_level": float(rng.uniform(0.0005, 0.006)),
        "blur_px": float(rng.uniform(1.5, 2.4) if kind == "soft" else rng.uniform(0.45, 1.3)),
        "blur_shape": ["gauss", "disc"][int(rng.integers(2))],
        "full_well_e": float(rng.uniform(1500, 3000) if kind == "noisy" else rng.uniform(15000, 50000)),
        "read_noise_e": float(rng.uniform(10, 20) if kind == "noisy" else rng.uniform(3, 9)),
        "mosaic": bool(rng.integers(3) == 0),
        "tint_bgr": [float(rng.uniform(0.85, 1)), 1.0, float(rng.uniform(0.9, 1))],
        "heads": [[float(v) for v in head] for head in heads],
        "moved_px": [float(moved * np.cos(bearing) * scale), float(moved * np.sin(bearing) * scale)],
        "quality": int(rng.integers(88, 97)),
        "chroma": CHROMAS[int(rng.integers(3))],
    }
