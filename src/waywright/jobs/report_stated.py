"""Results beside the deviations of a line, stated with their uncertainty and judged, as a report prints them."""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from waywright.files.budget_file import budget_text
from waywright.jobs.report_judged import uncertainty_content, with_decision
from waywright.jobs.stated_more import stated_of
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, budget_of
from waywright.report import FurtherContent, VerdictContent
from waywright.visit import KeptTrust

_UNITS = {"um": "µm", "um/m": "µm/m"}


def kept_trust(order: StatedOrder | None) -> KeptTrust | None:
    """What is kept of how a result was stated; None without a budget. Raises BadInput for one that cannot be read."""
    if order is None or order.budget is None:
        return None
    return KeptTrust(Path(order.budget).name, budget_text(budget_of(order.budget)), order.rule, order.burden)


def with_trust(
    entries: Sequence[FurtherContent], results: Sequence[object], trust: KeptTrust | None
) -> tuple[FurtherContent, ...]:
    """The entries of results, each stated with the kept budget; as they are without one.

    Raises BadInput for a budget or a rule that cannot be read.
    """
    if trust is None:
        return tuple(entries)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "budget.toml"
        file.write_text(trust.text, encoding="utf-8")
        order = StatedOrder(budget=str(file), rule=trust.rule, burden=trust.burden)
        return tuple(
            _with(entry, stated_of([result], order)[0], order) for entry, result in zip(entries, results, strict=True)
        )


def _with(entry: FurtherContent, found: StatedResult, order: StatedOrder) -> FurtherContent:
    stated = replace(entry, uncertainty=uncertainty_content(found), unit=_UNITS[found.unit])
    if found.tolerance is None:
        return stated
    said = tuple(one for one in (found.reason, found.warning, *found.unjudged) if one is not None)
    made = VerdictContent(
        found.tolerance, limit=found.limit, burden=order.burden, confidence=order.confidence, reasons=said
    )
    return replace(stated, verdict=with_decision(made, found.decision))
