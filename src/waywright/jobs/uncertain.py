"""Judge with uncertainty: the value as stated, its budget row by row, and the verdict by a tolerance rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from waywright.errors import BadInput
from waywright.files.budget_file import METHODS, read_budget, ready_budget
from waywright.jobs.judge import StraightnessResult, Wish, result_of
from waywright.jobs.stated_record import StatedResult
from waywright.readings import Floats
from waywright.uncertainty import (
    Budget,
    Judged,
    Measured,
    Stated,
    measured_of,
    state,
    straightness_value,
    what_would_help,
)
from waywright.verdict import Rule, RuleDecision, decide_straightness, tolerance


@dataclass(frozen=True, slots=True, kw_only=True)
class StatedOrder:
    """What is wanted besides the value.

    ``budget`` is a budget file or the name of a ready one; ``rule`` a tolerance rule; ``burden`` "supplier" (proves
    conformity), "customer" (proves non-conformity), "shared" or "simple" (as agreed). ``helps`` asks for what would
    help most, which judges the readings some seven times more.
    """

    budget: str | None = None
    rule: str | None = None
    burden: str = "supplier"
    confidence: float = 0.95
    helps: bool = False
    draws: int = 4000
    seed: int = 1

    def wanted_rule(self) -> Rule | None:
        """The rule read. Raises BadInput with the place of a mistake, and for a rule without a budget."""
        if self.rule is not None and self.budget is None:
            raise BadInput("jobs.rule_without_uncertainty")
        return None if self.rule is None else tolerance(self.rule)


def budget_of(name: str) -> Budget:
    """A budget file, or the ready budget of a method."""
    return ready_budget(name) if name in METHODS else read_budget(name)


def stated_results(results: Sequence[StraightnessResult], order: StatedOrder) -> tuple[StatedResult, ...]:
    """State the last result of every quantity: the mean of the passes, or the only pass; nothing without a budget.

    Raises BadInput for a rule without a budget: a verdict without uncertainty is none.
    """
    order.wanted_rule()
    if order.budget is None:
        return ()
    last = {result.code: result for result in results}
    used = budget_of(order.budget)
    return tuple(_of_table(result, used, order) for result in last.values())


def _of_table(result: StraightnessResult, budget: Budget, order: StatedOrder) -> StatedResult:
    measured = _ascending(result.position_mm, result.deviation_um, passes=max(1, result.passes))
    return stated_straightness(result, Judged(measured, budget), order)


def of_profile(
    code: str,
    position_mm: Floats,
    height_um: Floats,
    budget: Budget,
    order: StatedOrder,
    *,
    joins_mm: tuple[float, ...] = (),
) -> StatedResult:
    """State the straightness of a profile that was joined or summed, about the least-squares line."""
    result = result_of(code, position_mm, height_um, Wish())
    return stated_straightness(result, Judged(_ascending(position_mm, height_um, joins_mm=joins_mm), budget), order)


def _ascending(position_mm: Floats, value: Floats, *, passes: int = 1, joins_mm: tuple[float, ...] = ()) -> Measured:
    order = np.argsort(position_mm)
    return measured_of(position_mm[order], value[order], passes=passes, joins_mm=joins_mm)


def stated_straightness(
    result: StraightnessResult, judged: Judged, order: StatedOrder, averaging_s: float | None = None
) -> StatedResult:
    """State one straightness: readings and budget as ``judged``, everything else as the result and the order say."""
    value = straightness_value(result.reference)
    found = state([judged], value, "um", result.reference, order.draws, order.seed)
    made = record_of("straightness", result.code, found, judged.budget, order.budget)
    made = replace(made, pass_number=result.pass_number)
    if order.helps:
        helps = what_would_help(
            judged.measured,
            judged.budget,
            result.reference,
            averaging_s=averaging_s,
            seed=order.seed,
            expanded_um=found.expanded,
        )
        made = replace(made, helps=helps)
    rule = order.wanted_rule()
    if rule is None:
        return made
    positive = () if result.positive is None else result.positive
    decided = decide_straightness(
        rule, found.belief, result.reference, order.burden, positive=positive, confidence=order.confidence
    )
    return replace(decided_with(made, decided), limit=single_limit(rule, result.end_mm - result.start_mm))


def decided_with(made: StatedResult, decided: RuleDecision) -> StatedResult:
    """A stated value with what its rule came to."""
    return replace(
        made,
        tolerance=decided.rule,
        parts=decided.parts,
        decision=decided.decision,
        reason=decided.reason,
        unjudged=decided.unjudged,
        warning=decided.warning,
    )


def single_limit(rule: Rule, length_mm: float) -> float | None:
    """The limit of a rule for a length in um, or None where it has no single one."""
    try:
        return rule.limit_um(length_mm)
    except BadInput:
        return None


def record_of(what: str, code: str, found: Stated, budget: Budget, file: str | None) -> StatedResult:
    """What was found as a record."""
    floor = found.floor
    return StatedResult(
        what=what,
        code=code,
        pass_number=None,
        reference=found.reference,
        unit=found.unit,
        value=found.value,
        best=found.best,
        interval=found.interval,
        probability=found.probability,
        standard_uncertainty=found.outcome.standard_uncertainty,
        coverage_factor=found.coverage_factor,
        expanded=found.expanded,
        rows=found.rows,
        rows_combined=found.combined,
        rows_second_order=found.second_order,
        degrees_of_freedom=found.degrees_of_freedom,
        rows_coverage_factor=found.rows_coverage_factor,
        rows_expanded=found.rows_expanded,
        budget=budget.title or budget.method,
        budget_file=file,
        shortest_interval=found.outcome.interval(found.probability, "shortest"),
        bias=-found.outcome.bias,
        draws=found.outcome.trials,
        noise_floor=None if floor is None else float(floor.mean_um),
        noise_floor_95=None if floor is None else float(floor.upper_95_um),
        shape=dict(found.family),
    )
