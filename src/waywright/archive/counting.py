"""Lists of what is kept, page by page, and counts, without reading what is counted.

A page begins after the last id of the one before, so that the hundredth costs what the first did.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Generic, TypeVar
from uuid import UUID

from sqlalchemy import Connection, Engine, Select, bindparam, func, literal_column, or_, select

from waywright.archive.kinds import Kind, decode, kind_named
from waywright.archive.questions import Question
from waywright.archive.tables import READING, RECORD, SUBJECT

T = TypeVar("T")
_IN_ONE_QUESTION = 500
_SEARCHED = ("machine", "site", "person", "visit", "line", "instrument", "plan", "sheet")


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


def _newest() -> Select[Any]:
    """Subject and body of the newest revision of every subject of a kind that is not withdrawn."""
    later = RECORD.alias("later")
    newest = (
        select(later.c.id).where(later.c.subject == SUBJECT.c.id).order_by(later.c.id.desc()).limit(literal_column("1"))
    )
    return (
        select(RECORD.c.subject, RECORD.c.body)
        .select_from(SUBJECT)
        .join(RECORD, RECORD.c.id == newest.scalar_subquery())
        .where(SUBJECT.c.kind == bindparam("kind"), RECORD.c.body.is_not(None))
        .limit(bindparam("size"))
    )


_PAGE = Question(_newest().order_by(SUBJECT.c.id))
_NEXT_PAGE = Question(_newest().where(SUBJECT.c.id > bindparam("after")).order_by(SUBJECT.c.id))


def subjects_page(engine: Engine, kind: Kind, after: UUID | None, size: int) -> Page[Any]:
    """The next records of a kind that hold, in the order of their ids: the order in which the things began."""
    start = {} if after is None else {"after": after}
    rows = (_NEXT_PAGE if start else _PAGE).rows(engine, kind=kind.name, size=size + 1, **start)
    items = tuple(decode(kind, subject, body) for subject, body in rows[:size])
    return Page(items, items[-1].id if len(rows) > size else None)


def found_by_words(engine: Engine, words: str, size: int) -> tuple[tuple[str, Any], ...]:
    """Kind and record of everything that holds and has all the words in it, machines first; at most ``size``."""
    found: list[tuple[str, Any]] = []
    several = [_variants(word, engine.dialect.name) for word in words.split()]
    question = _with_words(engine.dialect.name, tuple(len(each) for each in several))
    given = {f"word_{n}_{m}": f"%{v}%" for n, each in enumerate(several) for m, v in enumerate(each)}
    for name in _SEARCHED:
        rows = question.rows(engine, kind=name, size=size - len(found), **given)
        found += [(name, decode(kind_named(name), subject, body)) for subject, body in rows]
        if len(found) >= size:
            break
    return tuple(found)


@lru_cache(maxsize=64)
def _with_words(dialect: str, variants: tuple[int, ...]) -> Question:
    """The question for so many words, each in so many ways of writing it."""
    wanted = _newest().order_by(SUBJECT.c.id.desc())
    like = RECORD.c.body.like if dialect == "sqlite" else RECORD.c.body.ilike
    for n, count in enumerate(variants):
        wanted = wanted.where(or_(*(like(bindparam(f"word_{n}_{m}"), escape="!") for m in range(count))))
    return Question(wanted)


def _variants(word: str, dialect: str) -> list[str]:
    """SQLite knows capitals of the Latin alphabet only: other letters are looked for in every way of writing them."""
    escaped = word.replace("!", "!!").replace("%", "!%").replace("_", "!_")
    if dialect != "sqlite" or word.isascii():
        return [escaped]
    return sorted({escaped, escaped.lower(), escaped.upper(), escaped.title()})
