"""A camera before a screen: chart-to-photo homographies from its pose, and radial distortion of its lens.

Chart: origin at the picture centre, x right, y up, unit = picture height. Photo: pixels, (0, 0) the centre of the
top-left pixel, x right, y down. The screen is the plane z = 0; the camera stands at z > 0 and looks at it.
"""
from dataclasses import dataclass

import numpy as np


def turn(axis, degrees):
    """Right-handed rotation matrix about 'x', 'y' or 'z'."""
    a = np.radians(degrees)
    c, s = np.cos(a), np.sin(a)
    return {
        "x": np.array([[1, 0, 0], [0, c, -s], [0, s, c]]),
        "y": np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]]),
        "z": np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]]),
    }[axis]


@dataclass
class Camera:
    """Pinhole camera. azimuth/elevation: where it stands off the screen's normal; aim: the chart point it looks at."""

    width_px: int
    height_px: int
    focal_px: float
    distance: float
    azimuth_deg: float
    elevation_deg: float
    roll_deg: float
    aim: tuple
    principal_px: tuple  # off the middle of the photo

    def principal_point(self):
        return np.array(
            [(self.width_px - 1) / 2 + self.principal_px[0], (self.height_px - 1) / 2 + self.principal_px[1]]
        )

    def photo_from_chart(self):
        towards = turn("y", self.azimuth_deg) @ turn("x", -self.elevation_deg)
        place = np.array([*self.aim, 0.0]) + self.distance * towards @ np.array([0, 0, 1.0])
        # Camera axes: x right, y down, z forward; roll turns the camera about its line of sight.
        axes = turn("z", self.roll_deg) @ np.diag([1.0, -1.0, -1.0]) @ towards.T
        translation = -axes @ place
        px, py = self.principal_point()
        k = np.array([[self.focal_px, 0, px], [0, self.focal_px, py], [0, 0, 1]])
        h = k @ np.column_stack([axes[:, 0], axes[:, 1], translation])
        return h / h[2, 2]


def transfer(h, points):
    points = np.asarray(points, float)
    q = points @ h[:, :2].T + h[:, 2]
    return q[..., :2] / q[..., 2:]


@dataclass
class Lens:
    """Radial distortion. form 'forward': x_d = x_u (1 + k1 r_u^2); 'inverse': x_u = x_d (1 + k1 r_d^2)."""

    form: str
    k1: float
    radius_px: float
    centre: np.ndarray

    def distort(self, q):
        d = np.asarray(q, float) - self.centre
        rho = (d**2).sum(-1, keepdims=True) / self.radius_px**2
        if self.form == "forward":
            return self.centre + d * (1 + self.k1 * rho)
        return self.centre + d * self._solve(rho)

    def undistort_factor(self, rho):
        """What a distorted offset with rho = r_d^2 is multiplied with to be undistorted."""
        return self._solve(rho) if self.form == "forward" else 1 + self.k1 * rho

    def _solve(self, rho):
        """s in s + k1 rho s^3 = 1, by Newton's method."""
        s = 1 - self.k1 * rho
        for _ in range(4):
            kss = self.k1 * rho * s * s
            s = s - (s * (1 + kss) - 1) / (1 + 3 * kss)
        return s
