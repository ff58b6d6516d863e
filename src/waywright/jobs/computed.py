"""Results of a kept line computed anew, as records: values with uncertainty, verdict by the plan, figures for trends.

A pure function of what was measured: the same line, plan and algorithm give the same numbers on any computer.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from uuid import NAMESPACE_URL, UUID, uuid5

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import fit, twist
from waywright.jobs.algorithm import ALGORITHM_VERSION
from waywright.jobs.line_budget import judged_line
from waywright.jobs.line_stated import ready_method
from waywright.jobs.measured import MeasuredLine, joined, results_of_line
from waywright.jobs.plans import item_for
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, budget_of, stated_straightness
from waywright.quantities import code
from waywright.readings import Floats
from waywright.visit import KeptResult, PlanItem, VisitPlan

REFERENCE = "least-squares"
_MONTE_CARLO_DRAWS = 4000
_SMALLEST_STATIONS = 3


@dataclass(frozen=True, slots=True)
class Rules:
    """What is asked of every line: a rule that holds where no plan says one, who has to prove, how many draws."""

    rule: str | None = None
    burden: str = "supplier"
    confidence: float = 0.95
    draws: int = _MONTE_CARLO_DRAWS
    reference: str = REFERENCE


def computed(measured: MeasuredLine, plan: VisitPlan | None, rules: Rules, now: datetime) -> tuple[KeptResult, ...]:
    """Every straightness of a line with its uncertainty and verdict, and the twist of every roll.

    A quantity that cannot be judged (too few stations, nothing in common) is left out.
    """
    return tuple(_of_quantities(measured, plan, rules, now))


def digest_of(measured: MeasuredLine) -> str:
    """SHA-256 over what a line's results rest on: seals of the readings that count, and what the channels mean."""
    held = hashlib.sha256()
    for single in sorted(measured.passes, key=lambda each: each.taken.id):
        held.update(repr((single.interpretation, single.setup)).encode())
        for reading in single.readings:
            held.update(reading.hash)
    return held.hexdigest()


def identity(line: UUID, quantity: str, reference: str) -> UUID:
    """The same on every computer, so that a result computed again is a new word about the same thing."""
    return uuid5(NAMESPACE_URL, f"result:{line}:{quantity}:{reference}")


def _of_quantities(measured: MeasuredLine, plan: VisitPlan | None, rules: Rules, now: datetime) -> Iterator[KeptResult]:
    readings = digest_of(measured)
    for quantity in measured.codes():
        item = None if plan is None else item_for(plan, measured.line, quantity)
        try:
            if code(quantity).is_straightness:
                yield _straight(measured, quantity, plan, item, rules, readings, now)
            elif code(quantity).is_rotation and code(quantity).direction == code(quantity).axis:
                yield _twisted(measured, quantity, readings, now)
        except BadInput:
            continue


def _straight(
    measured: MeasuredLine,
    quantity: str,
    plan: VisitPlan | None,
    item: PlanItem | None,
    rules: Rules,
    readings: str,
    now: datetime,
) -> KeptResult:
    reference = item.reference if item is not None else rules.reference
    order = _order(measured, plan, item, rules)
    result = [each for each in results_of_line(measured, reference, None) if each.code == quantity][-1]
    averaging_s = measured.passes[-1].taken.settings.averaging_s
    judged = judged_line(measured, quantity, budget_of(str(order.budget)))
    stated = stated_straightness(result, judged, order, averaging_s)
    binds = plan is not None and item is not None and plan.binds(item)
    return KeptResult(
        id=identity(measured.line.id, quantity, reference),
        line_id=measured.line.id,
        quantity=quantity,
        reference=reference,
        value=stated.value,
        unit=stated.unit,
        expanded_uncertainty=stated.expanded,
        coverage_factor=stated.coverage_factor,
        probability=stated.probability,
        algorithm=ALGORITHM_VERSION,
        readings=readings,
        made_utc=now,
        limit=stated.limit,
        rule=stated.tolerance,
        verdict=_verdict(stated),
        information_only=not binds,
        figures=_figures(measured, quantity),
    )


