"""What belongs to a visit or a machine: everything below it, and what that speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import Connection, select

from waywright.archive.kinds import kind_of
from waywright.archive.tables import READING, RECORD, SUBJECT
from waywright.visit import Attachment

_SPOKEN_OF = ("person", "site", "instrument")
_ID = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_AT_A_TIME = 500


@dataclass(frozen=True, slots=True)
class Selection:
    """A part of an archive: things, and the SHA-256 of attached files."""

    subjects: frozenset[UUID]
    contents: frozenset[bytes]


def belonging(connection: Connection, root: UUID) -> Selection:
    """A visit or machine with everything below it, the machine of a visit, and the people, sites and files named."""
    machine = connection.execute(select(RECORD.c.parent).where(RECORD.c.subject == root).limit(1)).scalar_one_or_none()
    found = _below(connection, {root}) | ({machine} if machine else set())
    if machine:
        found |= _below(connection, {machine}, kinds=("attachment", "belief"))
    bodies = _bodies(connection, found)
    spoken_of = _spoken_of(connection, bodies)
    papers = _below(connection, spoken_of, kinds=("attachment",)) - found  # certificates of instruments
    bodies += _bodies(connection, papers - spoken_of)
    found |= papers
    kind = kind_of(Attachment).name
    files = [body for _, name, body, _ in bodies if name == kind and body]
    digests = {bytes.fromhex(digest) for body in files for digest in re.findall(r'"sha256":"([0-9a-f]{64})"', body)}
    return Selection(frozenset(found), frozenset(digests))


def _below(connection: Connection, roots: set[UUID], kinds: tuple[str, ...] = ()) -> set[UUID]:
    """Children, their children and so on; exclusions are children of readings."""
    found, fresh = set(roots), set(roots)
    while fresh:
        children: set[UUID] = set()
        for some in _parts(fresh):
            of_passes = select(READING.c.id).where(READING.c.pass_id.in_(some))
            question = select(RECORD.c.subject).where(RECORD.c.parent.in_(some) | RECORD.c.parent.in_(of_passes))
            if kinds:
                question = question.join(SUBJECT, SUBJECT.c.id == RECORD.c.subject).where(SUBJECT.c.kind.in_(kinds))
            children |= set(connection.execute(question.distinct()).scalars())
        fresh = children - found
        found |= fresh
    return found


def _bodies(connection: Connection, subjects: set[UUID]) -> list[tuple[UUID, str, str | None, UUID | None]]:
    rows = []
    for some in _parts(subjects):
        question = select(RECORD.c.subject, SUBJECT.c.kind, RECORD.c.body, RECORD.c.recorded_by)
        question = question.join(SUBJECT, SUBJECT.c.id == RECORD.c.subject).where(RECORD.c.subject.in_(some))
        rows += [(row.subject, row.kind, row.body, row.recorded_by) for row in connection.execute(question)]
    return rows


def _spoken_of(connection: Connection, bodies: list[tuple[UUID, str, str | None, UUID | None]]) -> set[UUID]:
    named = {UUID(text) for _, _, body, _ in bodies if body for text in _ID.findall(body)}
    named |= {by for _, _, _, by in bodies if by is not None}
    found: set[UUID] = set()
    for some in _parts(named):
        question = select(SUBJECT.c.id).where(SUBJECT.c.id.in_(some), SUBJECT.c.kind.in_(_SPOKEN_OF))
        found |= set(connection.execute(question).scalars())
    return found


def _parts(ids: Iterable[UUID]) -> list[list[UUID]]:
    ordered = sorted(ids)
    return [ordered[start : start + _AT_A_TIME] for start in range(0, len(ordered), _AT_A_TIME)]
