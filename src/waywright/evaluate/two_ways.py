"""Two ways together: cross-level at each station, both as one surface, gauge and height of two rails."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.flatness import Flatness, flatness
from waywright.evaluate.least_squares import fit


@dataclass(frozen=True, slots=True, eq=False)
class TwoWays:
    """Two ways at common positions (n,), both read against one reference.

    ``height_difference_um`` (n,) or (n, draws): second minus first; ``cross_level_mm_per_m`` the same over the gauge,
    positive where the second is higher. ``twist_um_per_m``: how far the cross-level changes, largest minus smallest.
    ``gauge_deviation_um``: how much wider the gauge is than at its mean, where the sides were measured, else None.
    ``height_angle_um_per_m`` and ``gauge_angle_um_per_m``: slopes of the least-squares lines of both.
    ``as_one_surface``: flatness of both ways together.
    """

    position_mm: FloatArray
    gauge_mm: float
    height_difference_um: FloatArray
    cross_level_mm_per_m: FloatArray
    twist_um_per_m: PerDraw
    height_angle_um_per_m: PerDraw
    gauge_deviation_um: FloatArray | None
    gauge_angle_um_per_m: PerDraw | None
    as_one_surface: Flatness


def two_ways(
    position_mm: npt.ArrayLike,
    first_height_um: npt.ArrayLike,
    second_height_um: npt.ArrayLike,
    gauge_mm: float,
    *,
    first_side_um: npt.ArrayLike | None = None,
    second_side_um: npt.ArrayLike | None = None,
    plane: str = "minimum-zone",
) -> TwoWays:
    """Compare two ways, heights positive upwards, (n,) or (n, draws) at the same positions, at least three.

    ``gauge_mm`` is where the second way lies minus where the first does, in the direction in which the sides are
    positive, sign included. Raises BadInput like ``straightness``, for a gauge of zero and one side without the other.
    """
    if not np.isfinite(gauge_mm) or gauge_mm == 0.0:
        raise BadInput("geometry.no_gauge", gauge_mm=gauge_mm)
    if (first_side_um is None) != (second_side_um is None):
        raise BadInput("geometry.one_side_only")
    x = positions(position_mm)
    first, second = values(first_height_um, x, name="first"), values(second_height_um, x, name="second")
    difference = _difference(first, second)
    cross = difference / abs(gauge_mm)
    wider = None
    if first_side_um is not None and second_side_um is not None:
        sides = _difference(values(first_side_um, x, name="side"), values(second_side_um, x, name="side"))
        wider = np.sign(gauge_mm) * (sides - sides.mean(axis=0))
    return TwoWays(
        x, gauge_mm, difference, cross, (np.ptp(cross, axis=0) * 1000.0)[()], _angle(x, difference),
        wider, None if wider is None else _angle(x, wider), _surface(x, first, second, abs(gauge_mm), plane),
    )  # fmt: skip


def _difference(first: FloatArray, second: FloatArray) -> FloatArray:
    if first.shape != second.shape:
        raise BadInput("geometry.sets_differ", first=first.shape, second=second.shape)
    return second - first


def _angle(x: FloatArray, y: FloatArray) -> PerDraw:
    return (fit(np.column_stack([np.ones_like(x), x]), y).coefficient[1] * 1000.0)[()]


def _surface(x: FloatArray, first: FloatArray, second: FloatArray, gauge_mm: float, plane: str) -> Flatness:
    across = np.repeat([0.0, gauge_mm], x.size)
    return flatness(np.concatenate([x, x]), across, np.concatenate([first, second]), plane)
