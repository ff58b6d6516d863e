"""The fitter's sheet on paper: one page of a plan."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from waywright.errors import ReportError
from waywright.jobs.correct import Correction
from waywright.report.fitter_pdf import FitterContent, fitter_pdf


def sheet_content(found: Correction, made_utc: datetime, number: int | None = None) -> FitterContent:
    """What is printed of a correction; ``number`` is that of the round where it was kept."""
    plan, machine = found.plan, found.machine
    return FitterContent(
        machine.name,
        machine.invented,
        plan.value_now_um,
        plan.goal_um,
        plan.value_um,
        plan.interval_um,
        found.sheet,
        made_utc,
        number,
    )


def write_sheet(found: Correction, path: Path, made_utc: datetime, number: int | None = None) -> Path:
    """Write the sheet as a PDF. Raises ReportError where it cannot be written."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(fitter_pdf(sheet_content(found, made_utc, number)))
    except OSError as problem:
        raise ReportError("adjust.sheet_not_written", path=str(path), reason=str(problem)) from problem
    return path
