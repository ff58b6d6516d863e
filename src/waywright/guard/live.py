"""Watching a pass while it is taken: which share of the rate of false alarms each look has, and the look at its end.

A line without any fault raises an alarm with at most the rate agreed. Half of it is spent while passes are taken, in
equal parts on passes and channels, and in each half on the looks after every reading and half on the end; the other
half is left for the tests of the whole visit. Bonferroni's inequality holds however the looks depend on each other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from waywright.errors import BadInput
from waywright.guard.closing import drifting, unclosed
from waywright.guard.findings import Finding, PassSoFar, Remark
from waywright.guard.watching import compared, screen_values

LIVE_PART = 0.5
USUAL_PASSES = 4
USUAL_STATIONS = 30
_CLOSINGS = 4  # a turn, two ends read the same way, and the drift
_BLOCKS_FREEDOM = 7  # the standard error of one reading comes from eight blocks of its samples
_OTHERS = 3
SLIPPED = (Remark.STEP, Remark.SHIFT, Remark.CANNOT_TELL)


@dataclass(frozen=True, slots=True)
class LiveShares:
    """The rate of false alarms of one look after a reading, and of one closure at the end of a pass."""

    look: float
    closing: float


def live_shares(rate: float, *, passes: int, channels: int, stations: int) -> LiveShares:
    """Shares of ``rate``; at least four passes and thirty stations are reckoned with, as nobody knows what follows."""
    budget = LIVE_PART * rate / (max(USUAL_PASSES, passes) * max(1, channels))
    return LiveShares(0.5 * budget / (max(USUAL_STATIONS, stations) + 1), 0.5 * budget / _CLOSINGS)


def coverage_for(false_alarm: float, freedom: float = math.inf) -> float:
    """How many standard uncertainties a value may be off, either way, at a rate: the normal distribution, or Student's
    where the uncertainty itself comes from so many degrees of freedom. Raises BadInput for a rate that is none.
    """
    if not 0.0 < false_alarm < 1.0:
        raise BadInput("guard.not_a_share", value=false_alarm)
    if math.isinf(freedom):
        return NormalDist().inv_cdf(1.0 - false_alarm / 2.0)
    from scipy.stats import t as student

    return float(student.isf(false_alarm / 2.0, freedom))


def end_of_pass(
    passes: Sequence[PassSoFar],
    numbers: Sequence[int],
    shares: LiveShares,
    reach_mm: float,
    tolerance: float | None = None,
) -> list[Finding]:
    """What the last of some passes shows as a whole: its values once more in detail, then closures and drift.

    A pass in which something slipped, or cannot be told from the others, does not close; that is not said as well.
    ``numbers`` are those of the passes, ``reach_mm`` how near two readings of one place are, ``tolerance`` in the unit
    of the values.
    """
    values = screen_values(passes[-1], passes[:-1][-_OTHERS:], shares.look) if len(passes) > 1 else []
    if any(one.remark in SLIPPED for one in values):
        return values
    noise, freedom = noise_of(passes)
    coverage = coverage_for(shares.closing, freedom)
    found = unclosed(passes, reach_mm, tolerance, coverage, numbers, noise)
    drift = drifting(passes, tolerance, coverage, noise)
    return [*values, *found, *([drift] if drift is not None else [])]


def noise_of(passes: Sequence[PassSoFar]) -> tuple[float, float]:
    """Standard deviation of one reading as the passes show it beside each other, and its degrees of freedom."""
    checked = compared(passes[-1], passes[:-1][-_OTHERS:]) if len(passes) > 1 else None
    if checked is None:
        return 0.0, _BLOCKS_FREEDOM
    stations = min(len(one.arrays()[0]) for one in passes)
    return checked.noise, max(_BLOCKS_FREEDOM, (min(len(passes), _OTHERS + 1) - 1) * (stations - 3))
