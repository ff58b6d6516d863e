"""Results asked for at a visit beside those of its lines: kept as question and tables, computed anew."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from waywright.archive import Archive, open_archive
from waywright.clocks import Clock, SystemClock, new_id
from waywright.errors import BadInput, WaywrightError
from waywright.evaluate.results import Reason
from waywright.files.table_text import LARGEST_BYTES
from waywright.jobs.asked import LINE, Answer, Asked, answer_to, named, place
from waywright.jobs.content_of_result import contents_of
from waywright.jobs.measured import find_line
from waywright.jobs.plans import plan_of
from waywright.jobs.remember import archive_path
from waywright.jobs.report_stated import Agreed, kept_trust, with_trust
from waywright.jobs.ties import Tie
from waywright.jobs.told import sentence
from waywright.jobs.uncertain import StatedOrder
from waywright.report import FurtherContent
from waywright.visit import Judged, KeptTable, Line

TABLE, KEPT_LINE, TIE = "table", "line", "tie"


def keep_question(
    asked: Asked,
    archive: Path | None = None,
    line: str | None = None,
    remark: str | None = None,
    clock: Clock | None = None,
    stated: StatedOrder | None = None,
) -> Judged:
    """Keep a question with its tables for the reports of a visit.

    ``line`` is the line whose report shows the result; without it, it belongs to the visit of the kept line that was
    asked about, otherwise to the newest visit. With ``stated`` the reports state the result with its
    uncertainty, and judge it. Raises BadInput where there is no visit.
    """
    with open_archive(archive_path(archive)) as opened:
        lines = [str(path).removeprefix(LINE) for path in asked.files if str(path).startswith(LINE)]
        shown = find_line(opened, line) if line is not None else None
        home = shown.visit_id if shown is not None else _visit(opened, lines)
        tables: list[KeptTable] = []
        options = {name: _frozen(value, opened, tables) for name, value in asked.options.items() if value is not None}
        now = (clock or SystemClock()).utc()
        line_id = None if shown is None else shown.id
        kept = Judged(new_id(now), home, asked.kind, options, tuple(tables), now, line_id, remark, kept_trust(stated))
        opened.save(kept)
        return kept


def _visit(archive: Archive, lines: list[str]) -> UUID:
    """That of the first kept line asked about, otherwise the newest."""
    if lines:
        return find_line(archive, lines[0]).visit_id
    visits = archive.visits()
    if not visits:
        raise BadInput("jobs.no_visit", archive=str(archive.path))
    return visits[-1].id


def questions_of(archive: Archive, visit: UUID) -> tuple[Judged, ...]:
    """The questions that hold for a visit, in the order kept."""
    return tuple(sorted(archive.every(Judged, visit), key=lambda one: one.id))


def answer_again(archive: Archive, kept: Judged) -> Answer:
    """The results of a kept question, computed now. Raises BadInput where its tables do not answer it any more."""
    with tempfile.TemporaryDirectory() as folder:
        tables = [place(Path(folder), number, table.name) for number, table in enumerate(kept.tables)]
        for path, table in zip(tables, kept.tables, strict=True):
            path.write_text(table.text, encoding="utf-8")
        options = {name: _thawed(value, tables) for name, value in kept.asked.items()}
        with named({str(path): table.name for path, table in zip(tables, kept.tables, strict=True)}):
            return answer_to(Asked(kept.kind, options), archive)


def further_of_visit(archive: Archive, visit: UUID) -> dict[UUID | None, tuple[FurtherContent, ...]]:
    """Report entries of the kept questions of a visit, by the line they belong to (None: the visit as a whole).

    A question that cannot be answered any more has an entry that says why.
    """
    found: dict[UUID | None, tuple[FurtherContent, ...]] = {}
    for kept in questions_of(archive, visit):
        found[kept.line_id] = (*found.get(kept.line_id, ()), *_entries(archive, kept))
    return found


def _entries(archive: Archive, kept: Judged) -> tuple[FurtherContent, ...]:
    try:
        answer = answer_again(archive, kept)
    except WaywrightError as problem:
        said = Reason("jobs.not_answered", {"why": str(problem)})
        return (FurtherContent(kept.kind, (said,), remark=kept.remark),)
    both = list(zip(answer.results, answer.bases, strict=True))
    if kept.kind == "straightness":  # of every quantity the last: the mean of its passes
        both = list({result.code: (result, basis) for result, basis in both}.values())
    entries, results = contents_of(kept.kind, both, kept.remark), [result for result, _ in both]
    line = None if kept.line_id is None else archive.load(Line, kept.line_id)
    return with_trust(entries, results, kept.trust, Agreed(plan_of(archive, kept.visit_id), line))


@dataclass(frozen=True, slots=True)
class KeptEntry:
    """A kept question in a list: what it says today, its first sentence."""

    id: UUID
    kind: str
    line: str | None
    made_utc: datetime
    says: str
    remark: str | None


def kept_entries(archive: Path | None = None) -> tuple[KeptEntry, ...]:
    """Every kept question that holds, the newest first."""
    with open_archive(archive_path(archive)) as opened:
        found = sorted(opened.every(Judged), key=lambda one: one.id, reverse=True)
        return tuple(_entry(opened, one) for one in found)


def _entry(archive: Archive, kept: Judged) -> KeptEntry:
    line = None if kept.line_id is None else archive.load(Line, kept.line_id).name
    says = " ".join(sentence(said) for said in _entries(archive, kept)[0].said[:1])
    return KeptEntry(kept.id, kept.kind, line, kept.made_utc, says, kept.remark)


def take_back_question(archive: Path | None, wanted: str) -> Judged:
    """Let a kept question count no longer; its record stays. Raises BadInput where none or several have such an id."""
    with open_archive(archive_path(archive)) as opened:
        found = [one for one in opened.every(Judged) if str(one.id).endswith(wanted)]
        if len(found) != 1:
            raise BadInput("jobs.which_question", wanted=wanted, found=len(found))
        opened.withdraw(found[0].id)
        return found[0]


def _frozen(value: Any, archive: Archive, tables: list[KeptTable]) -> Any:
    """An option as JSON: tables by number, kept lines by id."""
    if isinstance(value, Path) and str(value).startswith(LINE):
        line: Line = find_line(archive, str(value).removeprefix(LINE))
        return {KEPT_LINE: str(line.id)}
    if isinstance(value, Path):
        tables.append(KeptTable(value.name, _text(value)))
        return {TABLE: len(tables) - 1}
    if isinstance(value, Tie):
        parts = {name: getattr(value, name) for name in asdict(value)}
        return {TIE: {name: _frozen(part, archive, tables) for name, part in parts.items() if part is not None}}
    return [_frozen(each, archive, tables) for each in value] if isinstance(value, tuple | list) else value


def _thawed(value: Any, tables: list[Path]) -> Any:
    if isinstance(value, list):
        return tuple(_thawed(each, tables) for each in value)
    if not isinstance(value, Mapping):
        return value
    ((kind, inside),) = value.items()
    if kind == TABLE:
        return tables[inside]
    if kind == KEPT_LINE:
        return Path(LINE + inside)
    return Tie(**{name: _thawed(part, tables) for name, part in inside.items()})


def _text(path: Path) -> str:
    """A table's text, without a byte order mark; it has been read as a table before."""
    data = path.read_bytes()
    if len(data) > LARGEST_BYTES:
        raise BadInput("files.table_too_large", file=path.name, limit_mb=LARGEST_BYTES / 1e6)
    return data.decode("utf-8-sig")
