"""A detector moved by a known amount: what was done, what both channels said, and how sure that is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.guard.rules import SEATING_UM
from waywright.quantities import Direction

UP, SIDE = 0, 1
_COMPONENT = {
    Direction.UP: (UP, 1.0),
    Direction.DOWN: (UP, -1.0),
    Direction.TOWARDS: (SIDE, 1.0),
    Direction.AWAY: (SIDE, -1.0),
}


@dataclass(frozen=True, slots=True)
class Seen:
    """Averages of both channels as the detector says them, each with its standard error, in um."""

    first_um: float
    second_um: float
    error_um: float


@dataclass(frozen=True, slots=True)
class KnownMove:
    """The detector moved by ``size_um`` in a physical direction: up, down, towards or away from the operator.

    ``tolerance_um`` is what the shim (or the stop) may be off, either way, all values alike; ``seating_um`` the
    standard uncertainty of its seating. ``feet_mm`` is the distance of the detector's feet across the beam and
    ``centre_mm`` the height of its centre above them: with these, a shim under one foot only is told by its tilt.
    """

    direction: Direction
    size_um: float
    tolerance_um: float
    before: Seen
    after: Seen
    seating_um: float = SEATING_UM.value
    feet_mm: float | None = None
    centre_mm: float | None = None

    def __post_init__(self) -> None:
        if self.direction not in _COMPONENT:
            raise BadInput("guard.not_a_move", direction=self.direction.value)
        if not self.size_um > 0.0:
            raise BadInput("guard.not_positive", name="size_um", value=self.size_um)
        if self.tolerance_um < 0.0 or self.seating_um < 0.0 or min(self.before.error_um, self.after.error_um) < 0.0:
            raise BadInput("guard.negative_uncertainty", size_um=self.size_um)

    @property
    def move_error_um(self) -> float:
        """Standard uncertainty of the move itself: rectangular tolerance, and seating."""
        return math.hypot(self.tolerance_um / math.sqrt(3.0), self.seating_um)

    @property
    def reading_error_um(self) -> float:
        """Standard uncertainty of a difference of two readings of one channel."""
        return math.hypot(self.before.error_um, self.after.error_um)

    @property
    def true_um(self) -> FloatArray:
        """The move as (up, towards the operator)."""
        component, sign = _COMPONENT[self.direction]
        return np.asarray(np.eye(2)[component] * sign * self.size_um, dtype=np.float64)

    def seen_um(self, channels: tuple[Direction, Direction]) -> FloatArray:
        """What the channels saw as (up, towards), if their positive directions are as described."""
        moved = (self.after.first_um - self.before.first_um, self.after.second_um - self.before.second_um)
        seen = np.zeros(2)
        for value, direction in zip(moved, channels, strict=True):
            component, sign = _COMPONENT[direction]
            seen[component] = sign * value
        return seen


class Foot(StrEnum):
    """Where a shim lies that does not lie under all feet."""

    OPERATOR_SIDE = "operator-side"
    FAR_SIDE = "far-side"
    FRONT_OR_BACK = "front-or-back"


def one_foot(move: KnownMove, seen_um: FloatArray, limit: float) -> Foot | None:
    """Whether an upward move looks like a shim under one foot: the detector tilts, its centre rises by half.

    Tilt about the other foot by s / feet shifts the centre sideways by s * centre / feet: away from the operator when
    the operator's side is lifted. Without the feet's distance only the half rise without any shift is recognised.
    ``limit`` bounds the distance in standard uncertainties (a tenth of lever and shift is allowed for).
    """
    if move.true_um[SIDE] != 0.0:
        return None
    lifted = float(move.true_um[UP])
    candidates = {Foot.FRONT_OR_BACK: np.array([0.5, 0.0]) * lifted}
    if move.feet_mm and move.centre_mm is not None:
        lever = move.centre_mm / move.feet_mm
        candidates[Foot.OPERATOR_SIDE] = np.array([0.5, -lever]) * lifted
        candidates[Foot.FAR_SIDE] = np.array([0.5, lever]) * lifted
    fits = {foot: _misfit(move, seen_um, expected, 0.1) for foot, expected in candidates.items()}
    best = min(fits, key=lambda foot: fits[foot])
    whole = _misfit(move, seen_um, move.true_um, 0.0)
    return best if fits[best] <= limit < whole and fits[best] < whole else None


def _misfit(move: KnownMove, seen_um: FloatArray, expected_um: FloatArray, loose: float) -> float:
    """Distance of seen from expected in standard uncertainties (Mahalanobis)."""
    share = expected_um / move.size_um
    spread = move.reading_error_um**2 * np.eye(2) + move.move_error_um**2 * np.outer(share, share)
    spread = spread + np.diag((loose * expected_um) ** 2) + 1e-12 * np.eye(2)
    off = seen_um - expected_um
    return float(np.sqrt(off @ np.linalg.solve(spread, off)))
