"""Questions that are asked often: compiled once for each database, then put straight to its driver.

What a screen waits for should cost little more than plain SQL written by hand. The statements are those of SQLAlchemy,
so that they are the same on SQLite and PostgreSQL; only the way to the driver is short. Each is one statement, hence
consistent in itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import Engine, Select, bindparam, select

from waywright.archive.kinds import Kind, decode
from waywright.archive.tables import READING, RECORD, SUBJECT
from waywright.errors import ArchiveError


class Question:
    """A statement with named parameters."""

    def __init__(self, statement: Select[Any]) -> None:
        self._statement = statement
        self._compiled: dict[str, tuple[str, list[str] | None, dict[str, Any]]] = {}

    def rows(self, engine: Engine, **given: Any) -> Sequence[Any]:
        """All rows, as the driver gives them: ids as bytes on SQLite, as UUIDs on PostgreSQL."""
        text, order, fixed = self._for(engine)
        told = fixed | given
        raw = engine.raw_connection()
        try:
            cursor = raw.cursor()
            cursor.execute(text, told if order is None else tuple(_bytes(told[name]) for name in order))
            found = cursor.fetchall()
            cursor.close()
            return found
        finally:
            raw.close()

    def _for(self, engine: Engine) -> tuple[str, list[str] | None, dict[str, Any]]:
        name = engine.dialect.name
        if name not in self._compiled:
            made = self._statement.compile(engine)
            order = None if made.positiontup is None else list(made.positiontup)
            fixed = {key: value for key, value in made.params.items() if value is not None}
            self._compiled[name] = (str(made), order, fixed)
        return self._compiled[name]


def _bytes(value: Any) -> Any:
    return value.bytes if isinstance(value, UUID) else value


def _holding() -> Select[Any]:
    """Subject and body of the newest revision of every subject of a kind, withdrawn ones left out."""
    later = RECORD.alias("later")
    superseded = select(later.c.id).where(later.c.subject == RECORD.c.subject, later.c.id > RECORD.c.id).exists()
    return (
        select(RECORD.c.subject, RECORD.c.body, RECORD.c.id)
        .join(SUBJECT, SUBJECT.c.id == RECORD.c.subject)
        .where(SUBJECT.c.kind == bindparam("kind"), RECORD.c.body.is_not(None), ~superseded)
        .order_by(RECORD.c.id)
    )


_ALL = Question(_holding())
_OF_ONE = Question(_holding().where(RECORD.c.parent == bindparam("parent")))
_ONE = Question(_holding().where(RECORD.c.subject == bindparam("subject")))
_VISIT, _LINE = RECORD.alias("visit"), RECORD.alias("line")
_OF_MACHINE = Question(
    _holding()
    .join(_LINE, _LINE.c.subject == RECORD.c.parent)
    .join(_VISIT, _VISIT.c.subject == _LINE.c.parent)
    .where(_VISIT.c.parent == bindparam("machine"))
    .distinct()
)
_OF_PASS = READING.c.pass_id == bindparam("pass_id")
_SEALED = (READING.c.hash, READING.c.body)
READINGS = Question(select(*_SEALED).where(_OF_PASS).order_by(READING.c.number))
WITH_WINDOW = Question(select(*_SEALED, READING.c.window).where(_OF_PASS).order_by(READING.c.number))


def every(engine: Engine, kind: Kind, parent: UUID | None) -> tuple[Any, ...]:
    """Records of a kind that hold, of one parent or all, in the order their last word was recorded."""
    of_one = {} if parent is None else {"parent": parent}
    rows = (_OF_ONE if of_one else _ALL).rows(engine, kind=kind.name, **of_one)
    return tuple(decode(kind, subject, body) for subject, body, _ in rows)


def one(engine: Engine, kind: Kind, subject: UUID) -> Any:
    """The record of a subject that holds. Raises ArchiveError where there is none."""
    rows = _ONE.rows(engine, kind=kind.name, subject=subject)
    if not rows:
        raise ArchiveError("archive.unknown", kind=kind.name, id=subject)
    return decode(kind, subject, rows[0][1])


def results_of_machine(engine: Engine, kind: Kind, machine: UUID) -> tuple[Any, ...]:
    """Kept results of all lines of a machine."""
    rows = _OF_MACHINE.rows(engine, kind=kind.name, machine=machine)
    return tuple(decode(kind, subject, body) for subject, body, _ in rows)
