"""Passes joined: forward and backward traverses at slightly different stations brought to common stations.

Method: stations of different passes that lie closer together than half the usual spacing are one common station, at
the mean of their positions. Each pass gives its value there by linear interpolation between its own stations (by its
end slope where the common station lies just outside). Stations beyond the range of any pass are left out and counted.
Each pass has its own offset, so only passes that cover a station may enter its mean.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions, values


@dataclass(frozen=True, slots=True, eq=False)
class Traverse:
    """One pass: positions (n,) in mm, values (n,) in the unit of their quantity, "forward" or "backward"."""

    position_mm: npt.ArrayLike
    value: npt.ArrayLike
    direction: str


@dataclass(frozen=True, slots=True, eq=False)
class JoinedPasses:
    """Passes at common stations; arrays (m,) in the unit of the values, NaN where there is nothing to say.

    ``mean`` is the mean of the direction means (both directions weigh the same), ``reversal`` forward minus backward,
    ``repeatability`` the standard deviation of passes in one direction (pooled), ``measured_by`` how many passes have
    a station of their own here (the others are interpolated), ``left_out`` how many stations lie beyond the others.
    """

    position_mm: FloatArray
    mean: FloatArray
    reversal: FloatArray
    repeatability: FloatArray
    measured_by: npt.NDArray[np.int64]
    passes: int
    left_out: int


def join_passes(traverses: Sequence[Traverse]) -> JoinedPasses:
    """Bring passes to common stations.

    The values of a pass may have any offset: it is the mean line of the result that moves, not its shape.
    Raises BadInput for no pass, a direction that is neither "forward" nor "backward", fewer than three stations in a
    pass, or passes that have no stretch in common.
    """
    if not traverses:
        raise BadInput("passes.none")
    sorted_passes = [_sorted(traverse) for traverse in traverses]
    x_mm, measured_by, left_out = _common_stations([x for x, _ in sorted_passes])
    at = np.stack([_interpolated(x_mm, x, y) for x, y in sorted_passes])
    forward = np.array([traverse.direction == "forward" for traverse in traverses])
    means = [at[side].mean(axis=0) for side in (forward, ~forward) if side.any()]
    nothing = np.full(x_mm.size, np.nan)
    return JoinedPasses(
        position_mm=x_mm,
        mean=np.mean(means, axis=0),
        reversal=means[0] - means[1] if len(means) == 2 else nothing,
        repeatability=_pooled_scatter([at[side] for side in (forward, ~forward)], nothing),
        measured_by=measured_by,
        passes=len(traverses),
        left_out=left_out,
    )


def _sorted(traverse: Traverse) -> tuple[FloatArray, FloatArray]:
    if traverse.direction not in ("forward", "backward"):
        raise BadInput("passes.bad_direction", direction=traverse.direction)
    x = positions(traverse.position_mm)
    y = values(traverse.value, x, name="value")
    order = np.argsort(x, kind="stable")
    return x[order], y[order]


def _common_stations(passes: list[FloatArray]) -> tuple[FloatArray, npt.NDArray[np.int64], int]:
    """Mean position of each common station, number of passes with a station there, number of stations left out."""
    reach_mm = 0.5 * min(float(np.median(np.diff(x))) for x in passes)
    owner = np.concatenate([np.full(x.size, k) for k, x in enumerate(passes)])
    everything = np.concatenate(passes)
    order = np.argsort(everything, kind="stable")
    groups: list[list[int]] = []
    for i in order:
        group = groups[-1] if groups else []
        near = group and everything[i] - everything[group[0]] < reach_mm and owner[i] not in owner[group]
        if near:
            group.append(i)
        else:
            groups.append([i])
    centres = np.array([everything[group].mean() for group in groups])
    counts = np.array([len(group) for group in groups])
    first, last = max(x[0] for x in passes) - reach_mm, min(x[-1] for x in passes) + reach_mm
    kept = (centres >= first) & (centres <= last)
    if kept.sum() < 3:
        raise BadInput("passes.apart", stations=int(kept.sum()))
    return centres[kept], counts[kept], int(counts[~kept].sum())


def _interpolated(at_mm: FloatArray, x: FloatArray, y: FloatArray) -> FloatArray:
    inside = np.interp(at_mm, x, y)
    before = y[0] + (at_mm - x[0]) * (y[1] - y[0]) / (x[1] - x[0])
    after = y[-1] + (at_mm - x[-1]) * (y[-1] - y[-2]) / (x[-1] - x[-2])
    return np.where(at_mm < x[0], before, np.where(at_mm > x[-1], after, inside))


def _pooled_scatter(sides: list[FloatArray], nothing: FloatArray) -> FloatArray:
    """Standard deviation within a direction, pooled over directions with at least two passes."""
    freedom = sum(max(len(side) - 1, 0) for side in sides)
    if freedom == 0:
        return nothing
    squares = sum(((side - side.mean(axis=0)) ** 2).sum(axis=0) for side in sides if len(side) > 1)
    return np.asarray(np.sqrt(squares / freedom))
