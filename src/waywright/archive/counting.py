"""Lists of what is kept, page by page, and counts, without reading what is counted.

A page begins after the last id of the one before, so that the hundredth costs what the first did.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar
from uuid import UUID

from sqlalchemy import ColumnElement, Connection, Select, func, or_, select

from waywright.archive.kinds import Kind, decode, kind_named
from waywright.archive.tables import READING, RECORD, SUBJECT

T = TypeVar("T")
_IN_ONE_QUESTION = 500
_SEARCHED = ("machine", "site", "person", "visit", "line", "instrument", "plan")


@dataclass(frozen=True, slots=True)
class PassCount:
    """Readings of a pass as taken, and those that no later one supersedes."""

    taken: int
    standing: int


@dataclass(frozen=True, slots=True)
class Page(Generic[T]):
    """A stretch of a list; ``after`` asks for the next one, None at the end."""

    items: tuple[T, ...]
    after: UUID | None


def pass_counts(connection: Connection, passes: Iterable[UUID]) -> dict[UUID, PassCount]:
    """How many readings each of the passes has; passes without readings are left out."""
    wanted = list(passes)
    found: dict[UUID, PassCount] = {}
    for start in range(0, len(wanted), _IN_ONE_QUESTION):
        some = wanted[start : start + _IN_ONE_QUESTION]
        superseded = func.count(READING.c.supersedes.distinct())
        question = select(READING.c.pass_id, func.count().label("taken"), superseded.label("superseded"))
        rows = connection.execute(question.where(READING.c.pass_id.in_(some)).group_by(READING.c.pass_id))
        found |= {row.pass_id: PassCount(row.taken, row.taken - row.superseded) for row in rows}
    return found


def holding(kind: str) -> Select[tuple[UUID, UUID | None, str]]:
    """Subject, parent and body of the newest revision of every subject of a kind that is not withdrawn."""
    later = RECORD.alias("later")
    newest = (
        select(later.c.id).where(later.c.subject == SUBJECT.c.id).order_by(later.c.id.desc()).limit(1).scalar_subquery()
    )
    return (
        select(RECORD.c.subject, RECORD.c.parent, RECORD.c.body)
        .select_from(SUBJECT)
        .join(RECORD, RECORD.c.id == newest)
        .where(SUBJECT.c.kind == kind, RECORD.c.body.is_not(None))
    )


def subjects_page(connection: Connection, kind: Kind, after: UUID | None, size: int) -> Page[Any]:
    """The next records of a kind that hold, in the order of their ids: the order in which the things began."""
    question = holding(kind.name).order_by(SUBJECT.c.id).limit(size + 1)
    if after is not None:
        question = question.where(SUBJECT.c.id > after)
    rows = connection.execute(question).all()
    items = tuple(decode(kind, row.subject, row.body) for row in rows[:size])
    return Page(items, rows[size - 1].subject if len(rows) > size else None)


def found_by_words(connection: Connection, words: str, size: int) -> tuple[tuple[str, Any], ...]:
    """Kind and record of everything that holds and has all the words in it, machines first; at most ``size``."""
    found: list[tuple[str, Any]] = []
    for name in _SEARCHED:
        question = holding(name).order_by(SUBJECT.c.id.desc()).limit(size - len(found))
        for word in words.split():
            question = question.where(_has(word))
        for row in connection.execute(question):
            found.append((name, decode(kind_named(name), row.subject, row.body)))
        if len(found) >= size:
            break
    return tuple(found)


def _has(word: str) -> ColumnElement[bool]:
    """The word anywhere in the values, in any case of its letters."""
    escaped = word.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")
    variants = {escaped, escaped.lower(), escaped.upper(), escaped.title()}
    return or_(*(RECORD.c.body.ilike(f"%{variant}%", escape="\\") for variant in sorted(variants)))
