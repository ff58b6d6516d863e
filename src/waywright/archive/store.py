"""The archive as the rest of the program sees it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, Protocol, Self, TypeVar
from uuid import UUID

from sqlalchemy import Connection, Engine, select

from waywright.archive import dialect
from waywright.archive.checking import CheckUp, check_up
from waywright.archive.faults import told
from waywright.archive.kinds import kind_of
from waywright.archive.lock import CaptureLock
from waywright.archive.revisions import (
    Entry,
    Revision,
    add_record,
    all_holding,
    holding_under,
    one_holding,
    revisions_of,
    withdraw,
)
from waywright.archive.tables import READING
from waywright.archive.taken import blocks_of, events_of, readings_of
from waywright.archive.writer import PassWriter
from waywright.clocks import Clock
from waywright.errors import ArchiveError
from waywright.machine import Machine
from waywright.readings import Reading, StreamBlock
from waywright.visit import Evidence, Exclusion, Interpretation, Line, Pass, PassEvent, Person, SetUp, Visit

R = TypeVar("R")


class Identified(Protocol):
    """A record that names the thing it is about."""

    @property
    def id(self) -> UUID:
        """The id of the thing."""


class Archive:
    """Machines, visits and what was read at them; made by :func:`waywright.archive.open_archive`.

    A :class:`waywright.visit.ReadingSink`: when ``begin_pass``, ``keep_reading``, ``keep_stream``, ``note`` or
    ``end_pass`` returns, what it was given is committed and flushed; that it also survives a loss of power rests on the
    disk honouring the flush. Nothing is ever changed or removed. Every method raises ArchiveError when the database or
    the disk fails; what was kept before is still there.
    """

    def __init__(self, engine: Engine, path: Path, clock: Clock, *, writable: bool = True) -> None:
        self.path = path
        self.writable = writable
        self._engine = engine
        self._clock = clock
        self._writer = PassWriter(engine, str(path), CaptureLock(path), clock)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Give back the capture lock and the file."""
        self._writer.close()
        self._engine.dispose()

    def save(self, record: Identified, by: UUID | None = None, reason: str | None = None) -> UUID:
        """Add a revision of a descriptive record and return the revision's id; ``by`` is a person's id.

        What says nothing new and gives no reason is not added again: the id of the revision that holds is returned.
        """
        with self._writing() as connection:
            return add_record(connection, kind_of(type(record)), record, Entry(self._clock.utc(), by, reason))

    def withdraw(self, subject: UUID, by: UUID | None = None, reason: str | None = None) -> UUID:
        """Say that a record does not hold any more (an exclusion made by mistake); its history stays."""
        with self._writing() as connection:
            return withdraw(connection, subject, Entry(self._clock.utc(), by, reason))

    def load(self, wanted: type[R], subject: UUID) -> R:
        """The record of a type that holds for a subject. Raises ArchiveError where there is none."""
        with self._reading() as connection:
            found: R = one_holding(connection, kind_of(wanted), subject)
            return found

    def history(self, subject: UUID) -> tuple[Revision, ...]:
        """Every revision of a subject, oldest first."""
        with self._reading() as connection:
            return revisions_of(connection, subject)

    def every(self, wanted: type[R], parent: UUID | None = None) -> tuple[R, ...]:
        """The records of a type that hold, of one parent or all, in the order their last word was recorded."""
        with self._reading() as connection:
            return all_holding(connection, kind_of(wanted), parent)

    def machines(self) -> tuple[Machine, ...]:
        """All machines, by name."""
        return tuple(sorted(self.every(Machine), key=lambda machine: machine.name))

    def people(self) -> tuple[Person, ...]:
        """All people, by name."""
        return tuple(sorted(self.every(Person), key=lambda person: person.name))

    def visits(self, machine: UUID | None = None) -> tuple[Visit, ...]:
        """The visits to a machine (all visits without one), oldest first."""
        return tuple(sorted(self.every(Visit, machine), key=lambda visit: visit.began_utc))

    def lines(self, visit: UUID) -> tuple[Line, ...]:
        """The lines of a visit, in the order made."""
        return tuple(sorted(self.every(Line, visit), key=lambda line: line.id))

    def setups(self, line: UUID) -> tuple[SetUp, ...]:
        """The set-ups of a line, by segment, then in the order made."""
        return tuple(sorted(self.every(SetUp, line), key=lambda setup: (setup.segment, setup.id)))

    def interpretation(self, setup: UUID) -> Interpretation | None:
        """What the channels of a set-up mean: the interpretation recorded last, or None."""
        found = self.every(Interpretation, setup)
        return found[-1] if found else None

    def evidence(self, subject: UUID) -> tuple[Evidence, ...]:
        """Tests and gates of a set-up, line, pass or visit, in the order made."""
        return tuple(sorted(self.every(Evidence, subject), key=lambda item: item.made_utc))

    def passes(self, line: UUID) -> tuple[Pass, ...]:
        """The passes of a line, in the order taken (their numbers; clocks of practice may run ahead)."""
        return tuple(sorted(self.every(Pass, line), key=lambda taken: (taken.number, taken.began_utc)))

    def readings(self, pass_id: UUID, *, with_window: bool = False) -> tuple[Reading, ...]:
        """The readings of a pass in the order taken, superseded ones included; their samples only when asked for.

        Raises ArchiveError for a reading whose bytes do not match its seal.
        """
        with self._reading() as connection:
            return readings_of(connection, pass_id, with_window)

    def exclusions(self, pass_id: UUID) -> tuple[Exclusion, ...]:
        """The exclusions that hold for readings of a pass, in the order recorded."""
        of_pass = select(READING.c.id).where(READING.c.pass_id == pass_id)
        with self._reading() as connection:
            return holding_under(connection, kind_of(Exclusion), of_pass)

    def stream(self, pass_id: UUID) -> tuple[StreamBlock, ...]:
        """The whole stream of a pass, source by source, blocks in order."""
        with self._reading() as connection:
            return blocks_of(connection, pass_id)

    def events(self, pass_id: UUID) -> tuple[PassEvent, ...]:
        """What happened during a pass, in order."""
        with self._reading() as connection:
            return events_of(connection, pass_id)

    def check(self) -> CheckUp:
        """Look at the file, every record, every seal and every chain; the findings say where something is wrong."""
        with self._reading() as connection:
            return check_up(connection)

    def settings(self) -> dict[str, Any]:
        """What the database itself says about the settings that durability rests on."""
        with self._reading() as connection:
            return dialect.pragmas(connection)

    def begin_pass(self, taken: Pass) -> None:
        """A pass begins or goes on. Raises ArchiveError while another program captures into this archive."""
        self._refuse_read_only()
        self._writer.begin_pass(taken)

    def keep_reading(self, reading: Reading) -> None:
        """Commit a sealed reading. Raises ArchiveError if it does not continue the chain of its pass."""
        self._refuse_read_only()
        self._writer.keep_reading(reading)

    def keep_stream(self, block: StreamBlock) -> None:
        """Commit part of the raw stream of a pass."""
        self._refuse_read_only()
        self._writer.keep_stream(block)

    def note(self, event: PassEvent) -> None:
        """Commit something that happened; the pass is ``event.pass_id``."""
        self._refuse_read_only()
        self._writer.note(event)

    def end_pass(self, ended: Pass) -> None:
        """Commit the end of a pass as a new revision, with the number of its readings."""
        self._refuse_read_only()
        self._writer.end_pass(ended)

    def _refuse_read_only(self) -> None:
        if not self.writable:
            raise ArchiveError("archive.read_only", path=str(self.path), detail="")

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with told(str(self.path)), self._engine.connect() as connection:
            yield connection

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        self._refuse_read_only()
        with told(str(self.path)), self._engine.execution_options(writes=True).begin() as connection:
            yield connection
