"""Judge with uncertainty: the value as stated, its budget row by row, and the verdict by a tolerance rule."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import Reason, straightness
from waywright.files.budget_file import METHODS, read_budget, ready_budget
from waywright.jobs.judge import StraightnessResult
from waywright.uncertainty import Budget, Row, Stated, state_straightness
from waywright.verdict import Decision, decide, tolerance


@dataclass(frozen=True, slots=True)
class StatedResult:
    """One straightness with its uncertainty and, if a rule was given, its verdict.

    ``expanded_um`` is half the width of ``interval_um`` (95 %); ``noise_floor_um`` and ``noise_floor_95_um`` are what a
    perfect axis would have read. ``rows`` are the whole budget. ``decision`` is None without a rule, or where the rule
    has no single limit: then ``rule_holds`` says what the measured curve alone says.
    """

    code: str
    pass_number: int | None
    reference: str
    value_um: float
    best_um: float
    interval_um: tuple[float, float]
    expanded_um: float
    noise_floor_um: float | None
    noise_floor_95_um: float | None
    rows: tuple[Row, ...]
    tolerance: str | None = None
    limit_um: float | None = None
    decision: Decision | None = None
    rule_holds: bool | None = None
    rule_reasons: tuple[Reason, ...] = ()


def budget_of(name: str) -> Budget:
    """A budget file, or the ready budget of a method: beam, level, autocollimator, straightedge."""
    return ready_budget(name) if name in METHODS else read_budget(name)


def stated_results(
    results: Sequence[StraightnessResult], budget: str | None, rule: str | None, burden: str = "supplier"
) -> tuple[StatedResult, ...]:
    """State the last result of every quantity: the mean of the passes, or the only pass; nothing without a budget.

    Raises BadInput for a rule without a budget: a verdict without uncertainty is none.
    """
    if budget is None:
        if rule is not None:
            raise BadInput("jobs.rule_without_uncertainty")
        return ()
    last = {result.code: result for result in results}
    used = budget_of(budget)
    return tuple(_stated(result, used, rule, burden) for result in last.values())


def _stated(result: StraightnessResult, budget: Budget, rule: str | None, burden: str) -> StatedResult:
    order = np.argsort(result.position_mm)
    position_mm, deviation_um = result.position_mm[order], result.deviation_um[order]
    found = state_straightness(position_mm, deviation_um, budget, result.reference, passes=max(1, result.passes))
    floor = found.floor
    made = StatedResult(
        code=result.code,
        pass_number=result.pass_number,
        reference=result.reference,
        value_um=found.value_um,
        best_um=found.best_um,
        interval_um=found.interval_um,
        expanded_um=found.expanded_um,
        noise_floor_um=None if floor is None else float(floor.mean_um),
        noise_floor_95_um=None if floor is None else float(floor.upper_95_um),
        rows=found.rows,
    )
    return made if rule is None else _judged(made, result, found, rule, burden)


def _judged(made: StatedResult, result: StraightnessResult, found: Stated, rule: str, burden: str) -> StatedResult:
    read = tolerance(rule)
    try:
        limit_um = read.limit_um(result.end_mm - result.start_mm)
    except BadInput as problem:
        if problem.key != "verdict.no_single_limit":
            raise
        curve = straightness(result.position_mm, result.deviation_um, result.reference)
        positive = () if result.positive is None else result.positive
        check = read.check(curve, positive=positive)
        reasons = tuple(Reason(part.key, part.facts) for part in check.parts if part.key)
        return replace(made, tolerance=str(read), rule_holds=check.holds, rule_reasons=reasons)
    decision = decide(found.outcome, limit_um, burden=burden)
    return replace(made, tolerance=str(read), limit_um=limit_um, decision=decision)
