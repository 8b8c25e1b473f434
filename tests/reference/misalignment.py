"""The eight terms of the misalignment of two pictures, from their chart-to-photo homographies: plain numpy.

Mean point m(c) = (H_L c + H_R c) / 2; G is the homography that best maps m(c_i) to c_i over a uniform 41 x 21 grid on
the picture area (least squares in chart units); d(c) = G(H_R c) - G(H_L c) is fitted with

    [dx, dy] + rot [-y, x] + size [x, y] + stretch [x, -y] + shear [y, x] + keyH x [x, y] + keyV y [x, y]
"""
import numpy as np

from camera import transfer

TERMS = [
    ("horizontal_offset_pct", 100.0),
    ("vertical_offset_pct", 100.0),
    ("rotation_deg", 180 / np.pi),
    ("size_pct", 100.0),
    ("stretch_pct", 100.0),
    ("shear_pct", 100.0),
    ("keystone_h_pct", 100.0),
    ("keystone_v_pct", 100.0),
]


def picture_grid(aspect, columns=41, rows=21):
    x, y = np.meshgrid(np.linspace(-aspect / 2, aspect / 2, columns), np.linspace(-0.5, 0.5, rows))
    return np.column_stack([x.ravel(), y.ravel()])


def fit_homography(source, target):
    """Least squares in the target plane, from a linear start on centred and scaled points."""
    centre, scale = source.mean(0), source.std()
    normal = np.array([[1 / scale, 0, -centre[0] / scale], [0, 1 / scale, -centre[1] / scale], [0, 0, 1]])
    s = transfer(normal, source)
    x, y, (u, v) = s[:, 0], s[:, 1], target.T
    one, nil = np.ones_like(x), np.zeros_like(x)
    rows = np.vstack(
        [
            np.column_stack([x, y, one, nil, nil, nil, -u * x, -u * y]),
            np.column_stack([nil, nil, nil, x, y, one, -v * x, -v * y]),
        ]
    )
    p = np.linalg.lstsq(rows, np.concatenate([u, v]), rcond=None)[0]
    for _ in range(20):
        h = np.append(p, 1).reshape(3, 3)
        w = h[2, 0] * x + h[2, 1] * y + 1
        q = transfer(h, s)
        jacobian = rows / np.concatenate([w, w])[:, None]
        jacobian[:, 6] = -np.concatenate([q[:, 0] * x, q[:, 1] * x]) / np.concatenate([w, w])
        jacobian[:, 7] = -np.concatenate([q[:, 0] * y, q[:, 1] * y]) / np.concatenate([w, w])
        step = np.linalg.lstsq(jacobian, np.concatenate([u, v]) - q.T.ravel(), rcond=None)[0]
        p = p + step
        if np.abs(step).max() < 1e-14:
            break
    return np.append(p, 1).reshape(3, 3) @ normal


def field_terms(points, d):
    """The eight coefficients, in the order of TERMS without their factors."""
    x, y = points.T
    one, nil = np.ones_like(x), np.zeros_like(x)
    along_x = np.column_stack([one, nil, -y, x, x, y, x * x, x * y])
    along_y = np.column_stack([nil, one, x, y, -y, x, x * y, y * y])
    return np.linalg.lstsq(np.vstack([along_x, along_y]), np.concatenate([d[:, 0], d[:, 1]]), rcond=None)[0]


def measure_terms(left, right, aspect):
    """left, right: photo-from-chart homographies. Returns the eight reported numbers and the worst vertical error."""
    grid = picture_grid(aspect)
    seen_left, seen_right = transfer(left, grid), transfer(right, grid)
    g = fit_homography((seen_left + seen_right) / 2, grid)
    field = transfer(g, seen_right) - transfer(g, seen_left)
    values = field_terms(grid, field)
    terms = {name: float(factor * v) for (name, factor), v in zip(TERMS, values)}
    terms["worst_vertical_pct"] = float(100 * np.abs(field[:, 1]).max())
    return terms
