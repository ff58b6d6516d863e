"""Plain tests of a sheet: run-out, slip, differences, offsets, gaps. Readings (n,) or (n, draws); values (draws,).

They need no reference line, only a few readings of an indicator, a level or a feeler.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit


def reading_range(reading: npt.ArrayLike) -> PerDraw:
    """Largest minus smallest; of a single reading its size: then the needle's travel was read.

    Run-out, axial slip, face: what the needle travels while the part turns once (ISO 230-1).
    """
    y = _readings(reading, 1)
    return (np.abs(y[0]) if y.shape[0] == 1 else y.max(axis=0) - y.min(axis=0))[()]


def largest_size(reading: npt.ArrayLike) -> PerDraw:
    """The reading farthest from zero, without its sign."""
    return np.abs(_readings(reading, 1)).max(axis=0)[()]


def difference(reading: npt.ArrayLike) -> PerDraw:
    """Last reading minus first."""
    y = _readings(reading, 2)
    return (y[-1] - y[0])[()]


def half_difference(reading: npt.ArrayLike) -> PerDraw:
    """Half of first minus second: offset of an axis from the axis that an indicator is turned about by 180 degrees."""
    y = _readings(reading, 2)
    return ((y[0] - y[1]) / 2.0)[()]


def rise_over_length(position_mm: npt.ArrayLike, reading: npt.ArrayLike) -> PerDraw:
    """Rise of the least-squares line from the first place to the last, signed; of two places their difference."""
    x = positions(position_mm, fewest=2)
    y = values(reading, x, name="reading")
    slope = fit(np.column_stack([np.ones_like(x), x]), y).coefficient[1]
    return (slope * (x[-1] - x[0]))[()]


def mean_difference(reading: npt.ArrayLike, first: int) -> PerDraw:
    """Mean of the readings after the ``first`` ones minus the mean of those: column to table by level."""
    y = _readings(reading, first + 1)
    if first < 1:
        raise BadInput("sheet.no_first_group")
    return (y[first:].mean(axis=0) - y[:first].mean(axis=0))[()]


def without_zero(reading: FloatArray) -> FloatArray:
    """Readings (n,) from pairs (2 n,): a place, then the same with the level turned round: half the difference."""
    return np.asarray((reading[0::2] - reading[1::2]) / 2.0)


def zero_found(reading: FloatArray) -> FloatArray:
    """The level's zero (n,) as each pair of readings (2 n,) shows it."""
    return np.asarray((reading[0::2] + reading[1::2]) / 2.0)


def once_per_turn(reading: npt.ArrayLike) -> PerDraw:
    """Amplitude of what comes once in a turn, from readings at even angles, three at least.

    The first harmonic: ``2 / n |sum y exp(-i phi)|``. It leaves out the mean and, of what comes oftener, all but what
    evenly spaced readings cannot tell apart from it.
    """
    y = _readings(reading, 3)
    angle = 2.0 * np.pi * np.arange(y.shape[0]) / y.shape[0]
    return (2.0 / y.shape[0] * np.abs(np.tensordot(np.exp(-1j * angle), y, axes=1)))[()]


@dataclass(frozen=True, slots=True, eq=False)
class BedByLevel:
    """A bed with two ways from one level: along both (or one) and across at every place.

    ``front_um`` and ``rear_um`` (n,), up positive, the first front one 0; ``across_um_per_m`` (n,) adjusted, front up
    positive. ``closure_um_per_m``: the largest residual, what the tilts miss each other by; 0 where nothing checks them
    (one way only). ``residual_sd_um_per_m``: standard deviation of one tilt from all residuals, NaN without a check.
    """

    position_mm: FloatArray
    front_um: FloatArray
    rear_um: FloatArray
    across_um_per_m: FloatArray
    closure_um_per_m: float
    residual_sd_um_per_m: float

    @property
    def height_um(self) -> FloatArray:
        """Mean of both ways (n,)."""
        return (self.front_um + self.rear_um) / 2.0


def bed_by_level(
    position_mm: npt.ArrayLike,
    gauge_mm: float,
    across_um_per_m: npt.ArrayLike,
    along_front_um_per_m: npt.ArrayLike | None = None,
    along_rear_um_per_m: npt.ArrayLike | None = None,
) -> BedByLevel:
    """Heights of both ways by least squares of all tilts, each of the same weight.

    ``position_mm`` (n,) increasing; across (n,) with the front up positive; along (n - 1,) from place to place, rising
    with the position positive. Raises BadInput without any tilt along, for other lengths and a gauge not above zero.
    """
    x = positions(position_mm, fewest=2)
    if not 0.0 < gauge_mm < np.inf:
        raise BadInput("evaluate.gauge_not_positive", gauge_mm=gauge_mm)
    if along_front_um_per_m is None and along_rear_um_per_m is None:
        raise BadInput("sheet.no_tilts_along")
    step = np.diff(x) / 1000.0
    n, rows, seen = x.size, [], []
    for at, tilt in enumerate(values(across_um_per_m, x, name="across")):
        rows.append(_tilt(n, {at: 1.0, n + at: -1.0}, gauge_mm / 1000.0))
        seen.append(tilt)
    for way, along in enumerate((along_front_um_per_m, along_rear_um_per_m)):
        for at, tilt in enumerate([] if along is None else values(along, x[1:], name="along")):
            rows.append(_tilt(n, {way * n + at + 1: 1.0, way * n + at: -1.0}, float(step[at])))
            seen.append(tilt)
    found = fit(np.array(rows)[:, 1:], np.array(seen))
    height = np.concatenate([[0.0], found.coefficient])
    spread = float(found.residual_sd) if found.degrees_of_freedom > 0 else float("nan")
    across = (height[:n] - height[n:]) / (gauge_mm / 1000.0)
    return BedByLevel(x, height[:n], height[n:], across, float(np.abs(found.residual).max()), spread)


def _tilt(n: int, points: dict[int, float], length_m: float) -> FloatArray:
    """One tilt as a combination of the 2 n heights."""
    made = np.zeros(2 * n)
    for point, weight in points.items():
        made[point] = weight / length_m
    return made


def _readings(reading: npt.ArrayLike, fewest: int) -> FloatArray:
    y = np.asarray(reading, dtype=np.float64)
    if y.ndim not in (1, 2) or y.shape[0] < fewest:
        raise BadInput("sheet.too_few_readings", needed=fewest, readings=int(y.shape[0]) if y.ndim else 0)
    if not np.isfinite(y).all():
        raise BadInput("sheet.reading_not_a_number")
    return y
