"""Passes joined: forward and backward traverses at slightly different stations brought to common stations.

Method: stations of different passes that lie closer together than half the usual spacing are one common station, at
the mean of their positions. Each pass gives its value there by linear interpolation between its own stations (by its
end slope where the common station lies just outside). Readings of one pass at exactly one position count as one
station with their mean. Stations beyond the range of any pass are left out and counted.
Each pass has its own offset, so only passes that cover a station may enter its mean.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions, values

DIRECTIONS = ("forward", "backward")


@dataclass(frozen=True, slots=True, eq=False)
class Traverse:
    """One pass: positions (n,) in mm, values (n,) or (n, draws) in the unit of their quantity, "forward" or "backward".

    In the order of reading. ``time_s`` (n,) counts from any moment common to all passes; ``standard_deviation`` (n,)
    is that of each value (of a mean: of the mean), in the unit of the values; None where it is not known.
    """

    position_mm: npt.ArrayLike
    value: npt.ArrayLike
    direction: str
    time_s: npt.ArrayLike | None = None
    standard_deviation: npt.ArrayLike | None = None


@dataclass(frozen=True, slots=True, eq=False)
class CommonStations:
    """Passes at common stations: ``position_mm`` (m,), ``value`` (passes, m) or (passes, m, draws).

    ``time_s`` and ``standard_deviation`` (passes, m), None unless every pass has them. ``ascending`` (passes,) says
    whether a pass ran towards larger positions. ``measured_by`` (m,) is how many passes have a station of their own
    there, ``left_out`` how many stations lie beyond the range of another pass.
    """

    position_mm: FloatArray
    value: FloatArray
    forward: npt.NDArray[np.bool_]
    ascending: npt.NDArray[np.bool_]
    time_s: FloatArray | None
    standard_deviation: FloatArray | None
    measured_by: npt.NDArray[np.int64]
    left_out: int


@dataclass(frozen=True, slots=True, eq=False)
class JoinedPasses:
    """Passes at common stations; arrays (m,) or (m, draws) in the unit of the values, NaN where nothing can be said.

    ``mean`` is the mean of the direction means (both directions weigh the same), ``reversal`` forward minus backward,
    ``repeatability`` the standard deviation of passes in one direction (pooled), ``measured_by`` how many passes have
    a station of their own here (the others are interpolated), ``left_out`` how many stations lie beyond the others.
    ``each`` (passes, m) or (passes, m, draws) is every pass at the common stations.
    """

    position_mm: FloatArray
    mean: FloatArray
    reversal: FloatArray
    repeatability: FloatArray
    measured_by: npt.NDArray[np.int64]
    passes: int
    left_out: int
    each: FloatArray


def join_passes(traverses: Sequence[Traverse]) -> JoinedPasses:
    """Bring passes to common stations.

    The values of a pass may have any offset: it is the mean line of the result that moves, not its shape.
    Raises BadInput for no pass, a direction that is neither "forward" nor "backward", fewer than three stations in a
    pass, or passes that have no stretch in common.
    """
    common = common_stations(traverses)
    at, forward = common.value, common.forward
    means = [at[side].mean(axis=0) for side in (forward, ~forward) if side.any()]
    nothing = np.full(at.shape[1:], np.nan)
    return JoinedPasses(
        position_mm=common.position_mm,
        mean=np.mean(means, axis=0),
        reversal=means[0] - means[1] if len(means) == 2 else nothing,
        repeatability=_pooled_scatter([at[side] for side in (forward, ~forward)], nothing),
        measured_by=common.measured_by,
        passes=len(traverses),
        left_out=common.left_out,
        each=at,
    )


def common_stations(traverses: Sequence[Traverse]) -> CommonStations:
    """Every pass at the common stations, with times and standard deviations where all passes have them.

    Raises BadInput like :func:`join_passes`.
    """
    if not traverses:
        raise BadInput("passes.none")
    sorted_passes = [_sorted(traverse) for traverse in traverses]
    x_mm, measured_by, left_out = grouped_stations([one.x for one in sorted_passes], everywhere=True)
    between = [Between.of(x_mm, one.x) for one in sorted_passes]
    pairs = list(zip(between, sorted_passes, strict=True))
    times = [place.linear(one.time) for place, one in pairs if one.time is not None]
    spreads = [place.spread(one.spread) for place, one in pairs if one.spread is not None]
    return CommonStations(
        position_mm=x_mm,
        value=np.stack([place.linear(one.y) for place, one in pairs]),
        forward=np.array([traverse.direction == "forward" for traverse in traverses]),
        ascending=np.array([one.ascending for one in sorted_passes]),
        time_s=np.stack(times) if len(times) == len(pairs) else None,
        standard_deviation=np.stack(spreads) if len(spreads) == len(pairs) else None,
        measured_by=measured_by,
        left_out=left_out,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Between:
    """Where places lie between stations: ``lower`` is the station below, ``share`` how far towards the next."""

    lower: npt.NDArray[np.intp]
    share: FloatArray

    @classmethod
    def of(cls, at_mm: FloatArray, x_mm: FloatArray) -> Between:
        """Places among increasing stations; just outside them the end slope goes on (share below 0 or above 1)."""
        lower = np.clip(np.searchsorted(x_mm, at_mm, side="right") - 1, 0, x_mm.size - 2)
        return cls(lower, (at_mm - x_mm[lower]) / (x_mm[lower + 1] - x_mm[lower]))

    def linear(self, y: FloatArray) -> FloatArray:
        """Values (n,) or (n, draws) interpolated at the places."""
        share = self.share.reshape(-1, *[1] * (y.ndim - 1))
        return np.asarray(y[self.lower] * (1.0 - share) + y[self.lower + 1] * share)

    def spread(self, sd: FloatArray) -> FloatArray:
        """Standard deviation of what :meth:`linear` gives, for independent values."""
        return np.hypot(sd[self.lower] * (1.0 - self.share), sd[self.lower + 1] * self.share)


@dataclass(frozen=True, slots=True, eq=False)
class _Sorted:
    x: FloatArray
    y: FloatArray
    time: FloatArray | None
    spread: FloatArray | None
    ascending: bool


def _sorted(traverse: Traverse) -> _Sorted:
    if traverse.direction not in DIRECTIONS:
        raise BadInput("passes.bad_direction", direction=traverse.direction)
    x = positions(traverse.position_mm)
    y = values(traverse.value, x, name="value")
    time = None if traverse.time_s is None else values(traverse.time_s, x, name="time")
    spread = _spread(traverse, x)
    stations, station_of, readings = np.unique(x, return_inverse=True, return_counts=True)
    ascending = bool(x[-1] > x[0])
    if stations.size == x.size:
        order = np.argsort(x, kind="stable")
        pick = [None if part is None else part[order] for part in (time, spread)]
        return _Sorted(stations, y[order], pick[0], pick[1], ascending)

    def mean(part: FloatArray) -> FloatArray:
        total = np.zeros((stations.size, *part.shape[1:]))
        np.add.at(total, station_of, part)
        return np.asarray(total / readings.reshape(-1, *[1] * (part.ndim - 1)))

    combined = None if spread is None else np.sqrt(mean(spread**2) / readings)
    return _Sorted(stations, mean(y), None if time is None else mean(time), combined, ascending)


def _spread(traverse: Traverse, x: FloatArray) -> FloatArray | None:
    """Standard deviations as given; None unless all are there and above zero."""
    if traverse.standard_deviation is None:
        return None
    given = np.asarray(traverse.standard_deviation, dtype=np.float64)
    if given.shape != x.shape:
        raise BadInput("evaluate.lengths_differ", name="standard deviation", positions=x.size, values=given.size)
    return given if bool((np.isfinite(given) & (given > 0.0)).all()) else None


def grouped_stations(
    passes: Sequence[FloatArray], *, everywhere: bool
) -> tuple[FloatArray, npt.NDArray[np.int64], int]:
    """Mean position of each common station, number of passes with a station there, number of stations left out.

    ``everywhere``: only stations within the range of every pass.
    """
    reach_mm = 0.5 * min(float(np.median(np.diff(x))) for x in passes)
    owner = np.concatenate([np.full(x.size, k) for k, x in enumerate(passes)])
    everything = np.concatenate(passes)
    groups: list[list[int]] = []
    for i in np.argsort(everything, kind="stable").tolist():
        group = groups[-1] if groups else []
        near = group and everything[i] - everything[group[0]] < reach_mm and owner[i] not in owner[group]
        if near:
            group.append(i)
        else:
            groups.append([i])
    centres = np.array([everything[group].mean() for group in groups])
    counts = np.array([len(group) for group in groups])
    if not everywhere:
        return centres, counts, 0
    first, last = max(x[0] for x in passes) - reach_mm, min(x[-1] for x in passes) + reach_mm
    kept = (centres >= first) & (centres <= last)
    if kept.sum() < 3:
        raise BadInput("passes.apart", stations=int(kept.sum()))
    return centres[kept], counts[kept], int(counts[~kept].sum())


def _pooled_scatter(sides: list[FloatArray], nothing: FloatArray) -> FloatArray:
    """Standard deviation within a direction, pooled over directions with at least two passes."""
    freedom = sum(max(len(side) - 1, 0) for side in sides)
    if freedom == 0:
        return nothing
    squares = sum(((side - side.mean(axis=0)) ** 2).sum(axis=0) for side in sides if len(side) > 1)
    return np.asarray(np.sqrt(squares / freedom))
