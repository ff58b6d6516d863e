"""The true bed of the levelling benchmark: another model than the planner's, so that model error is tested.

Timoshenko elements (shear flexibility; J. S. Przemieniecki, Theory of Matrix Structural Analysis, section 5.6) on a
mesh four times as fine, and seats that stiffen with load: ``f = k d0 (d / d0)^p / p``, one-sided, with the stated
stiffness at the nominal press ``d0``; an anchored seat stiffens by a tenth where it is pressed and softens where it
is pulled. The rest is found by Newton's method with backtracking.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

POWER = 1.25
FINE = 4
ANCHOR_STIFFENING, ANCHOR_SCALE_UM = 0.10, 50.0


class NoRest(RuntimeError):
    """The pose is not determined: a bed that hangs on two supports may tilt freely."""


@dataclass(frozen=True)
class Truth:
    """``along_m`` and ``across_m`` of the supports; stiffness matrix (dofs, dofs) in N/um; ``at`` (supports, dofs)."""

    along_m: np.ndarray
    across_m: np.ndarray
    stiffness: np.ndarray
    at: np.ndarray
    load: np.ndarray
    seat: np.ndarray
    press_um: float
    anchored: bool
    station_m: np.ndarray
    height_dofs: np.ndarray
    height: np.ndarray
    roll: np.ndarray

    def force(self, press: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Force and tangent stiffness of each seat for how far it is pressed."""
        if self.anchored:
            bent = np.tanh(press / ANCHOR_SCALE_UM)
            tangent = self.seat * (1 + ANCHOR_STIFFENING * bent)
            soft = ANCHOR_SCALE_UM * np.log(np.cosh(press / ANCHOR_SCALE_UM))
            return self.seat * (press + ANCHOR_STIFFENING * soft), tangent
        d = np.maximum(press, 0.0) / self.press_um
        return self.seat * self.press_um * d**POWER / POWER, self.seat * d ** (POWER - 1)

    def energy(self, shape: np.ndarray, setting: np.ndarray) -> float:
        press = setting - self.at @ shape
        if self.anchored:
            seats = 0.5 * self.seat * press**2  # only used to steer steps: the stiffening is mild
        else:
            d = np.maximum(press, 0.0) / self.press_um
            seats = self.seat * self.press_um**2 * d ** (POWER + 1) / POWER / (POWER + 1)
        return float(0.5 * shape @ self.stiffness @ shape - self.load @ shape + seats.sum())

    def rest(self, setting: np.ndarray, start: np.ndarray | None = None) -> np.ndarray:
        """The bed's shape at rest."""
        shape = np.zeros(self.load.size) if start is None else start
        if start is None:
            firm = self.stiffness + self.at.T @ (self.seat[:, None] * self.at)
            shape = np.linalg.solve(firm, self.load + self.at.T @ (self.seat * setting))
        ridge = 1e-9 * np.trace(self.stiffness) / self.load.size
        for _ in range(300):
            force, tangent = self.force(setting - self.at @ shape)
            residual = self.load + self.at.T @ force - self.stiffness @ shape
            matrix = self.stiffness + self.at.T @ (tangent[:, None] * self.at)
            step = np.linalg.solve(matrix + ridge * 1e-6 * np.eye(self.load.size), residual)
            if max(np.abs(self.at @ step).max(), np.abs(self.height @ step).max()) < 1e-4:
                return shape + step
            part = 1.0
            if not self.anchored:
                now = self.energy(shape, setting)
                slope = float(residual @ step)
                while part > 1e-6 and self.energy(shape + part * step, setting) > now - 1e-4 * part * slope:
                    part /= 2
            shape = shape + part * step
        raise NoRest(f"the true bed finds no rest: {np.abs(self.at @ step).max()} um")

    def line(self, shape: np.ndarray) -> np.ndarray:
        """What is measured: heights, then roll times gauge for two rows."""
        return np.concatenate([self.height @ shape, self.roll @ shape])

    def machined(self) -> np.ndarray:
        """The shape in which the ways were made straight: the bed on hard, level supports."""
        hard = 1e4 * np.trace(self.stiffness) / self.load.size
        return np.linalg.solve(self.stiffness + hard * self.at.T @ self.at, self.load)

    @property
    def line_rows(self) -> np.ndarray:
        return np.vstack([self.height, self.roll])

    def linear_seat(self, force: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Tangent stiffness of each seat at a force, and the press where that straight line has no force."""
        if self.anchored:
            press = force / self.seat
            for _ in range(30):
                there, tangent = self.force(press)
                press = press - (there - force) / tangent
        else:
            press = self.press_um * (POWER * force / (self.seat * self.press_um)) ** (1 / POWER)
        tangent = self.force(press)[1]
        return tangent, press - force / tangent


def truth(
    length_m: float,
    along_m: np.ndarray,
    across_m: np.ndarray,
    station_m: np.ndarray,
    *,
    bending: float,
    torsion: float,
    shear_length_m: float,
    seat: np.ndarray,
    weight_n: float,
    press_um: float,
    anchored: bool,
) -> Truth:
    """Build the true bed. ``shear_length_m`` is sqrt(EI / shear stiffness): 0 is a bed without shear."""
    corners = np.unique(np.concatenate([[0.0, length_m], along_m, station_m]))
    corners = corners[np.concatenate([[True], np.diff(corners) > 1e-6])]
    node = np.unique(
        np.concatenate(
            [np.linspace(a, b, max(2, int(np.ceil((b - a) * FINE / 1.0)) + 1)) for a, b in itertools.pairwise(corners)]
        )
    )
    twisting = np.ptp(across_m) > 0
    per = 3 if twisting else 2
    dofs = per * node.size
    stiffness, load = np.zeros((dofs, dofs)), np.zeros(dofs)
    for e, h in enumerate(np.diff(node)):
        at = np.array([per * e, per * e + 1, per * (e + 1), per * (e + 1) + 1])
        phi = 12 * (shear_length_m / h) ** 2
        stiffness[np.ix_(at, at)] += (
            1e-6
            * bending
            / (h**3 * (1 + phi))
            * np.array(
                [
                    [12, 6 * h, -12, 6 * h],
                    [6 * h, (4 + phi) * h * h, -6 * h, (2 - phi) * h * h],
                    [-12, -6 * h, 12, -6 * h],
                    [6 * h, (2 - phi) * h * h, -6 * h, (4 + phi) * h * h],
                ]
            )
        )
        load[at] -= weight_n / length_m * h * np.array([0.5, h / 12, 0.5, -h / 12])
        if twisting:
            pair = np.array([per * e + 2, per * (e + 1) + 2])
            stiffness[np.ix_(pair, pair)] += 1e-6 * torsion / h * np.array([[1, -1], [-1, 1]])

    def rows(x_m: np.ndarray, y_m: np.ndarray | float, part: str) -> np.ndarray:
        out = np.zeros((x_m.size, dofs))
        nearest = np.array([int(np.abs(node - x).argmin()) for x in x_m])
        index = np.arange(x_m.size)
        if part == "height":
            out[index, per * nearest] = 1.0
        if twisting:
            out[index, per * nearest + 2] += y_m if part == "height" else 1.0
        return out

    gauge = float(np.ptp(across_m))
    roll = gauge * rows(station_m, 0.0, "roll") if twisting else np.zeros((0, dofs))
    return Truth(
        along_m,
        across_m,
        stiffness,
        rows(along_m, across_m, "height"),
        load,
        seat,
        press_um,
        anchored,
        station_m,
        per * np.arange(node.size),
        rows(station_m, 0.0, "height"),
        roll,
    )
