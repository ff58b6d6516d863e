"""Flatness of a surface about its reference plane (ISO 1101, ISO 230-1): largest minus smallest deviation.

The minimum zone is the pair of parallel planes closest together that holds all points, measured along the height: a
linear programme, solved by HiGHS on the few points that matter and checked on all (many draws: see ``planes``).
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit
from waywright.evaluate.planes import minimum_zone_planes

PLANES = ("minimum-zone", "least-squares", "three-points")
_ALL_AT_ONCE = 500  # points: one programme on all is quicker than several on a few
_AGREED = 1e-11  # of the spread: a plane this close to holding all points holds them


@dataclass(frozen=True, slots=True, eq=False)
class ReferencePlane:
    """A plane: height at x = y = 0 mm, and slopes along x and y."""

    offset_um: PerDraw
    slope_x_um_per_m: PerDraw
    slope_y_um_per_m: PerDraw


@dataclass(frozen=True, slots=True, eq=False)
class Flatness:
    """Flatness about one reference plane; ``value_um`` = ``largest_um`` - ``smallest_um``, floats or (draws,)."""

    reference: str
    value_um: PerDraw
    largest_um: PerDraw
    smallest_um: PerDraw
    plane: ReferencePlane
    points: int
    deviation_um: FloatArray = field(repr=False)


def flatness(
    x_mm: npt.ArrayLike,
    y_mm: npt.ArrayLike,
    height_um: npt.ArrayLike,
    reference: str = "minimum-zone",
    through: tuple[int, int, int] | None = None,
) -> Flatness:
    """Flatness of heights (n,) or (n, draws) at points (n,), at least three that are not on one line.

    ``reference`` is "minimum-zone", "least-squares", or "three-points" with the indices of the three points in
    ``through``. Raises BadInput for an unknown plane, NaN, lengths that differ, or points all on one line.
    """
    x, y = positions(x_mm, fewest=1), positions(y_mm, fewest=1)
    if x.size != y.size:
        raise BadInput("evaluate.lengths_differ", name="y", positions=x.size, values=y.size)
    z = values(height_um, x, name="height")
    if reference not in PLANES:
        raise BadInput("evaluate.unknown_reference", reference=reference, known=", ".join(PLANES))
    middle = np.array([x.mean(), y.mean()])
    size = max(float(np.ptp(x)), float(np.ptp(y))) or 1.0
    place = np.column_stack([np.ones_like(x), (x - middle[0]) / size, (y - middle[1]) / size])
    _check_spread(place)
    if reference == "least-squares":
        plane = fit(place, z).coefficient
    elif reference == "minimum-zone":
        plane = _each_draw(place, z)
    else:
        plane = _through(place, z, through)
    return _about(reference, place, z, plane, middle, size)


def _check_spread(place: FloatArray) -> None:
    spread = np.linalg.svd(np.linalg.qr(place[:, 1:], mode="r"), compute_uv=False)
    if place.shape[0] < 3 or spread[-1] <= 1e-9 * spread[0]:
        raise BadInput("evaluate.points_on_a_line", points=place.shape[0])


def _through(place: FloatArray, z: FloatArray, through: tuple[int, int, int] | None) -> FloatArray:
    if through is None or len(set(through)) != 3 or not all(0 <= k < place.shape[0] for k in through):
        raise BadInput("evaluate.three_points_needed", points=place.shape[0])
    three = place[list(through)]
    if abs(np.linalg.det(three)) < 1e-9:
        raise BadInput("evaluate.points_on_a_line", points=3)
    return np.asarray(np.linalg.solve(three, z[list(through)]), dtype=np.float64)


def _each_draw(place: FloatArray, z: FloatArray) -> FloatArray:
    if z.ndim == 1:
        return _minimum_zone(place, z)
    start = fit(place, z).coefficient
    if place.shape[0] == 3:
        return np.asarray(start)
    change, found = minimum_zone_planes(place, z - place @ start)
    plane = np.asarray(start + change)
    for k in np.flatnonzero(~found):
        plane[:, k] = _minimum_zone(place, z[:, k])
    return plane


def _minimum_zone(place: FloatArray, z: FloatArray) -> FloatArray:
    """Coefficients of the middle plane; exact on the working points, which grow until they speak for all."""
    start = fit(place, z).coefficient
    off = z - place @ start
    scale = float(np.ptp(off))
    if scale <= 1e-13 * float(np.abs(z).max() + 1.0):
        return start
    working = set(range(z.size) if z.size <= _ALL_AT_ONCE else _outermost(place, off).tolist())
    plane = np.zeros(3)
    for _ in range(z.size):
        chosen = np.array(sorted(working))
        plane, half = _linear_programme(place[chosen], off[chosen] / scale)
        left = off / scale - place @ plane
        worst = {int(left.argmax()), int(left.argmin())}
        if float(np.abs(left).max()) <= half + _AGREED or worst <= working:
            break
        working |= worst
    return start + plane * scale


def _outermost(place: FloatArray, off: FloatArray) -> npt.NDArray[np.int64]:
    """Points to begin with: the extremes of the deviations and of the places."""
    ends = [off.argmax(), off.argmin()]
    for angle in np.arange(8) * np.pi / 4:
        ends.append((place[:, 1] * np.cos(angle) + place[:, 2] * np.sin(angle)).argmax())
    return np.unique(ends)


def _linear_programme(place: FloatArray, off: FloatArray) -> tuple[FloatArray, float]:
    """Least ``t`` with |off - place @ plane| <= t: the plane and t."""
    from scipy.optimize import linprog

    one = np.ones((off.size, 1))
    rows = np.block([[place, -one], [-place, -one]])
    free = [(None, None)] * 4
    tight = {"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10}
    found = linprog([0, 0, 0, 1], rows, np.r_[off, -off], bounds=free, method="highs-ds", options=tight)
    if not found.success:
        raise BadInput("evaluate.plane_not_found", points=int(off.size))
    return np.asarray(found.x[:3], dtype=np.float64), float(found.x[3])


def _about(
    reference: str, place: FloatArray, z: FloatArray, plane: FloatArray, middle: FloatArray, size: float
) -> Flatness:
    off = z - place @ plane
    high, low = off.max(axis=0), off.min(axis=0)
    level, slope_x, slope_y = plane[0], plane[1] / size, plane[2] / size
    if reference == "minimum-zone":
        shift = low + (high - low) / 2
        off, high, low, level = off - shift, high - shift, low - shift, level + shift
    at_zero = level - slope_x * middle[0] - slope_y * middle[1]
    figures = [high - low, high, low, at_zero, slope_x * 1000.0, slope_y * 1000.0]
    if z.ndim == 1:
        figures = [float(figure) for figure in figures]
    value, largest, smallest, offset, along_x, along_y = figures
    reference_plane = ReferencePlane(offset, along_x, along_y)
    return Flatness(reference, value, largest, smallest, reference_plane, z.shape[0], off)
