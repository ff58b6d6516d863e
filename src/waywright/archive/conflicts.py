"""Descriptions edited on two computers: revisions written over the same one, neither knowing of the other.

Nothing is lost: both stay, the newest holds, and whoever decides writes the decision over each of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from sqlalchemy import Connection, Select, func, select

from waywright.archive.kinds import encode, kind_named
from waywright.archive.revisions import Entry, Revision, add_over, as_revision
from waywright.archive.tables import RECORD, SUBJECT
from waywright.errors import ArchiveError

# What is computed, or only ever added, is in no conflict: the newest says what is known.
_NEVER = ("result", "tally", "pass", "belief")


@dataclass(frozen=True, slots=True)
class Conflict:
    """One thing with several last words, oldest first; the last of them holds until somebody decides."""

    subject: UUID
    kind: str
    versions: tuple[Revision, ...]


def conflicts(connection: Connection) -> tuple[Conflict, ...]:
    """Everything that has more than one last word, by subject."""
    later = RECORD.alias("later")
    leaf = ~select(later.c.id).where(later.c.replaces == RECORD.c.id).exists()
    rows = connection.execute(
        select(RECORD, SUBJECT.c.kind)
        .join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
        .where(SUBJECT.c.kind.not_in(_NEVER), RECORD.c.subject.in_(_forked()), leaf)
        .order_by(RECORD.c.subject, RECORD.c.id)
    ).all()
    subjects = dict.fromkeys(row.subject for row in rows)
    grouped = [[row for row in rows if row.subject == subject] for subject in subjects]
    return tuple(
        Conflict(group[0].subject, group[0].kind, tuple(map(as_revision, group)))
        for group in grouped
        if len({row.body for row in group}) > 1
    )


def decide(connection: Connection, subject: UUID, revision: UUID, entry: Entry) -> tuple[UUID, ...]:
    """Let one of the versions hold: it is written over each of the others, and over itself.

    Raises ArchiveError where the thing is in no conflict or the revision is none of its versions.
    """
    found = next((each for each in conflicts(connection) if each.subject == subject), None)
    chosen = None if found is None else next((each for each in found.versions if each.id == revision), None)
    if found is None or chosen is None:
        raise ArchiveError("archive.no_conflict", id=subject)
    kind = kind_named(found.kind)
    body = None if chosen.record is None else encode(chosen.record)
    parent = None if chosen.record is None else kind.parent_of(chosen.record)
    return tuple(add_over(connection, subject, parent, body, version.id, entry) for version in found.versions)


def _forked() -> Select[tuple[UUID]]:
    """Subjects that have a revision over which two were written, or two first ones."""
    same = func.coalesce(RECORD.c.replaces, RECORD.c.subject)
    return select(RECORD.c.subject).group_by(RECORD.c.subject, same).having(func.count() > 1)
