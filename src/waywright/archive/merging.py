"""One archive into another: what the other does not have yet is added to it, by id, batch by batch.

Every batch is a transaction of its own and what is there already is left alone, so a merge that is cut anywhere is gone
on with by starting it again. Readings go in the order of their passes: wherever it is cut, every chain is whole as far
as it goes. Nothing is ever changed at the other side but a name that was blanked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import Column, Connection, Engine, Select, Table, and_, func, select, tuple_
from sqlalchemy.dialects import postgresql, sqlite

from waywright.archive.belonging import Selection
from waywright.archive.blanking import blanked_people, clear_names, nameless, still_named
from waywright.archive.dialect import flush_log
from waywright.archive.faults import told
from waywright.archive.tables import CONTENT, PASS_EVENT, READING, RECORD, STREAM_BLOCK, SUBJECT, AnyRow
from waywright.errors import ArchiveError
from waywright.readings import sealed_hash

Progress = Callable[[str, int, int], None]
"""Told the name of what is sent, how many rows of it were looked at, and how many there are."""

T = TypeVar("T")
_KEYS_AT_A_TIME = 1000
_ROWS_AT_A_TIME = 100


@dataclass(frozen=True, slots=True)
class Fork:
    """A pass that was gone on with on two computers: from ``number`` on, each has readings that the other lacks."""

    pass_id: UUID
    number: int


@dataclass(slots=True)
class Merged:
    """What a merge has added, by table, what was refused by the rules of the other side, and what does not fit."""

    added: dict[str, int] = field(default_factory=dict)
    refused: dict[str, int] = field(default_factory=dict)
    forks: list[Fork] = field(default_factory=list)
    damaged: list[tuple[UUID, int]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Ends:
    """Where a merge comes from and goes to, and how each is named in errors."""

    source: Engine
    target: Engine
    source_place: str
    target_place: str


def merge(ends: Ends, progress: Progress, only: Selection | None = None) -> Merged:
    """Add to the target whatever it lacks of the source, or of a part of it.

    Raises ArchiveError when a link or a disk fails.
    """
    return _Merge(ends, progress, only).run()


class _Merge:
    """One merge under way."""

    def __init__(self, ends: Ends, progress: Progress, only: Selection | None) -> None:
        self._ends = ends
        self._only = only
        self._progress = progress
        self._merged = Merged()
        self._blanked: frozenset[UUID] = frozenset()

    def run(self) -> Merged:
        self._blanked = frozenset(self._there(blanked_people))
        self._by_key(SUBJECT)
        self._by_pass(READING, _last_hashes)
        for table in (RECORD, CONTENT, PASS_EVENT):
            self._by_key(table)
        self._by_pass(STREAM_BLOCK, _block_counts)
        self._carry_blanks()
        return self._merged

    def _here(self, question: Callable[[Connection], T]) -> T:
        with told(self._ends.source_place), self._ends.source.begin() as connection:
            return question(connection)

    def _there(self, question: Callable[[Connection], T]) -> T:
        engine = self._ends.target.execution_options(writes=True)
        with told(self._ends.target_place), engine.begin() as connection:
            return question(connection)

    def _by_key(self, table: Table) -> None:
        """Subjects, records, contents: compared by key, sent in its order (a record follows what it replaces)."""
        key = next(iter(table.primary_key.columns))
        total = self._here(lambda c: c.execute(select(func.count()).select_from(table)).scalar_one())
        done, last = 0, None
        while rows := self._here(partial(_next_keys, key, _owner(table), last)):
            keys = [each for each, _ in rows]
            wanted = [each for each, owner in rows if self._is_wanted(table, owner)]
            there = self._there(partial(_known, key, wanted)) if wanted else set()
            missing = [each for each in wanted if each not in there]
            for some in _parts(missing, 1 if table is CONTENT else _ROWS_AT_A_TIME):
                self._add(table, self._here(partial(_rows, select(table).where(key.in_(some)).order_by(key))))
            last, done = keys[-1], done + len(keys)
            self._progress(table.name, done, total)

    def _is_wanted(self, table: Table, owner: Any) -> bool:
        if self._only is None:
            return True
        return owner in self._only.contents if table is CONTENT else self._has(owner)

    def _has(self, subject: UUID) -> bool:
        return self._only is None or subject in self._only.subjects

    def _by_pass(self, table: Table, digest: Callable[[Connection], dict[UUID, Any]]) -> None:
        """What passes hold: only passes that the digest shows to differ are looked into."""
        here, there = self._here(digest), self._there(digest)
        differing = sorted(each for each, held in here.items() if there.get(each) != held and self._has(each))
        for number, pass_id in enumerate(differing, start=1):
            if pass_id not in {fork.pass_id for fork in self._merged.forks}:
                self._one_pass(table, pass_id)
            self._progress(table.name, number, len(differing))

    def _one_pass(self, table: Table, pass_id: UUID) -> None:
        key = [table.c[name] for name in _KEYS[table.name]]
        of_pass = select(*key).where(table.c.pass_id == pass_id).order_by(*key)
        there = {tuple(row) for row in self._there(partial(_rows, of_pass))}
        missing = [row for row in map(tuple, self._here(partial(_rows, of_pass))) if row not in there]
        if table is READING and (fork := _fork(missing, there)) is not None:
            self._merged.forks.append(Fork(pass_id, fork))
            return
        for some in _parts(missing, _ROWS_AT_A_TIME):
            wanted = select(table).where(table.c.pass_id == pass_id, tuple_(*key).in_(some)).order_by(*key)
            rows = self._here(partial(_rows, wanted))
            broken = _broken(rows) if table is READING else None
            self._add(table, rows[:broken])
            if broken is not None:
                self._merged.damaged.append((pass_id, rows[broken].number))
                return

    def _add(self, table: Table, rows: list[AnyRow]) -> None:
        """All of them in one transaction; where the rules of the other side refuse one, each by itself."""
        forked = {fork.pass_id for fork in self._merged.forks} if table is RECORD else set()
        rows = [row for row in rows if not forked or row.parent not in forked]  # how many readings this side has
        if not rows:
            return
        values = [self._without_blanked(table, dict(row._mapping)) for row in rows]
        try:
            added = self._there(partial(_insert, table, values))
        except ArchiveError as error:
            if error.key != "archive.not_allowed":
                raise
            for row in rows if len(rows) > 1 else []:
                self._add(table, [row])
            if len(rows) == 1:
                self._merged.refused[table.name] = self._merged.refused.get(table.name, 0) + 1
            return
        self._merged.added[table.name] = self._merged.added.get(table.name, 0) + added

    def _without_blanked(self, table: Table, row: dict[str, Any]) -> dict[str, Any]:
        """A name that was blanked at the other side does not come back with a revision from here."""
        if table is RECORD and row["subject"] in self._blanked and row["body"] is not None:
            return row | {"body": nameless(row["subject"], row["body"])}
        return row

    def _carry_blanks(self) -> None:
        """A name blanked here is taken out of the revisions that the other side had before."""
        people = self._there(still_named)
        for person in people:
            self._there(partial(clear_names, person=person))
        if people:
            with told(self._ends.target_place):
                flush_log(self._ends.target)


_KEYS = {"reading": ("number", "id"), "stream_block": ("source", "number")}


def _parts(keys: list[Any], size: int) -> Iterator[list[Any]]:
    return (keys[start : start + size] for start in range(0, len(keys), size))


def _rows(question: Select[Any], connection: Connection) -> list[AnyRow]:
    return list(connection.execute(question).all())


def _owner(table: Table) -> Column[Any]:
    """What a row belongs to: itself, the thing a record tells about, the pass of an event."""
    name = {"record": "subject", "pass_event": "pass_id"}.get(table.name)
    return table.c[name] if name else next(iter(table.primary_key.columns))


def _next_keys(key: Column[Any], owner: Column[Any], last: Any, connection: Connection) -> list[tuple[Any, Any]]:
    question = select(key, owner.label("owner")).order_by(key).limit(_KEYS_AT_A_TIME)
    rows = connection.execute(question if last is None else question.where(key > last))
    return [(row[0], row[1]) for row in rows]


def _known(key: Column[Any], keys: list[Any], connection: Connection) -> set[Any]:
    return set(connection.execute(select(key).where(key.in_(keys))).scalars())


def _last_hashes(connection: Connection) -> dict[UUID, bytes]:
    """The hash of the last reading of every pass, which seals all those before it."""
    last = select(READING.c.pass_id, func.max(READING.c.number).label("number")).group_by(READING.c.pass_id).subquery()
    same = and_(READING.c.pass_id == last.c.pass_id, READING.c.number == last.c.number)
    rows = connection.execute(select(READING.c.pass_id, READING.c.hash).join(last, same))
    return {row.pass_id: row.hash for row in rows}


def _block_counts(connection: Connection) -> dict[UUID, int]:
    counted = select(STREAM_BLOCK.c.pass_id, func.count().label("blocks")).group_by(STREAM_BLOCK.c.pass_id)
    return {row.pass_id: row.blocks for row in connection.execute(counted)}


def _fork(missing: list[tuple[Any, ...]], there: set[tuple[Any, ...]]) -> int | None:
    """The first number at which both sides have a reading, but not the same."""
    numbers = {number for number, _ in there}
    return min((number for number, _ in missing if number in numbers), default=None)


def _broken(rows: list[AnyRow]) -> int | None:
    """The first reading that is not what was sealed: a damaged one is not spread."""
    return next((n for n, row in enumerate(rows) if _is_damaged(row)), None)


def _is_damaged(row: AnyRow) -> bool:
    return not isinstance(row.body, bytes) or sealed_hash(row.body) != row.hash


def _insert(table: Table, values: list[dict[str, Any]], connection: Connection) -> int:
    """Rows that another computer has added meanwhile are left alone."""
    key = next(iter(table.primary_key.columns))
    if connection.dialect.name == "sqlite":
        added = sqlite.insert(table).values(values).on_conflict_do_nothing().returning(key)
        return len(connection.execute(added).all())
    sent = postgresql.insert(table).values(values).on_conflict_do_nothing().returning(key)
    return len(connection.execute(sent).all())
