"""A house that bends and moves: the way of light from the film to the photograph and back, ray by ray.

Chart: origin at the picture centre, x right, y up, unit = picture height (ih). Film: the same unit, origin on the lens
axis in the middle of the frame; the picture of the eye that leaves by the upper port stands above it, the other below.
Screen: x right, y up as seen from the audience, z towards it; the plane z = 0, or the upright cylinder
x^2 + (z - R)^2 = R^2, which touches that plane in its middle. Photo: pixels, (0, 0) the centre of the top-left one, y down.

    chart -> film (moved) -> projection lens -> attachment -> port -> screen -> camera -> its lens -> glasses

Everything is written both ways; `check_round_trip` holds one against the other.
"""
import numpy as np

from misalignment import field_terms, picture_grid

PICTURE_HEIGHT_MM = 20.95 / 2.35
CENTRES_MM = 9.525


def unit(v):
    return v / np.linalg.norm(v)


def turn_about(axis, angle):
    """Right-handed rotation by `angle` (radians) about a unit vector (Rodrigues)."""
    x, y, z = axis
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.eye(3) + np.sin(angle) * cross + (1 - np.cos(angle)) * cross @ cross


class House:
    """`recipe`: plain data, see recipes of render_house.py."""

    def __init__(self, recipe):
        self.recipe = recipe
        self.aspect = recipe["aspect"]
        port = np.array(recipe["port"], float)
        self.port, self.throw = port, np.linalg.norm(port)
        self.forward = unit(-port)
        # Right and up as the audience sees them, square to the axis.
        self.right = unit(np.cross(np.array([0.0, 1, 0]), port))
        self.up = np.cross(self.right, self.forward)
        self.bundle = np.column_stack([self.right, self.up, self.forward])
        half = CENTRES_MM / PICTURE_HEIGHT_MM / 2
        self.height = {eye: half if eye == recipe["upper"] else -half for eye in ("left", "right")}
        self.corner2 = (self.aspect / 2) ** 2 + (half + 0.5) ** 2
        # Each path turns its bundle a little: pitch up, yaw to the right, roll counter-clockwise as the audience sees it.
        self.path = {}
        for eye in ("left", "right"):
            pitch, yaw, roll = recipe["path"][eye]["turn"]
            self.path[eye] = (
                turn_about(self.right, pitch) @ turn_about(self.up, -yaw) @ turn_about(-self.forward, roll)
            )
        camera = recipe["camera"]
        eye_at = np.array(camera["place"], float)
        towards = unit(np.array(camera["aim"], float) - eye_at)
        across = unit(np.cross(towards, np.array([0.0, 1, 0])))
        down = np.cross(towards, across)
        c, s = np.cos(camera["roll"]), np.sin(camera["roll"])
        self.eye_at = eye_at
        self.axes = np.column_stack([c * across + s * down, c * down - s * across, towards])
        self.principal = np.array([(camera["width"] - 1) / 2, (camera["height"] - 1) / 2]) + camera["off_centre"]
        self.radius_px = np.hypot(camera["width"], camera["height"]) / 2

    # Forward ---------------------------------------------------------------------------------------------------------

    def screen_from_chart(self, eye, chart, film=(0.0, 0.0, 0.0)):
        """`film`: its shift right and up, ih, and its turn about the frame's middle, counter-clockwise, radians."""
        q = np.asarray(chart, float) + [0, self.height[eye]]
        c, s = np.cos(film[2]), np.sin(film[2])
        q = np.column_stack([c * q[:, 0] - s * q[:, 1] + film[0], s * q[:, 0] + c * q[:, 1] + film[1]])
        k = self.recipe["lens_pct"][eye] / 100 / self.corner2
        q = q * (1 + k * (q**2).sum(1, keepdims=True))
        q = (q - [0, self.height[eye]]) * (1 + self.recipe["path"][eye]["size"])
        rays = np.column_stack([q, np.full(len(q), self.throw)]) @ (self.path[eye] @ self.bundle).T
        return self.meet_screen(self.port, rays)

    def meet_screen(self, start, rays):
        """Where rays from a point meet the screen; with a curve, on its far side."""
        radius = self.recipe["radius"]
        if radius is None:
            return start - rays * (start[2] / rays[:, 2])[:, None]
        from_axis = start - [0, 0, radius]
        a = rays[:, 0] ** 2 + rays[:, 2] ** 2
        b = rays[:, 0] * from_axis[0] + rays[:, 2] * from_axis[2]
        c = from_axis[0] ** 2 + from_axis[2] ** 2 - radius**2
        along = (np.sqrt(b * b - a * c) - b) / a
        return start + rays * along[:, None]

    def straight_photo_from_screen(self, points):
        seen = (points - self.eye_at) @ self.axes
        return self.principal + self.recipe["camera"]["focal"] * seen[:, :2] / seen[:, 2:]

    # Back ------------------------------------------------------------------------------------------------------------

    def screen_from_photo(self, photo):
        """`photo`: where the camera without its lens distortion would show it."""
        d = (photo - self.principal) / self.recipe["camera"]["focal"]
        return self.meet_screen(self.eye_at, np.column_stack([d, np.ones(len(d))]) @ self.axes.T)

    def film_from_screen(self, eye, points):
        """The film point on the frame, not yet taken back by the film's own movement."""
        rays = (points - self.port) @ (self.path[eye] @ self.bundle)
        q = self.throw * rays[:, :2] / rays[:, 2:] / (1 + self.recipe["path"][eye]["size"]) + [0, self.height[eye]]
        k = self.recipe["lens_pct"][eye] / 100 / self.corner2
        seen = np.linalg.norm(q, axis=1)
        r = seen.copy()
        for _ in range(20):
            r -= (r * (1 + k * r * r) - seen) / (1 + 3 * k * r * r)
        return q * (r / seen)[:, None]

    def chart_from_film(self, eye, film_points, film):
        c, s = np.cos(film[2]), np.sin(film[2])
        q = film_points - [film[0], film[1]]
        return np.column_stack([c * q[:, 0] + s * q[:, 1], c * q[:, 1] - s * q[:, 0] - self.height[eye]])

    def undistort(self, photo):
        """x_u = x_d + (x_d - c) (k1 r^2 + k2 r^4) + what a decentred lens adds; r in half diagonals, as the photo has it."""
        k1, k2, p1, p2 = self.recipe["camera"]["lens"]
        d = photo - self.principal
        x, y = (d / self.radius_px).T
        r2 = x * x + y * y
        radial = d * (r2 * (k1 + r2 * k2))[:, None]
        slant = self.radius_px * np.column_stack(
            [2 * p1 * x * y + p2 * (r2 + 2 * x * x), p1 * (r2 + 2 * y * y) + 2 * p2 * x * y]
        )
        return photo + radial + slant

    def without_glasses(self, lens, photo):
        """Where a point of the photograph would stand without the lens of the glasses: a shift and a few slow waves."""
        if lens == "bare":
            return photo
        glass = self.recipe["glasses"][lens]
        bent = photo - glass["shift"]
        for kx, ky, phase, ax, ay in glass["waves"]:
            wave = np.sin(photo[:, 0] * kx + photo[:, 1] * ky + phase)
            bent = bent - np.column_stack([ax * wave, ay * wave])
        return bent

    def film_from_pixels(self, eye, lens, pixels):
        straight = self.undistort(self.without_glasses(lens, pixels))
        return self.film_from_screen(eye, self.screen_from_photo(straight))

    def check_round_trip(self):
        grid = picture_grid(self.aspect, 9, 5)
        for eye in ("left", "right"):
            film = (3e-4, -2e-4, 1e-4)
            photo = self.straight_photo_from_screen(self.screen_from_chart(eye, grid, film))
            back = self.chart_from_film(eye, self.film_from_screen(eye, self.screen_from_photo(photo)), film)
            assert np.abs(back - grid).max() < 1e-11, "forth and back differ"

    # Truth -----------------------------------------------------------------------------------------------------------

    def misalignment(self):
        """By the definition: what both pictures share is taken away, and right minus left is left. Film at rest."""
        show = lambda eye, chart: self.straight_photo_from_screen(self.screen_from_chart(eye, chart))
        mean = lambda chart: (show("left", chart) + show("right", chart)) / 2

        def from_mean(target, start):
            """The chart point that the mean of both pictures shows there, by Newton's method with a numerical slope."""
            p, h = start.copy(), 1e-5
            for _ in range(30):
                off = target - mean(p)
                ax = (mean(p + [h, 0]) - mean(p - [h, 0])) / (2 * h)
                ay = (mean(p + [0, h]) - mean(p - [0, h])) / (2 * h)
                det = ax[:, 0] * ay[:, 1] - ax[:, 1] * ay[:, 0]
                step = np.column_stack(
                    [
                        (off[:, 0] * ay[:, 1] - off[:, 1] * ay[:, 0]) / det,
                        (ax[:, 0] * off[:, 1] - ax[:, 1] * off[:, 0]) / det,
                    ]
                )
                p = p + step
                if np.abs(step).max() < 1e-13:
                    break
            return p

        field = lambda chart: from_mean(show("right", chart), chart) - from_mean(show("left", chart), chart)
        grid = picture_grid(self.aspect)
        names = ["horizontal", "vertical", "rotation", "size", "stretch", "shear", "keystone_h", "keystone_v"]
        terms = dict(zip(names, field_terms(grid, field(grid))))
        fine = picture_grid(self.aspect, 121, 61)
        d = field(fine)
        x, y = fine.T
        key = terms["keystone_h"] * x + terms["keystone_v"] * y
        of_terms = np.column_stack(
            [
                terms["horizontal"] - terms["rotation"] * y + (terms["size"] + terms["stretch"] + key) * x + terms["shear"] * y,
                terms["vertical"] + terms["rotation"] * x + (terms["size"] - terms["stretch"] + key) * y + terms["shear"] * x,
            ]
        )
        return {
            "vertical_offset_pct": 100 * terms["vertical"],
            "horizontal_offset_pct": 100 * terms["horizontal"],
            "rotation_deg": float(np.degrees(terms["rotation"])),
            **{f"{name}_pct": 100 * terms[name] for name in ("size", "stretch", "shear", "keystone_h", "keystone_v")},
            "worst_vertical_pct": 100 * np.abs(d[:, 1]).max(),
            "remainder_pct": 100 * np.linalg.norm(d - of_terms, axis=1).max(),
        }
