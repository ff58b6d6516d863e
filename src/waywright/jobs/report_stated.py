"""Results beside the deviations of a line, stated with their uncertainty and judged, as a report prints them."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from waywright.files.budget_file import budget_text
from waywright.jobs.report_judged import as_agreed, uncertainty_content, with_decision
from waywright.jobs.stated_more import stated_of
from waywright.jobs.uncertain import StatedOrder, budget_of
from waywright.report import FurtherContent, VerdictContent
from waywright.visit import KeptTrust, Line, PlanItem, VisitPlan

_UNITS = {"um": "µm", "um/m": "µm/m"}


def kept_trust(order: StatedOrder | None) -> KeptTrust | None:
    """What is kept of how a result was stated; None without a budget. Raises BadInput for one that cannot be read."""
    if order is None or order.budget is None:
        return None
    return KeptTrust(Path(order.budget).name, budget_text(budget_of(order.budget)), order.rule, order.burden)


@dataclass(frozen=True, slots=True)
class Agreed:
    """The plan of a visit, and the line that a result belongs to (None: the visit as a whole)."""

    plan: VisitPlan | None = None
    line: Line | None = None

    def item(self, entry: FurtherContent, result: object) -> PlanItem | None:
        """The test of the plan with a rule for a result of that kind and code; one that names the line goes first."""
        if self.plan is None:
            return None
        name = None if self.line is None else self.line.name
        code = getattr(result, "code", None) or getattr(getattr(result, "result", None), "code", None)
        fitting = [
            one
            for one in self.plan.items
            if one.tolerance is not None and (one.test, one.code) == (entry.kind, code) and one.line in (None, name)
        ]
        return next((one for one in fitting if one.line is not None), fitting[0] if fitting else None)


def with_trust(
    entries: Sequence[FurtherContent], results: Sequence[object], trust: KeptTrust | None, agreed: Agreed = Agreed()
) -> tuple[FurtherContent, ...]:
    """The entries of results, each stated with the kept budget and judged; as they are without a budget.

    A rule of the plan goes before the one that was kept with the result. Raises BadInput for a budget or a rule that
    cannot be read.
    """
    if trust is None:
        return tuple(entries)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "budget.toml"
        file.write_text(trust.text, encoding="utf-8")
        order = StatedOrder(budget=str(file), rule=trust.rule, burden=trust.burden)
        return tuple(_with(entry, result, order, agreed) for entry, result in zip(entries, results, strict=True))


def _with(entry: FurtherContent, result: object, order: StatedOrder, agreed: Agreed) -> FurtherContent:
    plan, item = agreed.plan, agreed.item(entry, result)
    if plan is not None and item is not None and item.tolerance is not None:
        order = replace(order, rule=item.tolerance.rule, burden=plan.burden, confidence=plan.confidence)
    parts = stated_of([result], order)
    if not parts:  # a joint that too few stations tell of
        return entry
    found = next((part for part in parts if part.tolerance is not None), parts[0])
    stated = replace(entry, uncertainty=uncertainty_content(found), unit=_UNITS[found.unit])
    if found.tolerance is None:
        return stated
    said = tuple(one for one in (found.reason, found.warning, *found.unjudged) if one is not None)
    made = VerdictContent(
        found.tolerance, limit=found.limit, burden=order.burden, confidence=order.confidence, reasons=said
    )
    return replace(stated, verdict=with_decision(as_agreed(made, plan, item), found.decision))
