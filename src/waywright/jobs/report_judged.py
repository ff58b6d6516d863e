"""Uncertainty and verdict of every straightness of a line, as the report prints them."""

from __future__ import annotations

import hashlib
import pickle
import threading
from collections import OrderedDict
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import msgspec
import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.results import Reason
from waywright.files.budget_file import METHODS, budget_text
from waywright.jobs.line_budget import judged_line
from waywright.jobs.line_stated import ready_method
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.plans import item_for, missing
from waywright.jobs.report_order import ReportOrder
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, budget_of, record_of, single_limit
from waywright.report import BudgetRow, QuantityContent, UncertaintyContent, VerdictContent
from waywright.uncertainty import Budget, Judged, Stated, state, straightness_value
from waywright.uncertainty.stating import Value
from waywright.verdict import Decision, decide_straightness, tolerance
from waywright.visit import PlanItem, VisitPlan

_REFERENCES = ("end-points", "least-squares", "minimum-zone")
_MOST_KEPT = 12
_KEPT: OrderedDict[bytes, Stated] = OrderedDict()
_LOCK = threading.Lock()

FOR_ROTATIONS = "cross-level"
"""The ready budget of angles read as they are."""

FEWEST_STATIONS = 4
"""Below that no uncertainty is stated: see :func:`waywright.uncertainty.state`."""


def judged_content(
    measured: MeasuredLine, found: Sequence[QuantityContent], order: ReportOrder, plan: VisitPlan | None
) -> tuple[QuantityContent, ...]:
    """The quantities with their uncertainty, and a verdict where the plan or the order has a rule for them.

    Raises BadInput for a rule that cannot be read, and for a budget that does not fit.
    """
    if not order.uncertainty:
        return tuple(found)
    budget = _budget(measured, order)
    return tuple(_judged(measured, each, order, plan, budget) for each in found)


def _budget(measured: MeasuredLine, order: ReportOrder) -> Budget:
    return budget_in(order, order.budget or ready_method(measured))


def budget_in(order: ReportOrder, name: str) -> Budget:
    """A budget by its name, from its text in the order where that holds it. Raises BadInput for one not to be read."""
    text = order.budget_texts.get(name)
    return budget_of(name) if text is None else _budget_of_text(text)


def _judged(
    measured: MeasuredLine, each: QuantityContent, order: ReportOrder, plan: VisitPlan | None, budget: Budget
) -> QuantityContent:
    if len(each.position_mm) < FEWEST_STATIONS or each.chosen.reference not in _REFERENCES:
        return each
    name, reference = each.code.text, each.chosen.reference
    judged = judged_line(measured, name, budget)
    wanted = StatedOrder()
    stated = _stated(judged, reference, wanted)
    record = record_of("straightness", name, stated, judged.budget, order.budget)
    made = replace(each, uncertainty=uncertainty_content(record, _ribbon(stated, each, reference)))
    item = None if plan is None else item_for(plan, measured.line, name)
    rule = item.tolerance.rule if item is not None and item.tolerance is not None else order.rule
    if rule is None:
        return made
    return replace(made, verdict=_verdict(stated, each, rule, order, plan, item))


def _stated(judged: Judged, reference: str, wanted: StatedOrder) -> Stated:
    return stated_once(judged, straightness_value(reference), "um", reference, wanted)


def stated_once(judged: Judged, value: Value, unit: str, reference: str | None, wanted: StatedOrder) -> Stated:
    """A value of a line as it is stated; the last few are kept, because a page asks again and again for the same.

    ``unit`` and ``reference`` tell values of the same readings apart: one value each.
    """
    key = hashlib.sha256(pickle.dumps((judged, unit, reference, wanted.draws, wanted.seed))).digest()
    with _LOCK:
        known = _KEPT.get(key)
    if known is None:
        known = state([judged], value, unit, reference, wanted.draws, wanted.seed)
        with _LOCK:
            _KEPT[key] = known
            while len(_KEPT) > _MOST_KEPT:
                _KEPT.popitem(last=False)
    return known


