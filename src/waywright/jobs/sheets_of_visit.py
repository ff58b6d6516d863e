"""The sheets of tests of a visit, as its report lists them: the figures and verdicts of each sheet's own report."""

from __future__ import annotations

from uuid import UUID

from waywright.archive import Archive
from waywright.errors import WaywrightError
from waywright.evaluate.results import Reason
from waywright.jobs.sheet_content import SHOWN_UNITS, row_content
from waywright.jobs.sheet_judge import RowResult, sheet_result
from waywright.report.content_sheet import SheetListedContent, SheetTestContent
from waywright.visit.sheet import MeasuringSheet


def sheets_of_visit(archive: Archive, visit: UUID) -> tuple[SheetListedContent, ...]:
    """Every sheet of a visit, oldest first, judged now. One that cannot be judged says why."""
    return tuple(
        _listed(archive, each) for each in sorted(archive.every(MeasuringSheet, visit), key=lambda one: one.id)
    )


def _listed(archive: Archive, sheet: MeasuringSheet) -> SheetListedContent:
    try:
        found = sheet_result(archive, sheet)
    except WaywrightError as problem:
        unread = Reason("jobs.not_answered", {"why": str(problem)})
        return SheetListedContent(sheet.title, sheet.burden, note=sheet.note, unread=unread)
    tests = tuple(_test(row) for row in found.rows)
    return SheetListedContent(sheet.title, sheet.burden, tests, found.counts, sheet.note)


def _test(row: RowResult) -> SheetTestContent:
    shown = row_content(row)
    return SheetTestContent(
        row.number, row.what, row.tolerance, shown.measured, shown.expanded, shown.unit, row.verdict, shown.mark,
        tuple(_printed(reason) for reason in row.why),
    )  # fmt: skip


def _printed(reason: Reason) -> Reason:
    """A reason whose unit is the printed one."""
    unit = reason.facts.get("unit")
    return reason if unit is None else Reason(reason.key, {**reason.facts, "unit": SHOWN_UNITS.get(str(unit), unit)})
