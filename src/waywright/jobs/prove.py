"""Prove: the report of the lines of a visit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from waywright import __version__
from waywright.archive import Archive, open_archive
from waywright.archive.chains import heads_of, root_of
from waywright.archive.part import VisitPart, part_of
from waywright.errors import BadInput
from waywright.files.table_writer import write_text
from waywright.jobs.algorithm import ALGORITHM_VERSION
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.measured import MeasuredLine, find_line, measured_line, results_of_line
from waywright.jobs.plans import plan_of
from waywright.jobs.remember import archive_path
from waywright.jobs.report_issued import record_issued
from waywright.jobs.report_job import is_change, report_content
from waywright.jobs.report_judged import read_order
from waywright.jobs.report_order import FORMAT, ReportData, ReportOrder, content_sha256, data_text
from waywright.jobs.report_turned import judges_rotations
from waywright.report import ReportContent, ReportPaths, write_report
from waywright.report.qif import qif_text
from waywright.visit import Line, OnTheSpot, Person, ReportNote, SignedReport, Visit

BESIDE_THE_REPORT = ("signature", "report")
"""Kinds of records that come after what they are about: they are not part of what a report is computed from."""


@dataclass(frozen=True, slots=True)
class WrittenReport:
    """Where a report lies and what it says."""

    files: tuple[Path, ...]
    results: tuple[StraightnessResult, ...]
    number: str | None = None
    revision: int = 1


def report_of_line(
    line: str | None,
    folder: Path,
    reference: str = "least-squares",
    window_mm: float | None = None,
    path: Path | None = None,
) -> WrittenReport:
    """Write the report of a line, by default the newest. Raises BadInput where there is nothing to report."""
    order = ReportOrder(reference=reference, window_mm=window_mm)
    return written_report([] if line is None else [line], folder, order, path)


def written_report(
    lines: Sequence[str],
    folder: Path,
    order: ReportOrder | None = None,
    path: Path | None = None,
    *,
    keep: bool = False,
) -> WrittenReport:
    """Write the report of some lines of one visit, by default of the newest line; "all" is every line of its visit,
    but for those that were only measured again before witnesses. ``keep`` keeps the PDF in the archive too.

    Raises BadInput where there is nothing to report, where the lines are of several visits, and for a rule or a budget
    that cannot be used.
    """
    order = order or ReportOrder()
    with open_archive(archive_path(path)) as archive:
        chosen = lines_of_report(archive, lines)
        measured = [each for each in (measured_line(archive, line) for line in chosen) if each.passes]
        if not measured:
            raise BadInput("jobs.no_readings", line=chosen[0].name)
        data = report_data(archive, measured, order)
        content = report_content(archive, measured, data)
        results = tuple(found for each in measured for found in results_of_line(each, order.reference, order.window_mm))
    paths: ReportPaths = write_report(content, folder, data=data_text(data))
    with open_archive(archive_path(path)) as archive:
        record_issued(archive, data, paths.pdf, keep=keep)
    return WrittenReport(paths.files, results, data.number, data.revision)


def written_qif(lines: Sequence[str], file: Path, order: ReportOrder | None = None, path: Path | None = None) -> Path:
    """Write the results of some lines as QIF 3.0. Raises BadInput as :func:`written_report` does."""
    with open_archive(archive_path(path)) as archive:
        chosen = lines_of_report(archive, lines)
        measured = [each for each in (measured_line(archive, line) for line in chosen) if each.passes]
        if not measured:
            raise BadInput("jobs.no_readings", line=chosen[0].name)
        content, _ = report_of(archive, measured, order or ReportOrder())
    write_text(file, qif_text(content))
    return file


def report_of(
    archive: Archive, measured: Sequence[MeasuredLine], order: ReportOrder
) -> tuple[ReportContent, ReportData]:
    """What a report says, and the data that lies inside it."""
    data = report_data(archive, measured, order)
    return report_content(archive, measured, data), data


def lines_of_report(archive: Archive, wanted: Sequence[str]) -> list[Line]:
    """The lines of a report by name or id, in the order measured. Raises BadInput where they are of several visits."""
    if not wanted:
        return [find_line(archive, None)]
    if list(wanted) == ["all"]:
        newest = find_line(archive, None)
        apart = {each.figures.get("again_line") for each in archive.every(OnTheSpot, newest.visit_id)}
        lines = archive.lines(newest.visit_id)
        return [each for each in lines if archive.passes(each.id) and str(each.id) not in apart]
    found = {line.id: line for line in (find_line(archive, each) for each in wanted)}
    visits = {line.visit_id for line in found.values()}
    if len(visits) > 1:
        raise BadInput("report_job.several_visits", lines=", ".join(line.name for line in found.values()))
    return sorted(found.values(), key=lambda line: line.id)


def report_data(archive: Archive, measured: Sequence[MeasuredLine], order: ReportOrder) -> ReportData:
    """Everything that the report of some lines is computed from, with its number and revision."""
    visit = measured[0].visit
    part = part_of(archive, visit.id, BESIDE_THE_REPORT)
    signed = sorted(archive.every(SignedReport, visit.id), key=lambda each: (each.revision, each.signed_utc))
    last = signed[-1] if signed else None
    changed = last is not None and any(
        row.recorded_utc > last.signed_utc and is_change(row.kind) for row in part.records
    )
    revision = 1 if last is None else last.revision + (1 if changed else 0)
    data = ReportData(
        format=FORMAT,
        software=__version__,
        algorithm=ALGORITHM_VERSION,
        made_utc=_made_utc(part, measured),
        order=read_order(order, measured, rotations=judges_rotations(measured, plan_of(archive, visit.id))),
        lines=tuple(each.line.id for each in measured),
        visit=part,
        number=number_of(archive, visit),
        revision=revision,
        since=last.signed_utc if last is not None and changed else None,
        since_revision=last.revision if last is not None and changed else None,
        root=root_of(heads_of(part)),
    )
    return _with_signatures(archive, data, [each for each in signed if each.revision == revision])


def _with_signatures(archive: Archive, data: ReportData, signed: Sequence[SignedReport]) -> ReportData:
    """Only those that signed just this: another reference line or rule is another report."""
    now = content_sha256(data)
    own = tuple(each for each in signed if each.content_sha256 == now)
    names = {str(each.person_id): archive.load(Person, each.person_id).name for each in own}
    return replace(data, signatures=own, signers=names)


def number_of(archive: Archive, visit: Visit) -> str:
    """The number of a visit's report: the one a person gave it, otherwise its day and the end of the visit's id."""
    given = [note.text for note in archive.every(ReportNote, visit.id) if note.kind == "number"]
    return given[-1] if given else f"{visit.began_utc:%Y-%m-%d}-{visit.id.hex[-6:]}"


def _made_utc(part: VisitPart, measured: Sequence[MeasuredLine]) -> datetime:
    """When the last thing was recorded or measured (clocks of practice run ahead of records)."""
    ends = [single.taken.ended_utc for each in measured for single in each.passes if single.taken.ended_utc is not None]
    return max([row.recorded_utc for row in part.records] + ends)


__all__ = [
    "ALGORITHM_VERSION",
    "ReportOrder",
    "WrittenReport",
    "content_sha256",
    "lines_of_report",
    "number_of",
    "report_content",
    "report_data",
    "report_of",
    "report_of_line",
    "written_qif",
    "written_report",
]
