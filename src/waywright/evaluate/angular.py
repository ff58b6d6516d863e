"""Angular error motions against position: roll, pitch, yaw (ISO 230-1)."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values


@dataclass(frozen=True, slots=True, eq=False)
class Angular:
    """An angular error motion: ``value_um_per_m`` = ``largest_um_per_m`` - ``smallest_um_per_m``, floats or (draws,).

    Largest and smallest are as read: an angle has no reference line, and its zero is wherever the instrument's was.
    ``end_to_end_um_per_m`` is the angle at the last position minus the one at the first. (ISO 230-1 states an angular
    error motion by the difference of its extremes.)
    """

    value_um_per_m: PerDraw
    largest_um_per_m: PerDraw
    largest_at_mm: PerDraw
    smallest_um_per_m: PerDraw
    smallest_at_mm: PerDraw
    end_to_end_um_per_m: PerDraw
    stations: int
    start_mm: float
    end_mm: float
    position_mm: FloatArray = field(repr=False)
    angle_um_per_m: FloatArray = field(repr=False)


def angular_error(position_mm: npt.ArrayLike, angle_um_per_m: npt.ArrayLike) -> Angular:
    """Angular error motion from angles (n,) or (n, draws) at positions (n,), at least two, in any order.

    Signs are those of the angles. Raises BadInput for fewer than two different positions, lengths that differ, and
    what is no number.
    """
    x = positions(position_mm, fewest=2)
    angle = values(angle_um_per_m, x, name="angle")
    high, low = angle.argmax(axis=0), angle.argmin(axis=0)
    largest, smallest = angle.max(axis=0)[()], angle.min(axis=0)[()]
    ends = angle[x.argmax()] - angle[x.argmin()]
    return Angular(
        (largest - smallest)[()], largest, x[high][()], smallest, x[low][()], ends[()], x.size, float(x.min()),
        float(x.max()), x, angle,
    )  # fmt: skip
