"""Uncertainty and verdict of the rotations of a line, where the agreed plan has a rule for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from waywright.evaluate import twist
from waywright.jobs.line_budget import with_measured
from waywright.jobs.measured import MeasuredLine, joined
from waywright.jobs.plans import item_for
from waywright.jobs.report_judged import (
    FEWEST_STATIONS,
    FOR_ROTATIONS,
    as_agreed,
    budget_in,
    burden_of,
    stated_once,
    uncertainty_content,
    with_decision,
)
from waywright.jobs.report_order import ReportOrder
from waywright.jobs.stated_decided import decided
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, record_of
from waywright.quantities import code
from waywright.readings import Floats
from waywright.report import QuantityContent, VerdictContent
from waywright.uncertainty import Budget, Judged, measured_of
from waywright.uncertainty.stating import Curve
from waywright.visit import PlanItem, VisitPlan


def turned_content(
    measured: MeasuredLine, found: Sequence[QuantityContent], order: ReportOrder, plan: VisitPlan | None
) -> tuple[QuantityContent, ...]:
    """The rotations, judged by the rule of the plan where it has one: largest minus smallest in um/m.

    Raises BadInput for a rule that cannot be read.
    """
    if not order.uncertainty or plan is None:
        return tuple(found)
    return tuple(_judged(measured, each, order, plan) for each in found)


def judges_rotations(lines: Sequence[MeasuredLine], plan: VisitPlan | None) -> bool:
    """Whether the plan has a rule for a rotation of one of the lines."""
    return plan is not None and any(
        code(name).is_rotation and _item(plan, line, name) is not None for line in lines for name in line.codes()
    )


def _item(plan: VisitPlan, measured: MeasuredLine, name: str) -> PlanItem | None:
    item = item_for(plan, measured.line, name)
    return item if item is not None and item.tolerance is not None else None


def _judged(measured: MeasuredLine, each: QuantityContent, order: ReportOrder, plan: VisitPlan) -> QuantityContent:
    item = _item(plan, measured, each.code.text)
    if item is None or item.tolerance is None or len(each.position_mm) < FEWEST_STATIONS:
        return each
    burden, confidence = burden_of(order, plan)
    wanted = StatedOrder(budget=FOR_ROTATIONS, rule=item.tolerance.rule, burden=burden, confidence=confidence)
    record = _record(measured, each.code.text, _budget(order), wanted)
    said = tuple(one for one in (record.reason, record.warning, *record.unjudged) if one is not None)
    made = VerdictContent(
        record.tolerance or item.tolerance.rule, limit=record.limit, burden=burden, confidence=confidence, reasons=said
    )
    verdict = with_decision(as_agreed(made, plan, item), record.decision)
    return replace(each, uncertainty=uncertainty_content(record), verdict=verdict)


def _budget(order: ReportOrder) -> Budget:
    """The chosen budget where it is one of angles, otherwise the ready one."""
    chosen = None if order.budget is None else budget_in(order, order.budget)
    return chosen if chosen is not None and chosen.reads == "um/m" else budget_in(order, FOR_ROTATIONS)


def _record(measured: MeasuredLine, name: str, budget: Budget, wanted: StatedOrder) -> StatedResult:
    mean = joined(measured, name)
    ascending = np.argsort(mean.position_mm)
    readings = measured_of(mean.position_mm[ascending], mean.mean[ascending], passes=len(measured.passes))
    ways = {single.taken.direction for single in measured.passes}
    own = Judged(replace(readings, both_ways=len(ways) > 1), with_measured(budget, measured, name, readings))
    found = stated_once(own, _range, "um/m", None, wanted)
    return decided(record_of("twist", name, found, own.budget, FOR_ROTATIONS), found, wanted)


def _range(lines: Sequence[Curve]) -> Floats:
    return np.asarray(twist(*lines[0]).total_um_per_m)
