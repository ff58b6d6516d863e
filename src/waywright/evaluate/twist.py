"""Twist of a guideway or of a carriage's motion from roll measured along it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import PerDraw, positions, values
from waywright.evaluate.least_squares import fit


@dataclass(frozen=True, slots=True, eq=False)
class Twist:
    """Twist in its three usual forms; floats, or arrays (draws,).

    ``total_um_per_m``: largest minus smallest roll anywhere on the line, never negative; ``end_to_end_um_per_m``: roll
    at the last station minus roll at the first. ``rate_um_per_m_per_m``: slope of the least-squares line of the roll,
    so many um/m for each metre. ``height_difference_um``: the total as a height over ``gauge_mm``, the distance of the
    two ways; None without a gauge.
    """

    total_um_per_m: PerDraw
    end_to_end_um_per_m: PerDraw
    rate_um_per_m_per_m: PerDraw
    height_difference_um: PerDraw | None
    gauge_mm: float | None
    stations: int
    length_mm: float


def twist(position_mm: npt.ArrayLike, roll_um_per_m: npt.ArrayLike, gauge_mm: float | None = None) -> Twist:
    """Twist from roll (n,) or (n, draws) at positions (n,), at least three, in any order.

    Signs are those of the roll. A constant roll (level across, but not at zero) is no twist. Raises BadInput like
    ``straightness`` and for a gauge that is not positive.
    """
    x = positions(position_mm)
    roll = values(roll_um_per_m, x, name="roll")
    if gauge_mm is not None and not 0.0 < gauge_mm < np.inf:
        raise BadInput("evaluate.gauge_not_positive", gauge_mm=gauge_mm)
    total = roll.max(axis=0) - roll.min(axis=0)
    ends = roll[x.argmax()] - roll[x.argmin()]
    rate = fit(np.column_stack([np.ones_like(x), x]), roll).coefficient[1] * 1000.0
    if roll.ndim == 1:
        total, ends, rate = float(total), float(ends), float(rate)
    height = None if gauge_mm is None else total * gauge_mm / 1000.0
    return Twist(total, ends, rate, height, gauge_mm, x.size, float(np.ptp(x)))
