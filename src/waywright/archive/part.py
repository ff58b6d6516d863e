"""A visit taken out of an archive as it is stored, row by row, and a small archive made of such rows in memory.

This is what lies inside a report: everything it was computed from, with every revision. Samples of windows and the
streams of passes stay in the archive; the sealed bytes of a reading hold a digest of its samples.
"""

from __future__ import annotations

import base64
import binascii
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, Engine, StaticPool, Table, create_engine, insert, select

from waywright.archive.browsing import Browsing
from waywright.archive.store import Archive
from waywright.archive.tables import METADATA, PASS_EVENT, READING, RECORD, SUBJECT, AnyRow
from waywright.clocks import SystemClock
from waywright.errors import ArchiveError
from waywright.readings import read_canonical

_WITH_PEOPLE = ("person",)


@dataclass(frozen=True, slots=True)
class RecordRow:
    """A revision as stored; ``computer`` is the mark of the computer that wrote it (None: written before marks)."""

    id: UUID
    subject: UUID
    kind: str
    recorded_utc: datetime
    parent: UUID | None = None
    replaces: UUID | None = None
    recorded_by: UUID | None = None
    reason: str | None = None
    body: str | None = None
    computer: str | None = None


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """The sealed bytes of a reading (base64) and their SHA-256 (hexadecimal)."""

    body: str
    hash: str


@dataclass(frozen=True, slots=True)
class EventRow:
    """Something that happened during a pass, as stored."""

    id: UUID
    made_utc: datetime
    body: str


@dataclass(frozen=True, slots=True)
class PassPart:
    """A pass with its readings in the order taken."""

    id: UUID
    readings: tuple[ReadingRow, ...] = ()
    events: tuple[EventRow, ...] = ()


@dataclass(frozen=True, slots=True)
class VisitPart:
    """All about one visit: every revision of everything that belongs to it, its machine and its people."""

    visit: UUID
    records: tuple[RecordRow, ...]
    passes: tuple[PassPart, ...]


def part_of(archive: Browsing, visit: UUID, without: Sequence[str] = ()) -> VisitPart:
    """Take a visit out of an archive, but for some kinds. Raises ArchiveError for a visit that is not there."""
    with archive._reading() as connection:
        return visit_part(connection, visit, without)


def archive_of(part: VisitPart, place: str) -> Archive:
    """An archive in memory that holds a part and nothing else; for reading only.

    ``place`` names it in errors. Raises ArchiveError for rows that cannot be what an archive holds.
    """
    engine = create_engine("sqlite://", poolclass=StaticPool, connect_args={"check_same_thread": False})
    rows_into(engine, part)
    return Archive(engine, place, SystemClock(), writable=False)


def visit_part(connection: Connection, visit: UUID, without: Sequence[str] = ()) -> VisitPart:
    """Take a visit out, but for some kinds of records and what belongs to them.

    Raises ArchiveError for a visit that is not there.
    """
    subjects = _belonging(connection, visit)
    rows = _records(connection, subjects)
    left_out = {row.subject for row in rows if row.kind in without}
    records = [row for row in rows if row.subject not in left_out and row.parent not in left_out]
    if not records:
        raise ArchiveError("archive.unknown", kind="visit", id=visit)
    passes = sorted({row.subject for row in records if row.kind == "pass"})
    people = _people(connection, records)
    ordered = sorted([*records, *people], key=lambda row: row.id)
    return VisitPart(visit, tuple(ordered), tuple(_pass_part(connection, each) for each in passes))


def rows_into(engine: Engine, part: VisitPart) -> None:
    """Put the rows of a part into an empty database. Raises ArchiveError for rows that cannot be."""
    kinds = {row.subject: row.kind for row in part.records}
    with engine.begin() as connection:
        METADATA.create_all(connection)
        _put(connection, SUBJECT, [{"id": subject, "kind": kind} for subject, kind in sorted(kinds.items())])
        _put(connection, RECORD, [_record_values(row) for row in part.records])
        for each in part.passes:
            _put(
                connection, READING, [_reading_values(each.id, number, row) for number, row in enumerate(each.readings)]
            )
            events = [{"id": e.id, "pass_id": each.id, "made_utc": e.made_utc, "body": e.body} for e in each.events]
            _put(connection, PASS_EVENT, events)


