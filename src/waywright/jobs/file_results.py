"""Results for a visit file: computed when it is written, with value, unit, U, k and probability."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from waywright.archive import Archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.files.visit_file import FileResult, Quantity, VisitFile
from waywright.jobs.computed import Rules, computed
from waywright.jobs.measured import measured_line
from waywright.jobs.plans import plan_of
from waywright.visit import KeptResult, Line


def results_in(part: Archive, file: VisitFile, progress: Callable[[str, int, int], None]) -> VisitFile:
    """The file with the results of all its lines; a line that cannot be evaluated has none."""
    results: list[FileResult] = []
    lines = [line for visit in part.visits() for line in part.lines(visit.id)]
    for done, line in enumerate(lines, start=1):
        results += _of_line(part, line)
        progress("lines", done, len(lines))
    return replace(file, results=tuple(results))


def _of_line(part: Archive, line: Line) -> list[FileResult]:
    try:
        measured = measured_line(part, line)
        found = computed(measured, plan_of(part, line.visit_id), Rules(), SystemClock().utc())
    except BadInput:
        return []
    return [_told(line, each) for each in found]


def _told(line: Line, kept: KeptResult) -> FileResult:
    stated = Quantity(kept.value, kept.unit, kept.expanded_uncertainty, kept.coverage_factor, kept.probability)
    limit = None if kept.limit is None else Quantity(kept.limit, kept.unit)
    return FileResult(
        line_id=line.id,
        line=line.name,
        quantity=kept.quantity,
        reference=kept.reference,
        result=stated,
        limit=limit,
        verdict=kept.verdict,
        information_only=kept.information_only,
        algorithm=kept.algorithm,
    )
