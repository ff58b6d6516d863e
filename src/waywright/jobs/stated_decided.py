"""A stated value with the verdict of its rule: an angle against a ratio, a length against a limit for the length."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, decided_with
from waywright.uncertainty import Stated
from waywright.verdict import decide_by_rule
from waywright.verdict.rule_check import PartCheck, Sight, check_part
from waywright.verdict.rule_records import Part

_NOWHERE = Sight.of((), (), ())


@dataclass(frozen=True, slots=True)
class _Angle:
    """What a rule for angles is checked against."""

    angle_um_per_m: Any


def decided(made: StatedResult, found: Stated, order: StatedOrder, length_mm: float | None = None) -> StatedResult:
    """With the verdict of the rule; without a rule as it is. A value of either sign counts by its size."""
    rule = order.wanted_rule()
    if rule is None:
        return made

    def judge(part: Part, draws: bool) -> PartCheck:
        value = found.outcome.draws if draws else found.value
        return check_part(part, _Angle(value) if found.unit == "um/m" else abs(value), _NOWHERE, length_mm)

    spread = found.outcome.standard_uncertainty
    by_rule = decide_by_rule(rule, judge, order.burden, standard_uncertainty=spread, confidence=order.confidence)
    limits = [part.limit for part in by_rule.parts if part.limit is not None]
    return replace(decided_with(made, by_rule), limit=min(limits, default=None))