def sealed_bytes(row: ReadingRow) -> bytes:
    """The canonical bytes of a row. Raises ArchiveError where they are none."""
    try:
        return base64.b64decode(row.body, validate=True)
    except (binascii.Error, ValueError) as problem:
        raise ArchiveError("archive.check_unreadable", pass_id="-", number=0) from problem


def _belonging(connection: Connection, visit: UUID) -> set[UUID]:
    """The visit, its machine, and whatever belongs to the visit, step by step; exclusions belong to readings."""
    found, fresh = {visit}, {visit}
    while fresh:
        children = select(RECORD.c.subject).where(RECORD.c.parent.in_(fresh)).distinct()
        of_passes = select(READING.c.id).where(READING.c.pass_id.in_(fresh))
        of_readings = select(RECORD.c.subject).where(RECORD.c.parent.in_(of_passes)).distinct()
        rows = [*connection.execute(children).scalars(), *connection.execute(of_readings).scalars()]
        fresh = set(rows) - found
        found |= fresh
    machine = connection.execute(select(RECORD.c.parent).where(RECORD.c.subject == visit).limit(1)).scalar_one_or_none()
    return found if machine is None else found | {machine}


def _records(connection: Connection, subjects: set[UUID]) -> list[RecordRow]:
    wanted = select(RECORD, SUBJECT.c.kind).join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
    rows = connection.execute(wanted.where(RECORD.c.subject.in_(subjects)).order_by(RECORD.c.id))
    return [_record(row) for row in rows]


def _people(connection: Connection, records: list[RecordRow]) -> list[RecordRow]:
    """The newest word about everybody that a record speaks of; what they were called before stays at home."""
    wanted = select(RECORD, SUBJECT.c.kind).join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
    rows = connection.execute(wanted.where(SUBJECT.c.kind.in_(_WITH_PEOPLE)).order_by(RECORD.c.id))
    newest = {row.subject: row for row in map(_record, rows)}
    said = "".join(row.body or "" for row in records)
    by = {row.recorded_by for row in records}
    kept = [row for row in newest.values() if row.subject in by or str(row.subject) in said]
    return [_alone(row) for row in kept]


def _alone(row: RecordRow) -> RecordRow:
    """A revision without the one it was written over, which is not taken along."""
    return replace(row, replaces=None)


def _record(row: AnyRow) -> RecordRow:
    return RecordRow(
        row.id, row.subject, row.kind, row.recorded_utc, row.parent, row.replaces, row.recorded_by, row.reason,
        row.body, getattr(row, "computer", None),
    )  # fmt: skip


def _pass_part(connection: Connection, pass_id: UUID) -> PassPart:
    rows = connection.execute(
        select(READING.c.body, READING.c.hash).where(READING.c.pass_id == pass_id).order_by(READING.c.number)
    )
    readings = tuple(ReadingRow(base64.b64encode(row.body).decode(), bytes(row.hash).hex()) for row in rows)
    events = connection.execute(
        select(PASS_EVENT).where(PASS_EVENT.c.pass_id == pass_id).order_by(PASS_EVENT.c.made_utc, PASS_EVENT.c.id)
    )
    return PassPart(pass_id, readings, tuple(EventRow(row.id, row.made_utc, row.body) for row in events))


def _record_values(row: RecordRow) -> dict[str, Any]:
    values: dict[str, Any] = {
        "id": row.id, "subject": row.subject, "parent": row.parent, "replaces": row.replaces, "body": row.body,
        "recorded_utc": row.recorded_utc, "recorded_by": row.recorded_by, "reason": row.reason,
    }  # fmt: skip
    return values | ({"computer": row.computer} if "computer" in RECORD.c else {})


def _reading_values(pass_id: UUID, number: int, row: ReadingRow) -> dict[str, Any]:
    body = sealed_bytes(row)
    try:
        reading = read_canonical(body)
    except (ValueError, TypeError) as problem:
        raise ArchiveError("archive.check_unreadable", pass_id=pass_id, number=number) from problem
    values = {
        "id": reading.id, "pass_id": pass_id, "number": number, "position_mm": reading.position_mm,
        "began_utc": reading.began_utc, "previous_hash": reading.previous_hash, "hash": reading.hash, "body": body,
        "window": None,
    }  # fmt: skip
    return values | ({"supersedes": reading.supersedes} if "supersedes" in READING.c else {})


def _put(connection: Connection, table: Table, rows: list[dict[str, Any]]) -> None:
    if rows:
        connection.execute(insert(table), rows)