def _order(measured: MeasuredLine, plan: VisitPlan | None, item: PlanItem | None, rules: Rules) -> StatedOrder:
    """The plan goes before what is asked of every line."""
    planned = item.tolerance.rule if item is not None and item.tolerance is not None else None
    return StatedOrder(
        budget=ready_method(measured),
        rule=planned or rules.rule,
        burden=plan.burden if plan is not None else rules.burden,
        confidence=plan.confidence if plan is not None else rules.confidence,
        draws=rules.draws,
        seed=_seed(measured.line.id),
    )


def _seed(line: UUID) -> int:
    """Drawn numbers are those of the line, whoever computes it and in whatever order."""
    return line.int % (2**31)


def _verdict(stated: StatedResult) -> str | None:
    return None if stated.decision is None else stated.decision.verdict.value


def _figures(measured: MeasuredLine, quantity: str) -> dict[str, float | None]:
    """Bow (height of the middle over the ends, by a parabola) with its scatter; what was covered.

    The slope is told only where gravity was the reference: that of a beam is how the beam was laid.
    """
    mean = joined(measured, quantity)
    x, y = mean.position_mm, mean.mean
    bow, slope, bow_u, slope_u = _parabola(x, y)
    return {
        "bow_um": bow,
        "bow_expanded_um": 2.0 * bow_u,
        **({"slope_um_per_m": slope, "slope_expanded_um_per_m": 2.0 * slope_u} if _by_gravity(measured) else {}),
        "length_mm": float(np.ptp(x)),
        "stations": float(x.size),
        "passes": float(len(measured.passes)),
    }


def _by_gravity(measured: MeasuredLine) -> bool:
    methods = {single.setup.method for single in measured.passes}
    return all(method is not None and "level" in method.lower() for method in methods)


def _parabola(x: Floats, y: Floats) -> tuple[float, float, float, float]:
    """Height of the middle over the ends and slope of a fitted parabola, with standard uncertainties from the rest."""
    if x.size < _SMALLEST_STATIONS:
        raise BadInput("jobs.no_readings", line="")
    half = np.ptp(x) / 2.0
    t = (x - x.min() - half) / half
    design = np.column_stack([np.ones_like(t), t, 1.0 - t**2])
    found = fit(design, y)
    coefficient = found.coefficient
    variance = float(np.sum(found.residual**2)) / max(found.degrees_of_freedom, 1)
    per_m = 1000.0 / half
    u = np.sqrt(variance * np.diag(found.cofactor))
    return float(coefficient[2]), float(coefficient[1] * per_m), float(u[2]), float(u[1] * per_m)


def _twisted(measured: MeasuredLine, quantity: str, readings: str, now: datetime) -> KeptResult:
    """Twist; its uncertainty is what the passes say about repeatability, nothing more."""
    roll = joined(measured, quantity)
    found = twist(roll.position_mm, roll.mean)
    scatter = float(np.sqrt(np.nanmean(roll.repeatability**2))) if np.isfinite(roll.repeatability).any() else None
    expanded = None if scatter is None else 2.0 * math.sqrt(2.0 / roll.passes) * scatter
    return KeptResult(
        id=identity(measured.line.id, quantity, "none"),
        line_id=measured.line.id,
        quantity=quantity,
        reference="none",
        value=float(found.total_um_per_m),
        unit="um/m",
        expanded_uncertainty=expanded,
        coverage_factor=None if expanded is None else 2.0,
        probability=None if expanded is None else 0.95,
        algorithm=ALGORITHM_VERSION,
        readings=readings,
        made_utc=now,
        figures={
            "ends_um_per_m": float(found.end_to_end_um_per_m),
            "rate_um_per_m_per_m": float(found.rate_um_per_m_per_m),
            "mean_um_per_m": float(roll.mean.mean()),
            "length_mm": float(np.ptp(roll.position_mm)),
        },
    )
