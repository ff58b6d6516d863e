"""Places that were read twice, and drift: whether passes close.

The limit of a closure is the larger of a tenth of the tolerance and twice the standard uncertainty of a difference of
two readings; more than twice where many closures share one rate of false alarms.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.drift import Drift, estimate_drift
from waywright.evaluate.results import Reason
from waywright.guard.findings import Finding, PassSoFar, Remark
from waywright.guard.rules import CLOSURE_SHARE, CLOSURE_UNCERTAINTIES


@dataclass(frozen=True, slots=True)
class Closing:
    """One place read twice: values in um, standard error of each reading, "near" or "far" from the source (or in which
    way the place was read twice). ``between`` are the two passes, counted from 0 in the order given.
    """

    place: str
    first_um: float
    again_um: float
    error_um: float
    position_mm: float | None = None
    between: tuple[int, int] = (0, 0)


def closings(passes: Sequence[PassSoFar], reach_mm: float) -> tuple[Closing, ...]:
    """Ends that passes of one set-up, in the order taken, have in common within ``reach_mm``.

    "turn": the last reading of a pass and the first of the next, between which the axis stands. "same-way": the same
    end read by a pass and the next one of its direction, so that no reversal enters.
    """
    return tuple(_closings([one for one in passes if np.size(one.position_mm)], reach_mm))


def _closings(passes: Sequence[PassSoFar], reach_mm: float) -> Iterator[Closing]:
    for k, (before, after) in enumerate(pairwise(passes)):
        found = _closing("turn", before, -1, after, 0, (k, k + 1), reach_mm)
        if found is not None:
            yield found
    last: dict[str, int] = {}
    for k, one in enumerate(passes):
        if one.direction in last:
            earlier = last[one.direction]
            for end in (0, -1):
                found = _closing("same-way", passes[earlier], end, one, end, (earlier, k), reach_mm)
                if found is not None:
                    yield found
        last[one.direction] = k


def _closing(
    place: str, first: PassSoFar, i: int, again: PassSoFar, j: int, between: tuple[int, int], reach_mm: float
) -> Closing | None:  # fmt: skip
    (x, y), (x_again, y_again) = first.arrays(), again.arrays()
    if abs(float(x_again[j] - x[i])) > reach_mm:
        return None
    error = math.hypot(_error(first, i), _error(again, j)) / math.sqrt(2.0)
    return Closing(place, float(y[i]), float(y_again[j]), error, float(x[i]), between)


def _error(taken: PassSoFar, k: int) -> float:
    if taken.error is not None:
        return float(np.asarray(taken.error)[k])
    if taken.sample_sd is not None and taken.samples:
        return float(np.asarray(taken.sample_sd)[k]) / math.sqrt(taken.samples)
    return 0.0


def closure(
    first: float, again: float, error_of_difference: float, tolerance: float, coverage: float | None = None
) -> Finding | None:
    """A place read at the beginning and again at the end: None while the difference stays within the limit.

    The limit is the larger of a tenth of the tolerance and ``coverage`` (2) times the standard uncertainty of a
    difference of two readings.
    """
    limit = closure_limit(error_of_difference, tolerance, coverage)
    change = again - first
    if abs(change) <= limit:
        return None
    return Finding(Remark.CLOSURE, Reason("guard_watch.closure", {"change": change, "limit": limit}))


def closure_limit(error_of_difference: float, tolerance: float, coverage: float | None = None) -> float:
    """What a difference of two readings at one place may be."""
    times = CLOSURE_UNCERTAINTIES.value if coverage is None else max(coverage, CLOSURE_UNCERTAINTIES.value)
    return max(times * error_of_difference, CLOSURE_SHARE.value * tolerance)


def unclosed(
    passes: Sequence[PassSoFar],
    reach_mm: float,
    tolerance: float | None,
    coverage: float,
    numbers: Sequence[int],
    noise: float = 0.0,
) -> list[Finding]:
    """Every closing of the last pass with itself or an earlier one that is beyond its limit; ``numbers`` of passes.

    ``noise`` is the standard deviation of one reading as the passes show it: air that is slower than a reading is in
    there, but not in the samples of the reading.
    """
    found = []
    for one in closings(passes, reach_mm):
        limit = closure_limit(math.sqrt(2.0) * max(one.error_um, noise), tolerance or 0.0, coverage)
        change = one.again_um - one.first_um
        if one.between[1] == len(passes) - 1 and abs(change) > limit:
            facts = {"change": change, "limit": limit, "position_mm": one.position_mm, **passes[-1].said,
                     "first": numbers[one.between[0]], "again": numbers[one.between[1]]}  # fmt: skip
            found.append(Finding(Remark.CLOSURE, Reason("guard_watch.closure_at", facts), None, one.position_mm))
    return found


def drifting(
    passes: Sequence[PassSoFar], tolerance: float | None, coverage: float, noise: float = 0.0
) -> Finding | None:
    """An even drift, where passes of one direction tell it apart, that moves readings by more during one pass than a
    closure may be off, even if it is smaller by ``coverage`` standard errors. None without times or such passes.
    """
    timed = [one for one in passes if one.time_s is not None and np.size(one.position_mm) >= 3]
    ways = [one.direction for one in timed]
    if not any(ways.count(way) > 1 for way in set(ways)):
        return None
    found = estimate_drift([one.traverse() for one in timed])
    if not found.separable or not np.isfinite(found.covariance).all():
        return None
    error = max(noise, *(_error(one, -1) for one in timed))
    limit = closure_limit(math.sqrt(2.0) * error, tolerance or 0.0)
    change, error = max((_during(one, found) for one in timed), key=lambda pair: abs(pair[0]))
    if abs(change) - coverage * error <= limit:
        return None
    return Finding(Remark.DRIFT, Reason("guard_watch.drift", {"change": change, "limit": limit, **timed[-1].said}))


def _during(taken: PassSoFar, drift: Drift) -> tuple[float, float]:
    """The largest change of a reading by the drift from the beginning to the end of a pass, and its standard error."""
    x, _ = taken.arrays()
    hours = float(np.ptp(np.asarray(taken.time_s, dtype=np.float64))) / 3600.0
    rows: FloatArray = hours * np.array([[1.0, (place - drift.source_mm) / 1000.0] for place in (x.min(), x.max())])
    change = rows @ [float(drift.offset_per_h), float(drift.angle_per_h)]
    k = int(np.abs(change).argmax())
    return float(change[k]), float(np.sqrt(rows[k] @ drift.covariance @ rows[k]))