def uncertainty_content(record: StatedResult, ribbon: tuple[float, ...] = ()) -> UncertaintyContent:
    """A stated value as the report prints it, with its whole budget."""
    return UncertaintyContent(
        best=record.best,
        interval=record.interval,
        expanded=record.expanded,
        coverage_factor=record.coverage_factor,
        probability=record.probability,
        rows=tuple(
            BudgetRow(
                row.name, row.value, row.unit, row.distribution, row.degrees_of_freedom, row.source,
                row.standard_uncertainty, row.sensitivity, row.contribution,
            )
            for row in record.rows
        ),
        combined=record.rows_combined,
        degrees_of_freedom=record.degrees_of_freedom,
        noise_floor=record.noise_floor,
        noise_floor_95=record.noise_floor_95,
        budget=record.budget,
        ribbon=ribbon,
    )  # fmt: skip


def _ribbon(stated: Stated, each: QuantityContent, reference: str) -> tuple[float, ...]:
    """Half the 95 % interval of the deviation at each station, in the order of the content's stations.

    Every drawn profile is referred to its own line, so that a ribbon is narrow where the line is tied to it.
    """
    belief = stated.belief
    at = np.searchsorted(belief.grid_mm, belief.station_mm)
    deviation = straightness(belief.station_mm, belief.profile[at], reference).deviation_um
    tail = (1.0 - stated.probability) / 2.0
    low, high = np.quantile(deviation, [tail, 1.0 - tail], axis=1)
    half = (high - low) / 2.0
    order = np.argsort(np.argsort(each.position_mm))
    return tuple(half[order].tolist())


def _verdict(
    stated: Stated,
    each: QuantityContent,
    rule_text: str,
    order: ReportOrder,
    plan: VisitPlan | None,
    item: PlanItem | None,
) -> VerdictContent:
    rule = tolerance(rule_text)
    burden, confidence = burden_of(order, plan)
    decided = decide_straightness(
        rule, stated.belief, each.chosen.reference, burden, positive=each.on_screen.value, confidence=confidence
    )
    length_mm = max(each.position_mm) - min(each.position_mm)
    said = tuple(one for one in (decided.reason, decided.warning, *decided.unjudged) if one is not None)
    made = VerdictContent(
        rule=decided.rule, limit=single_limit(rule, length_mm), burden=burden, confidence=confidence, reasons=said
    )
    return with_decision(as_agreed(made, plan, item), decided.decision)


def burden_of(order: ReportOrder, plan: VisitPlan | None) -> tuple[str, float]:
    """Who has to prove, and with which confidence: the plan says it, otherwise the order."""
    return (plan.burden, plan.confidence) if plan is not None else (order.burden, 0.95)


def as_agreed(made: VerdictContent, plan: VisitPlan | None, item: PlanItem | None) -> VerdictContent:
    """A verdict with the source of its rule, and whether it binds."""
    if plan is None or item is None:
        return made
    key = missing(plan, item)
    return replace(
        made,
        source=None if item.tolerance is None else item.tolerance.source,
        binding=plan.binds(item),
        why_not_binding=None if key is None else Reason(key, {}),
    )


def with_decision(made: VerdictContent, decision: Decision | None) -> VerdictContent:
    """A verdict with what was decided; as it is where nothing could be."""
    if decision is None:
        return made
    return replace(
        made,
        verdict=decision.verdict.name.lower().replace("_", "-"),
        accepted=decision.accepted,
        probability_of_conformity=decision.probability_of_conformity,
        acceptance=decision.acceptance_um,
        rejection=decision.rejection_um,
    )


def read_order(order: ReportOrder, lines: Sequence[MeasuredLine], *, rotations: bool = False) -> ReportOrder:
    """The order with the text of every budget it uses, so that it can be computed again elsewhere and later.

    ``rotations`` says that some are judged too, which have a budget of their own.
    Raises BadInput for a file or a rule that cannot be read.
    """
    if order.rule is not None:
        tolerance(order.rule)
    if not order.uncertainty or order.budget_texts:
        return order
    if order.budget is not None:
        name = order.budget if order.budget in METHODS else Path(order.budget).name
        texts = {name: budget_text(budget_of(order.budget))}
        return replace(order, budget=name, budget_texts=(_texts([FOR_ROTATIONS]) if rotations else {}) | texts)
    methods = sorted({ready_method(each) for each in lines})
    return replace(order, budget_texts=_texts([*methods, FOR_ROTATIONS] if rotations else methods))


def _texts(methods: Sequence[str]) -> dict[str, str]:
    return {name: budget_text(budget_of(name)) for name in methods}


def _budget_of_text(text: str) -> Budget:
    try:
        return msgspec.convert(msgspec.toml.decode(text), Budget)
    except msgspec.MsgspecError as problem:
        raise BadInput("report_verify.data_unreadable", detail=str(problem)) from problem
