"""Signing a report: who signed which revision, drawn on the screen or in ink; and notes that a report prints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import msgspec

from waywright.archive import Archive, open_archive
from waywright.clocks import Clock, SystemClock, new_id
from waywright.errors import BadInput
from waywright.jobs.measured import MeasuredLine, find_line, measured_line
from waywright.jobs.people import person_named
from waywright.jobs.prove import WrittenReport, lines_of_report, report_data, report_of, written_report
from waywright.jobs.remember import archive_path
from waywright.jobs.report_order import ReportOrder, content_sha256
from waywright.report.content import NOTES
from waywright.visit import ReportNote, SignedReport
from waywright.visit.issue import Stroke

ROLES = ("technician", "customer")
KINDS = (*NOTES, "next-check", "number")
MOST_POINTS = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Signing:
    """Who signs in which role; ``strokes`` as drawn (see SignedReport), none where it will be signed in ink."""

    by: str
    role: str
    strokes: tuple[Stroke, ...] = ()


def sign(
    archive: Archive, measured: Sequence[MeasuredLine], order: ReportOrder, signing: Signing, clock: Clock | None = None
) -> SignedReport:
    """Keep a signature under the report as it is now. Raises BadInput for another role, no name, or bad strokes."""
    if signing.role not in ROLES:
        raise BadInput("report_sign.unknown_role", role=signing.role, known=", ".join(ROLES))
    if not signing.by.strip():
        raise BadInput("report_sign.no_name")
    _check_strokes(signing.strokes)
    data = report_data(archive, measured, order)
    now = max((clock or SystemClock()).utc(), data.made_utc)
    person = person_named(archive, signing.by.strip()).id
    made = SignedReport(
        id=new_id(now),
        visit_id=measured[0].visit.id,
        number=data.number or "-",
        revision=data.revision,
        person_id=person,
        role=signing.role,
        signed_utc=now,
        root=data.root or "",
        content_sha256=content_sha256(data),
        strokes=signing.strokes,
    )
    archive.save(made, by=person)
    return made


def signed_report(
    lines: Sequence[str], folder: Path, order: ReportOrder, signing: Signing, path: Path | None = None
) -> WrittenReport:
    """Sign the report of some lines and write it with the signature."""
    with open_archive(archive_path(path)) as archive:
        found = [measured_line(archive, line) for line in lines_of_report(archive, lines)]
        measured = [each for each in found if each.passes]
        report_of(archive, measured, order)  # nobody signs what cannot be printed
        sign(archive, measured, order, signing)
    return written_report(lines, folder, order, path)


def read_strokes(path: Path) -> tuple[Stroke, ...]:
    """Strokes of a JSON file. Raises BadInput where it holds none."""
    try:
        data = path.read_bytes()[: 40 * MOST_POINTS]
        return msgspec.json.decode(data, type=tuple[tuple[tuple[float, float], ...], ...])
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_read", file=str(path), reason=reason) from problem
    except (msgspec.MsgspecError, RecursionError) as problem:
        raise BadInput("report_sign.strokes_unreadable", file=path.name, detail=str(problem)) from problem


def add_note(
    kind: str,
    words: str,
    *,
    line: str | None = None,
    due: str | None = None,
    by: str | None = None,
    path: Path | None = None,
    clock: Clock | None = None,
) -> ReportNote:
    """Add a note to the report of a line's visit (by default of the newest); with ``line`` it concerns that line only.

    Raises BadInput for an unknown kind, no words, or a due date that is none.
    """
    if kind not in KINDS:
        raise BadInput("report_sign.unknown_note", kind=kind, known=", ".join(KINDS))
    if not words.strip() and kind != "next-check":
        raise BadInput("report_sign.no_words", kind=kind)
    if kind == "next-check":
        _check_day(due or words)
    with open_archive(archive_path(path)) as archive:
        found = find_line(archive, line)
        now = (clock or SystemClock()).utc()
        person = None if by is None else person_named(archive, by).id
        own = found.id if line is not None and kind not in ("next-check", "number") else None
        day = (due or words) if kind == "next-check" else due
        note = ReportNote(new_id(now), found.visit_id, kind, words.strip(), now, person, day, own)
        archive.save(note, by=person)
        return note


def _check_day(day: str) -> None:
    from datetime import date

    try:
        date.fromisoformat(day)
    except ValueError as problem:
        raise BadInput("report_sign.no_day", day=day) from problem


def _check_strokes(strokes: Sequence[Stroke]) -> None:
    """In their box, and no more points than a hand can draw."""
    if sum(len(stroke) for stroke in strokes) > MOST_POINTS:
        raise BadInput("report_sign.too_many_points", limit=MOST_POINTS)
    if any(not (0.0 <= x <= 1.0 and 0.0 <= y <= 0.3) for stroke in strokes for x, y in stroke):
        raise BadInput("report_sign.outside_the_box")
