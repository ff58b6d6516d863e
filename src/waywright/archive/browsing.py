"""The reading side of an archive: records, passes and their readings, as they hold today."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import Connection, Engine, select

from waywright.archive.conflicts import Conflict, conflicts
from waywright.archive.contents import content_of, has_content
from waywright.archive.counting import Page, PassCount, found_by_words, pass_counts, subjects_page
from waywright.archive.faults import told
from waywright.archive.kinds import kind_of
from waywright.archive.questions import every, one, results_of_machine
from waywright.archive.revisions import Revision, holding_under, revisions_of
from waywright.archive.tables import READING
from waywright.archive.taken import blocks_of, events_of, readings_of
from waywright.machine import Machine
from waywright.readings import Reading, StreamBlock
from waywright.visit import Evidence, Exclusion, Interpretation, KeptResult, Line, Pass, PassEvent, Person, SetUp, Visit

R = TypeVar("R")


class Browsing:
    """What an archive can be asked. Every method raises ArchiveError when the database or the disk fails."""

    _engine: Engine
    place: str

    def load(self, wanted: type[R], subject: UUID) -> R:
        """The record of a type that holds for a subject. Raises ArchiveError where there is none."""
        with told(self.place):
            found: R = one(self._engine, kind_of(wanted), subject)
            return found

    def history(self, subject: UUID) -> tuple[Revision, ...]:
        """Every revision of a subject, oldest first."""
        with self._reading() as connection:
            return revisions_of(connection, subject)

    def every(self, wanted: type[R], parent: UUID | None = None) -> tuple[R, ...]:
        """The records of a type that hold, of one parent or all, in the order their last word was recorded."""
        with told(self.place):
            return every(self._engine, kind_of(wanted), parent)

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
        with told(self.place):
            return readings_of(self._engine, pass_id, with_window)

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

    def results(self, machine: UUID) -> tuple[KeptResult, ...]:
        """The kept results of all lines of a machine, in one question."""
        with told(self.place):
            return results_of_machine(self._engine, kind_of(KeptResult), machine)

    def counts(self, passes: Iterable[UUID]) -> dict[UUID, PassCount]:
        """How many readings each of the passes has; passes without readings are left out."""
        with self._reading() as connection:
            return pass_counts(connection, passes)

    def page(self, wanted: type[R], after: UUID | None = None, size: int = 50) -> Page[R]:
        """The next records of a type that hold, in the order in which the things began."""
        with told(self.place):
            return subjects_page(self._engine, kind_of(wanted), after, size)

    def search(self, words: str, size: int = 50) -> tuple[tuple[str, Any], ...]:
        """Kind and record of whatever is described (machines, people, visits, lines ...) with all the words in it."""
        with told(self.place):
            return found_by_words(self._engine, words, size)

    def content(self, sha256: str) -> bytes:
        """The bytes of an attached file. Raises ArchiveError where they are not there, or not what they were."""
        with self._reading() as connection:
            return content_of(connection, sha256)

    def has_content(self, sha256: str) -> bool:
        """Whether the bytes of a SHA-256 are kept."""
        with self._reading() as connection:
            return has_content(connection, sha256)

    def conflicts(self) -> tuple[Conflict, ...]:
        """Descriptions that were edited on two computers, with all their versions."""
        with self._reading() as connection:
            return conflicts(connection)

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with told(self.place), self._engine.connect() as connection:
            yield connection
