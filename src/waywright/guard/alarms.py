"""All tests of a visit together: false alarms by design.

A visit without any fault raises an alarm with at most the rate agreed, one in a hundred by default, over all tests
together. One part is spent while passes are watched (:mod:`waywright.guard.live`); of the rest every test gets an
equal share (Bonferroni's inequality, which holds however tests depend on each other), and its limit follows from its
share; a limit that practice sets higher (a tenth of the tolerance) stays.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from waywright.evaluate.anomalies import check_passes
from waywright.evaluate.results import Reason
from waywright.guard.bow import Figure
from waywright.guard.closing import Closing, closure
from waywright.guard.direction import Outcome, direction_test
from waywright.guard.findings import Finding, PassSoFar
from waywright.guard.live import LIVE_PART, coverage_for, end_of_pass, live_shares
from waywright.guard.moves import KnownMove
from waywright.guard.rules import CLOSURE_SHARE
from waywright.guard.watching import screen_pass
from waywright.quantities import Direction

DEFAULT_RATE = 0.01
_BESIDE = 3
_DIRECTION_TRIES = 8  # two sizes, a roll, three one-foot shims, two channels


@dataclass(frozen=True, slots=True)
class VisitEvidence:
    """What a visit brings to be tested. ``passes`` and ``closings`` by quantity ("height", "side").

    ``top_minus_foot_k`` and ``gradient_k_per_m`` are measured differences with their standard uncertainties; None where
    nobody measured them.
    """

    moves: tuple[KnownMove, ...]
    channels: tuple[Direction, Direction]
    passes: Mapping[str, Sequence[PassSoFar]]
    closings: Mapping[str, Sequence[Closing]]
    tolerance_um: float
    top_minus_foot_k: Figure | None = None
    gradient_k_per_m: Figure | None = None

    @property
    def tests(self) -> int:
        """How many tests share the rate."""
        temperatures = [self.top_minus_foot_k, self.gradient_k_per_m]
        count = int(bool(self.moves)) + sum(len(passes) > 1 for passes in self.passes.values())
        return count + sum(map(len, self.closings.values())) + sum(item is not None for item in temperatures)


@dataclass(frozen=True, slots=True)
class Alarm:
    """A test of a visit that raised an alarm: which, on what, and why."""

    test: str
    on: str
    why: Reason


def visit_alarms(visit: VisitEvidence, rate: float = DEFAULT_RATE, *, live: bool = True) -> tuple[Alarm, ...]:
    """Every alarm of a visit; at most ``rate`` of visits without a fault raise any.

    With ``live`` also those that watching the passes would have raised while they were taken, reading by reading; they
    have a part of the rate of their own. Raises BadInput for a rate that is no share, and like the tests themselves.
    """
    share = (1.0 - LIVE_PART) * rate / max(1, visit.tests)
    found = list(_alarms(visit, share, coverage_for(share)))
    for quantity, passes in visit.passes.items() if live else ():
        found += live_alarms(quantity, passes, rate, len(visit.passes), visit.tolerance_um)
    return tuple(found)


def live_alarms(
    quantity: str, passes: Sequence[PassSoFar], rate: float, channels: int, tolerance_um: float
) -> Iterator[Alarm]:
    """What watching the passes of one quantity says, after each reading and at the end of each pass."""
    planned = passes[0].arrays()[0] if passes else ()
    shares = live_shares(rate, passes=len(passes), channels=channels, stations=len(planned))
    reach_mm = 0.1 * passes[0].spacing_mm if passes else 0.0
    for number, taken in enumerate(passes):
        earlier, quick = passes[:number], True
        found: list[Finding] = []
        for readings in range(1, len(planned) + 1):
            seen = screen_pass(
                taken.first(readings), earlier[-_BESIDE:], false_alarm=shares.look, planned_mm=planned, quick=quick
            )
            found += seen
            quick = not found
        numbers = list(range(1, number + 2))
        found += end_of_pass([*earlier, taken], numbers, shares, reach_mm, tolerance_um)
        yield from (Alarm(one.remark.value, f"{quantity}, pass {number + 1}", one.why) for one in found)


def _alarms(visit: VisitEvidence, share: float, coverage: float) -> Iterator[Alarm]:
    if visit.moves:
        yield from direction_alarms(visit, share)
    for quantity, passes in visit.passes.items():
        if len(passes) > 1:
            yield from passes_alarms(quantity, passes, share)
    for quantity, closings in visit.closings.items():
        for one in closings:
            found = closure(one.first_um, one.again_um, math.sqrt(2.0) * one.error_um, visit.tolerance_um, coverage)
            if found is not None:
                yield Alarm("closure", f"{quantity}, {one.place}", found.why)
    for name, figure in (("bed", visit.top_minus_foot_k), ("air", visit.gradient_k_per_m)):
        if figure is not None and abs(figure.value) > coverage * figure.standard_uncertainty:
            facts = {"value": figure.value, "limit": coverage * figure.standard_uncertainty}
            yield Alarm("temperature", name, Reason(f"guard.alarm_{name}", facts))


def direction_alarms(visit: VisitEvidence, share: float) -> Iterator[Alarm]:
    """The direction test, where it fails; "not resolved" is no alarm, but nothing is proved either."""
    found = direction_test(visit.moves, visit.channels, coverage=coverage_for(share / _DIRECTION_TRIES))
    if found.outcome is Outcome.FAILED:
        yield Alarm("direction", found.mounting.value, found.why[0])


def passes_alarms(quantity: str, passes: Sequence[PassSoFar], share: float) -> Iterator[Alarm]:
    """What the passes of one quantity say to each other: spike, step, shift, cannot tell."""
    for anomaly in check_passes([one.traverse() for one in passes], false_alarm=share).found:
        yield Alarm(anomaly.kind, quantity, anomaly.reason)


def closure_limit_um(error_um: float, tolerance_um: float, tests: int, rate: float = DEFAULT_RATE) -> float:
    """The limit of a closure in a visit of so many tests; ``error_um`` is the standard error of one reading."""
    return max(
        coverage_for((1.0 - LIVE_PART) * rate / tests) * math.sqrt(2.0) * error_um, CLOSURE_SHARE.value * tolerance_um
    )
