"""Revisions of descriptive records: added, never changed; the newest of a subject is what holds.

Ids of revisions grow within an archive, also when the computer's clock was set back, so that "newest" is the largest id
here and in every copy. ``replaces`` shows two revisions that were written over the same one.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, Select, insert, select

from waywright.archive.computer import computer_mark
from waywright.archive.kinds import Kind, decode, encode, kind_named
from waywright.archive.tables import RECORD, SUBJECT, AnyRow
from waywright.clocks import from_utc_microseconds, new_id
from waywright.errors import ArchiveError


@dataclass(frozen=True, slots=True)
class Revision:
    """What was recorded about a subject, when, by whom and why; ``record`` is None where it was withdrawn."""

    id: UUID
    subject: UUID
    kind: str
    record: Any
    recorded_utc: datetime
    recorded_by: UUID | None = None
    reason: str | None = None
    replaces: UUID | None = None
    computer: str | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """When, by whom and why something is recorded."""

    moment: datetime
    by: UUID | None = None
    reason: str | None = None


def add_record(connection: Connection, kind: Kind, record: Any, entry: Entry) -> UUID:
    """Add a revision and return its id; one that says nothing new and gives no reason is not added again."""
    body = encode(record)
    newest = _newest_of(connection, record.id)
    if newest is not None and newest.body == body and entry.reason is None:
        found: UUID = newest.id
        return found
    _know(connection, kind.name, record.id)
    return _add(connection, record.id, kind.parent_of(record), body, newest, entry)


def refuse_unless_newest(connection: Connection, subject: UUID, seen: UUID) -> None:
    """Raise ArchiveError where the revision that somebody has seen does not hold any more."""
    newest = _newest_of(connection, subject)
    if newest is None or newest.id != seen:
        raise ArchiveError("archive.written_meanwhile", id=subject)


def withdraw(connection: Connection, subject: UUID, entry: Entry) -> UUID:
    """Add a revision that says: does not hold any more."""
    newest = _newest_of(connection, subject)
    if newest is None:
        raise ArchiveError("archive.unknown", kind="record", id=subject)
    return _add(connection, subject, newest.parent, None, newest, entry)


def _add(
    connection: Connection, subject: UUID, parent: UUID | None, body: str | None, newest: AnyRow | None, entry: Entry
) -> UUID:
    return add_over(connection, subject, parent, body, newest.id if newest else None, entry)


def add_over(
    connection: Connection, subject: UUID, parent: UUID | None, body: str | None, replaced: UUID | None, entry: Entry
) -> UUID:
    """Add a revision over another one and return its id."""
    revision = _next_id(connection, entry.moment)
    connection.execute(
        insert(RECORD).values(
            id=revision,
            subject=subject,
            parent=parent,
            replaces=replaced,
            recorded_utc=entry.moment,
            recorded_by=entry.by,
            reason=entry.reason,
            body=body,
            computer=computer_mark(),
        )
    )
    return revision


def _know(connection: Connection, kind: str, subject: UUID) -> None:
    known = connection.execute(select(SUBJECT.c.kind).where(SUBJECT.c.id == subject)).scalar_one_or_none()
    if known is None:
        connection.execute(insert(SUBJECT).values(id=subject, kind=kind))
    elif known != kind:
        raise ArchiveError("archive.other_kind", id=subject, known=known, kind=kind)


def _newest_of(connection: Connection, subject: UUID) -> AnyRow | None:
    wanted = select(RECORD).where(RECORD.c.subject == subject).order_by(RECORD.c.id.desc()).limit(1)
    return connection.execute(wanted).one_or_none()


def _next_id(connection: Connection, moment: datetime) -> UUID:
    revision = new_id(moment)
    last = connection.execute(select(RECORD.c.id).order_by(RECORD.c.id.desc()).limit(1)).scalar_one_or_none()
    if last is not None and revision <= last:
        # The clock was set back since: the id follows the last one, the recorded moment stays what the clock says.
        revision = new_id(from_utc_microseconds((last.int >> 80) * 1000) + timedelta(milliseconds=1))
    return revision


def _holding(kind: Kind) -> Select[Any]:
    """The newest revision of every subject of a kind, withdrawn ones left out."""
    later = RECORD.alias("later")
    superseded = select(later.c.id).where(later.c.subject == RECORD.c.subject, later.c.id > RECORD.c.id).exists()
    return (
        select(RECORD)
        .join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
        .where(SUBJECT.c.kind == kind.name, RECORD.c.body.is_not(None), ~superseded)
    )


def all_holding(connection: Connection, kind: Kind, parent: UUID | None = None) -> tuple[Any, ...]:
    """Records of a kind that hold, of one parent or all, in the order their last word was recorded."""
    wanted = _holding(kind).order_by(RECORD.c.id)
    if parent is not None:
        wanted = wanted.where(RECORD.c.parent == parent)
    return tuple(decode(kind, row.subject, row.body) for row in connection.execute(wanted))


def holding_under(connection: Connection, kind: Kind, parents: Select[Any]) -> tuple[Any, ...]:
    """Records of a kind that hold and belong to any of the selected parents."""
    wanted = _holding(kind).where(RECORD.c.parent.in_(parents)).order_by(RECORD.c.id)
    return tuple(decode(kind, row.subject, row.body) for row in connection.execute(wanted))


def revisions_of(connection: Connection, subject: UUID) -> tuple[Revision, ...]:
    """Every revision of a subject, oldest first."""
    wanted = (
        select(RECORD, SUBJECT.c.kind)
        .join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
        .where(RECORD.c.subject == subject)
        .order_by(RECORD.c.id)
    )
    return tuple(as_revision(row) for row in connection.execute(wanted))


def as_revision(row: AnyRow) -> Revision:
    """A row of ``record`` with the kind of its subject."""
    record = None if row.body is None else decode(kind_named(row.kind), row.subject, row.body)
    said = (row.recorded_utc, row.recorded_by, row.reason, row.replaces, row.computer)
    return Revision(row.id, row.subject, row.kind, record, *said)
