"""Taking a person's name out on request: an event says so, and the name leaves every revision, here and in copies.

Seals do not cover names (records refer to people by id), so no hash breaks.
"""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

from sqlalchemy import Connection, select, update

from waywright.archive.dialect import overwrite_freed
from waywright.archive.kinds import decode, encode, kind_of
from waywright.archive.revisions import Entry, add_record
from waywright.archive.tables import RECORD, SUBJECT
from waywright.errors import ArchiveError
from waywright.visit import Person


def blank(connection: Connection, person: UUID, entry: Entry) -> UUID:
    """Add the event, take the name out of all revisions of the person, and return the id of the event."""
    kind = kind_of(Person)
    rows = connection.execute(
        select(RECORD.c.body)
        .join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
        .where(RECORD.c.subject == person, SUBJECT.c.kind == kind.name, RECORD.c.body.is_not(None))
        .order_by(RECORD.c.id)
    ).all()
    if not rows:
        raise ArchiveError("archive.unknown", kind=kind.name, id=person)
    last = decode(kind, person, rows[-1].body)
    event = add_record(connection, kind, replace(last, name="", blanked=True), entry)
    clear_names(connection, person)
    return event


def blanked_people(connection: Connection) -> tuple[UUID, ...]:
    """Everybody whose name was taken out by an event."""
    return tuple(sorted({person.id for person in _every_revision(connection) if person.blanked}))


def still_named(connection: Connection) -> tuple[UUID, ...]:
    """Everybody whose name was taken out, and is still there in another revision."""
    people = _every_revision(connection)
    named = {person.id for person in people if person.name}
    return tuple(sorted({person.id for person in people if person.blanked} & named))


def _every_revision(connection: Connection) -> list[Person]:
    kind = kind_of(Person)
    rows = connection.execute(
        select(RECORD.c.subject, RECORD.c.body)
        .join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
        .where(SUBJECT.c.kind == kind.name, RECORD.c.body.is_not(None))
    )
    return [decode(kind, row.subject, row.body) for row in rows]


def nameless(person: UUID, body: str) -> str:
    """The body of a revision of a person without the name."""
    return encode(replace(decode(kind_of(Person), person, body), name=""))


def clear_names(connection: Connection, person: UUID) -> None:
    """Take the name out of all revisions of a person that a revision says is blanked."""
    overwrite_freed(connection)
    wanted = select(RECORD.c.id, RECORD.c.body).where(RECORD.c.subject == person, RECORD.c.body.is_not(None))
    for row in connection.execute(wanted).all():
        cleared = nameless(person, row.body)
        if cleared != row.body:
            connection.execute(update(RECORD).where(RECORD.c.id == row.id).values(body=cleared))
