"""Straightness of a profile about its reference line.

Three lines are in use, and they give different values: the line through the end points (worked textbook values
are of this kind), the least-squares line, and the minimum zone (never larger than the others). ISO 230-1 lets the
parties choose; name the line beside the value. A fourth is a given line.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from waywright.compiled import kernel
from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, Places, places, values
from waywright.evaluate.least_squares import fit
from waywright.evaluate.minimum_zone import zone, zone_and_extremes
from waywright.evaluate.results import ReferenceLine, Straightness

REFERENCES = ("end-points", "least-squares", "minimum-zone")
GIVEN = "given"

_BLOCK = 1 << 17  # numbers worked on at a time, so that many draws stay in the processor's cache


def straightness(
    position_mm: npt.ArrayLike,
    deviation_um: npt.ArrayLike,
    reference: str = "least-squares",
    line: ReferenceLine | None = None,
) -> Straightness:
    """Straightness of deviations at stations.

    ``position_mm`` (n,), at least three different ones, in any order; ``deviation_um`` (n,) for one profile or
    (n, draws) for many at the same stations. ``reference`` is one of "end-points", "least-squares", "minimum-zone";
    a ``line`` that is given takes its place (the record then says "given"). The input is copied, never changed.

    Several readings at one position are a set of points like any other for all lines but the end points', which
    needs one reading at either end.

    The minimum-zone line is the middle of the zone, so that the largest and the smallest deviation are opposite.

    Raises BadInput for fewer than three different positions, NaN or infinity, lengths that differ, an unknown
    reference, or end points that are not single. Source of the definitions: ISO 230-1:2012, ISO 1101.
    """
    where = places(position_mm)
    y = values(deviation_um, where.x)
    if line is not None:
        slope = np.asarray(line.slope_um_per_m) / 1000.0
        return _about(GIVEN, where, y, 0.0, slope[()], line.offset_um, line)
    if reference == "minimum-zone":
        return _minimum_zone(where, y)
    if reference == "least-squares":
        return _least_squares(where, y)
    if reference == "end-points":
        return _end_points(where, y)
    raise BadInput("evaluate.unknown_reference", reference=reference, known=", ".join(REFERENCES))


def straightness_by_reference(position_mm: npt.ArrayLike, deviation_um: npt.ArrayLike) -> dict[str, Straightness]:
    """The same profile about all three lines, side by side."""
    return {reference: straightness(position_mm, deviation_um, reference) for reference in REFERENCES}


def _end_points(where: Places, y: FloatArray) -> Straightness:
    x = where.x
    first, last = (0, x.size - 1) if where.increasing else (int(x.argmin()), int(x.argmax()))
    for end in (where.low, where.high):
        if not where.increasing and (readings := int((x == end).sum())) > 1:
            raise BadInput("evaluate.end_not_single", position_mm=end, readings=readings)
    slope = (y[last] - y[first]) / (where.high - where.low)
    return _about("end-points", where, y, where.low, slope, y[first])


def _least_squares(where: Places, y: FloatArray) -> Straightness:
    offset, slope = fit(np.stack([np.ones_like(where.x), where.x], axis=1), y).coefficient
    line = ReferenceLine(_figure(offset), _figure(slope * 1000.0))
    return _about("least-squares", where, y, where.middle, slope, offset + slope * where.middle, line)


def _minimum_zone(where: Places, y: FloatArray) -> Straightness:
    x, sorted_y = where.x, y
    if not where.increasing:
        order = x.argsort(kind="stable")
        x, sorted_y = x[order], y[order]
    if y.ndim == 1:
        slope, high, low = map(float, zone_and_extremes.choose(x.size)(x, sorted_y, where.middle))
        return _record("minimum-zone", where, y, where.middle, slope, low + (high - low) / 2, high, low)
    slopes = np.empty(y.shape[1])
    _zones.choose(y.size)(x, np.ascontiguousarray(sorted_y), slopes)
    return _about("minimum-zone", where, y, where.middle, slopes, None)


@kernel("void(vector, table, float64[::1])")
def _zones(x: FloatArray, y: FloatArray, slope: FloatArray) -> None:
    """Directions of the minimum zones of many profiles, one in each column."""
    profile = np.empty(x.size)
    upper, lower = np.empty(x.size, np.int64), np.empty(x.size, np.int64)
    for draw in range(slope.size):
        for i in range(x.size):
            profile[i] = y[i, draw]
        slope[draw] = zone(x, profile, upper, lower)[0]


def _about(
    reference: str,
    where: Places,
    y: FloatArray,
    pivot: float,
    slope: PerDraw,
    level: PerDraw | None,
    line: ReferenceLine | None = None,
) -> Straightness:
    """The record about the line with ``level`` at the pivot (the middle of the deviations where ``None``)."""
    high, low = _extremes(where.x - pivot, y, slope)
    if level is None:
        level = low + (high - low) / 2
    return _record(reference, where, y, pivot, slope, level, high, low, line)


def _record(
    reference: str,
    where: Places,
    y: FloatArray,
    pivot: float,
    slope: PerDraw,
    level: PerDraw,
    high: PerDraw,
    low: PerDraw,
    line: ReferenceLine | None = None,
) -> Straightness:
    largest, smallest = high - level, low - level
    return Straightness(
        reference=reference,
        value_um=_figure(largest - smallest),
        largest_um=_figure(largest),
        smallest_um=_figure(smallest),
        line=line or ReferenceLine(_figure(level - slope * pivot), _figure(slope * 1000.0)),
        stations=where.x.size,
        start_mm=where.low,
        end_mm=where.high,
        _position_mm=where.x,
        _measured_um=y,
        _pivot_mm=pivot,
        _level_um=level,
        _slope_um_per_mm=slope,
    )


def _extremes(from_pivot: FloatArray, y: FloatArray, slope: PerDraw) -> tuple[PerDraw, PerDraw]:
    """Largest and smallest of ``y - slope * from_pivot`` along the stations."""
    if y.ndim == 1:
        off = y - from_pivot * slope
        return float(off.max()), float(off.min())
    slopes = np.broadcast_to(slope, y.shape[1:])
    high, low = np.empty(y.shape[1]), np.empty(y.shape[1])
    step = max(1, _BLOCK // y.shape[0])
    for a in range(0, y.shape[1], step):
        part = slice(a, a + step)
        off = y[:, part] - np.multiply.outer(from_pivot, slopes[part])
        off.max(axis=0, out=high[part])
        off.min(axis=0, out=low[part])
    return high, low


def _figure(value: PerDraw) -> PerDraw:
    """A float for one profile, the array for many."""
    return value if isinstance(value, np.ndarray) and value.ndim else float(value)
