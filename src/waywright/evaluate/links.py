"""Two lines that were measured from different set-ups, tied by a measured link.

Each line knows its direction only in its own frame (its beam, its level). Their parallelism needs the angle between
the frames, the link: the same beam turned from one line to the other, a level set across or along both, a bridge with
an indicator that reads the distance of the two at several places. How much of the uncertainty of the result is the
link's is part of the result.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit

BEAM, LEVEL, BRIDGE = "beam", "level", "bridge"


@dataclass(frozen=True, slots=True, eq=False)
class Slope:
    """Direction of a line in its own frame, um/m, a float or (draws,), with its standard uncertainty."""

    value_um_per_m: PerDraw
    standard_uncertainty_um_per_m: float


@dataclass(frozen=True, slots=True, eq=False)
class Link:
    """Angle of the second frame to the first: added to the second line's slope to see it from the first frame.

    ``offset_um`` (a bridge finds it too) is the second frame's height at position 0 seen from the first.
    """

    method: str
    angle_um_per_m: PerDraw
    standard_uncertainty_um_per_m: float
    offset_um: PerDraw | None = None


@dataclass(frozen=True, slots=True, eq=False)
class LinkedParallelism:
    """Slope of the second line against the first, um/m, positive where it rises more.

    The parts are the standard uncertainties of the two slopes and of the link; ``link_share``, 0 to 1, is how much of
    the squared standard uncertainty the link brings.
    """

    value_um_per_m: PerDraw
    standard_uncertainty_um_per_m: float
    first_part_um_per_m: float
    second_part_um_per_m: float
    link_part_um_per_m: float
    link_share: float
    method: str


def slope_of_line(
    position_mm: npt.ArrayLike,
    deviation_um: npt.ArrayLike,
    covariance_um2: npt.ArrayLike | float | None = None,
) -> Slope:
    """Least-squares slope of a profile (n,) or (n, draws), with the uncertainty that its covariance gives it.

    ``covariance_um2``: (n, n), for example of joined segments; or one variance for independent readings; None takes the
    scatter about the line, which counts the shape of the line as noise and errs on the safe side.
    Raises BadInput like ``straightness``.
    """
    x = positions(position_mm)
    y = values(deviation_um, x)
    columns = np.stack([np.ones_like(x), x / 1000.0], axis=1)
    found = fit(columns, y)
    if covariance_um2 is None:
        return Slope(found.coefficient[1][()], float(np.sqrt(np.mean(np.square(found.standard_error[1])))))
    rows = fit(columns, np.eye(x.size)).coefficient[1]
    covariance = np.asarray(covariance_um2, dtype=np.float64)
    if covariance.shape not in ((), (x.size, x.size)):
        raise BadInput("segments.covariance_shape", shape=covariance.shape, stations=x.size)
    variance = covariance * (rows @ rows) if covariance.ndim == 0 else rows @ covariance @ rows
    return Slope(found.coefficient[1][()], float(np.sqrt(variance)))


def link_by_beam(standard_uncertainty_um_per_m: float, turn_um_per_m: PerDraw = 0.0) -> Link:
    """One beam serves both lines; ``turn_um_per_m`` is what it was turned by in between, by how much is not known."""
    return Link(BEAM, turn_um_per_m, standard_uncertainty_um_per_m)


def link_by_level(
    first_um_per_m: npt.ArrayLike, second_um_per_m: npt.ArrayLike, standard_deviation_um_per_m: float
) -> Link:
    """One level, zero unchanged, set along both lines where each frame reads 0: the difference of the mean tilts.

    ``first_um_per_m`` and ``second_um_per_m`` (k,) are readings of the level minus the slope that the line's own frame
    shows at the same places; the scatter of one reading is ``standard_deviation_um_per_m``.
    Raises BadInput for no readings.
    """
    first, second = np.atleast_1d(np.asarray(first_um_per_m)), np.atleast_1d(np.asarray(second_um_per_m))
    if not (first.size and second.size and np.isfinite(first).all() and np.isfinite(second).all()):
        raise BadInput("segments.link_readings", readings=int(min(first.size, second.size)), needed=1)
    angle = second.mean(axis=0) - first.mean(axis=0)
    return Link(
        LEVEL, angle[()], standard_deviation_um_per_m * float(np.sqrt(1 / first.shape[0] + 1 / second.shape[0]))
    )


def link_by_bridge(
    position_mm: npt.ArrayLike,
    difference_um: npt.ArrayLike,
    first_um: npt.ArrayLike,
    second_um: npt.ArrayLike,
    standard_deviation_um: float,
) -> Link:
    """A bridge with an indicator reads second line minus first at positions (k,), at least two different ones.

    ``first_um`` and ``second_um`` are what each line's own frame says there. What is left between the bridge and the
    difference of the two frames is an offset and an angle. Each (k,) or (k, draws). Raises BadInput for fewer than two
    places.
    """
    x = positions(position_mm, fewest=2)
    gap = values(difference_um, x, name="difference")
    ends = (gap, values(second_um, x), values(first_um, x))
    draws = max(end.ndim for end in ends) == 2
    gap, high, low = (end[:, None] if draws and end.ndim == 1 else end for end in ends)
    between: FloatArray = gap - (high - low)
    found = fit(np.stack([np.ones_like(x), x / 1000.0], axis=1), between)
    spread = standard_deviation_um * float(np.sqrt(found.cofactor[1, 1]))
    return Link(BRIDGE, found.coefficient[1][()], spread, found.coefficient[0][()])


def linked_parallelism(first: Slope, second: Slope, link: Link) -> LinkedParallelism:
    """Parallelism of two lines over a link, and how much of its uncertainty is the link's."""
    one, two = first.standard_uncertainty_um_per_m, second.standard_uncertainty_um_per_m
    tie = link.standard_uncertainty_um_per_m
    square = one**2 + two**2 + tie**2
    value = second.value_um_per_m + link.angle_um_per_m - first.value_um_per_m
    return LinkedParallelism(value, square**0.5, one, two, tie, tie**2 / square if square > 0.0 else 0.0, link.method)
