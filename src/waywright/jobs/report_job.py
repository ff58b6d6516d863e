"""What the report says of a whole visit: job, plan, lines, evidence, rounds, notes, chains of hashes, signatures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from uuid import UUID

from waywright.archive import Archive
from waywright.archive.chains import heads_of, root_of
from waywright.jobs.evidence_listed import evidence_of_lines
from waywright.jobs.judged_at_visit import further_of_visit
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.plans import plan_of
from waywright.jobs.report_line import line_content
from waywright.jobs.report_order import ReportData
from waywright.jobs.sheets_of_visit import sheets_of_visit
from waywright.jobs.spot_content import spot_content
from waywright.report import (
    ChangeContent,
    FurtherContent,
    IssueContent,
    LineContent,
    PartyContent,
    ReportContent,
    SealContent,
)
from waywright.visit import Adjustment, Person, ReportNote, Visit
from waywright.wording import speaking

_NOT_A_CHANGE = ("signature", "report", "result", "tally", "person", "belief")
"""Kinds that are made by reporting itself, or speak of no fact of the report."""


def report_content(archive: Archive, lines: Sequence[MeasuredLine], data: ReportData) -> ReportContent:
    """What the report of some lines of one visit says. Raises BadInput where there is nothing to report."""
    with speaking(data.order.language.partition("+")[0]):
        return _content(archive, lines, data)


def _content(archive: Archive, lines: Sequence[MeasuredLine], data: ReportData) -> ReportContent:
    visit, order = lines[0].visit, data.order
    people = {person.id: person for person in archive.people()}
    names = {identity: person.name for identity, person in people.items() if person.name}
    plan = plan_of(archive, visit.id)
    further = further_of_visit(archive, visit.id)
    contents = tuple(line_content(archive, each, order, plan, _further(further, each, lines), names) for each in lines)
    heads = heads_of(data.visit)
    notes = archive.every(ReportNote, visit.id)
    return ReportContent(
        made_utc=data.made_utc,
        machine=lines[0].machine,
        lines=contents,
        software_version=data.software,
        algorithm_version=data.algorithm,
        technician=names.get(visit.technician_id) if visit.technician_id else None,
        purpose=visit.purpose,
        parties=_parties(visit, people),
        began_utc=visit.began_utc,
        plan=plan,
        evidence=evidence_of_lines(archive, *(each.line for each in lines)),
        rounds=_rounds(archive, visit.id, contents),
        notes=tuple(note for note in notes if note.kind not in ("next-check", "number")),
        next_check=next((note.due for note in reversed(notes) if note.kind == "next-check"), None),
        on_the_spot=spot_content(archive, visit.id),
        sheets=sheets_of_visit(archive, visit.id),
        seals=tuple(SealContent(head.kind, head.name, head.links, head.head) for head in heads),
        root=root_of(heads),
        issue=_issue(data, names),
        signatures=data.signatures,
        names=names | {UUID(identity): name for identity, name in data.signers.items()},
        language=order.language,
        paper=order.paper,
    )


def _further(
    found: Mapping[UUID | None, tuple[FurtherContent, ...]], each: MeasuredLine, lines: Sequence[MeasuredLine]
) -> tuple[FurtherContent, ...]:
    """What was asked about this line; what was asked about the visit stands with the last line."""
    own = found.get(each.line.id, ())
    return (*own, *found.get(None, ())) if each is lines[-1] else own


def is_change(kind: str) -> bool:
    """Whether a record of a kind, made after a revision was signed, makes another revision of the report."""
    return kind not in _NOT_A_CHANGE


def _parties(visit: Visit, people: dict[UUID, Person]) -> tuple[PartyContent, ...]:
    """Everybody who takes part beside the technician, once."""
    found = [people[each] for each in dict.fromkeys(visit.people) if each in people and each != visit.technician_id]
    return tuple(PartyContent(person.name, person.role) for person in found if person.name)


def _rounds(archive: Archive, visit: UUID, lines: Sequence[LineContent]) -> tuple[Adjustment, ...]:
    """The rounds of the visit in order, where the report shows a line as left or a line that a round began with."""
    shown = {each.line.id for each in lines}
    left = any(each.line.state == "as-left" for each in lines)
    found = [each for each in archive.every(Adjustment, visit) if left or each.before_line_id in shown]
    return tuple(sorted(found, key=lambda each: (each.number, each.id)))


def _issue(data: ReportData, names: dict[UUID, str]) -> IssueContent:
    changes = () if data.since is None else _changes(data, data.since, names)
    return IssueContent(data.number, data.revision, data.since_revision, changes, not data.signatures)


def _changes(data: ReportData, since: datetime, names: dict[UUID, str]) -> tuple[ChangeContent, ...]:
    """Every revision recorded after a moment."""
    return tuple(
        ChangeContent(row.kind, row.recorded_utc, row.reason, names.get(row.recorded_by) if row.recorded_by else None)
        for row in data.visit.records
        if row.recorded_utc > since and is_change(row.kind)
    )
