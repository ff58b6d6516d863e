"""Options of the commands about reports."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

if TYPE_CHECKING:
    from waywright.jobs.report_order import ReportOrder

Reference = Literal["end-points", "least-squares", "minimum-zone"]
Language = Literal["en", "de", "en+de"]
Paper = Literal["a4", "us-letter"]
Keep = Annotated[bool, Parameter(negative="")]
ArchiveFile = Annotated[Path | None, Parameter(name=["--archive", "-a"])]
Json = Annotated[bool, Parameter(negative="")]
FOLDER = Path("waywright-report")


def order_of(
    reference: str,
    window_mm: float | None,
    uncertainty: bool,
    budget: str | None,
    tolerance: str | None,
    burden: str,
    language: str,
    paper: str,
) -> ReportOrder:
    """What a report is ordered with."""
    from waywright.jobs.report_order import ReportOrder

    return ReportOrder(
        reference=reference, window_mm=window_mm, uncertainty=uncertainty, budget=budget, rule=tolerance,
        burden=burden, language=language, paper=paper,
    )  # fmt: skip
