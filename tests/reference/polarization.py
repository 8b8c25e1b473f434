"""Polarized light from the attachment to the camera, by Mueller calculus over the visible band.

A Stokes vector (I, Q, U, V) goes through

    polarizer of the picture -> port glass -> metallic screen -> lens of the glasses

Angles are degrees from the horizontal, counter-clockwise as seen by whoever looks along the light. A mirror turns the
observer round: U and V change sign. References: E. Collett, Polarized Light (Mueller matrices of diattenuator, retarder
and depolarizer), from memory; the eye's sensitivity is a Gaussian of 43 nm about 556 nm, near enough to CIE V(lambda).
"""
import numpy as np

WAVELENGTHS_NM = np.arange(430.0, 681.0, 10.0)
SENSITIVITY = np.exp(-0.5 * ((WAVELENGTHS_NM - 556.0) / 43.0) ** 2)
SENSITIVITY /= SENSITIVITY.sum()

UNPOLARIZED = np.array([1.0, 0, 0, 0])
MIRROR = np.diag([1.0, 1.0, -1.0, -1.0])


def rotated(matrix, degrees):
    c, s = np.cos(2 * np.radians(degrees)), np.sin(2 * np.radians(degrees))
    turn = np.array([[1, 0, 0, 0], [0, c, s, 0], [0, -s, c, 0], [0, 0, 0, 1]])
    return turn.T @ matrix @ turn


def sheet(degrees, along=0.74, across=1.2e-4):
    """A polarizing sheet that passes `along` and `across` of the light polarized along and across its axis."""
    a, b, c = along + across, along - across, 2 * np.sqrt(along * across)
    return rotated(0.5 * np.array([[a, b, 0, 0], [b, a, 0, 0], [0, 0, c, 0], [0, 0, 0, c]]), degrees)


def retarder(retardance_nm, degrees, wavelength_nm):
    delta = 2 * np.pi * retardance_nm / wavelength_nm
    c, s = np.cos(delta), np.sin(delta)
    return rotated(np.array([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, c, s], [0, 0, -s, c]]), degrees)


def depolarizer(part):
    return np.diag([1.0, 1 - part, 1 - part, 1 - part])


class House:
    """What stands in the light's way. Fields are changed by the faults; places are chart points (x, y), ih."""

    def __init__(self, rng):
        small = lambda most: rng.uniform(-most, most)
        self.axis = {"left": 45.0 + small(1.2), "right": -45.0 + small(1.2)}
        self.fitted = True
        self.spoilt = {"left": 0.0, "right": 0.0}  # part of the light that a spoilt sheet passes across its axis
        self.path_retarder = {"left": (0.0, 0.0), "right": (0.0, 0.0)}  # nm, degrees: a pane behind one polarizer
        self.pane_nm = rng.uniform(0.5, 3)  # retardance of the port glass at its ends
        self.matt = rng.uniform(0.004, 0.011)
        self.stain = None  # centre, radius, part
        self.lens = {"left": -45.0 + small(1.2), "right": 45.0 + small(1.2)}  # the screen mirrors the axes
        self.glasses_roll = small(0.8)
        self.circular_glasses = False
        self.glasses = True
        self.lenses_exchanged = False
        self.light = {"left": 1.0, "right": rng.uniform(0.9, 1.1)}

    def pane(self, x, y, wavelength_nm):
        """Strain that grows outwards from the middle of the pane, its axes along and across the radius."""
        r = np.hypot(x / 1.175, y / 1.175)
        return retarder(self.pane_nm * r * r, np.degrees(np.arctan2(y, x)), wavelength_nm)

    def screen(self, x, y):
        kept = 1 - self.matt
        if self.stain is not None:
            (cx, cy), radius, part = self.stain
            if np.hypot(x - cx, y - cy) < radius:
                kept *= 1 - part
        return MIRROR @ depolarizer(1 - kept)

    def lens_matrix(self, lens, wavelength_nm):
        if not self.glasses:
            return np.eye(4)
        worn = {"left": "right", "right": "left"}[lens] if self.lenses_exchanged else lens
        if self.circular_glasses:
            # A quarter-wave foil of 140 nm before a sheet at +-45 degrees to its axis, laid into the frame upright.
            side = 45.0 if worn == "left" else -45.0
            foil = retarder(140.0, self.glasses_roll, wavelength_nm)
            return sheet(side + self.glasses_roll) @ foil
        return sheet(self.lens[worn] + self.glasses_roll)

    def strength(self, picture, lens, x, y):
        """Light of a picture at a place through a lens, weighted as the eye does."""
        total = 0.0
        for wavelength, weight in zip(WAVELENGTHS_NM, SENSITIVITY):
            stokes = UNPOLARIZED
            if self.fitted:
                spoilt = self.spoilt[picture]
                stokes = sheet(self.axis[picture], across=1.2e-4 + 0.74 * spoilt) @ stokes
                stokes = retarder(*self.path_retarder[picture], wavelength) @ stokes
            stokes = self.screen(x, y) @ self.pane(x, y, wavelength) @ stokes
            total += weight * (self.lens_matrix(lens, wavelength) @ stokes)[0]
        return self.light[picture] * total
