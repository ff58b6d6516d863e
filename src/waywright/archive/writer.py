"""Writing a pass: one commit a reading, made before the call returns, by one program at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from uuid import UUID

from sqlalchemy import Connection, Engine, insert

from waywright.archive.faults import told
from waywright.archive.kinds import Tally, kind_of
from waywright.archive.lock import CaptureLock, NoCapture
from waywright.archive.revisions import Entry, add_record
from waywright.archive.tables import READING
from waywright.archive.taken import Tail, add_block, add_event, reading_row, tail_of
from waywright.clocks import Clock, new_id
from waywright.errors import ArchiveError
from waywright.readings import Reading, StreamBlock
from waywright.visit import Pass, PassEvent


class PassWriter:
    """The sink of capture. Every method has committed when it returns; what it refuses changes nothing.

    A pass is continued by keeping its next reading; nothing needs to be announced. The lock is taken by the first call
    for a pass and given back when the last open pass ends.
    """

    def __init__(self, engine: Engine, place: str, lock: CaptureLock | NoCapture, clock: Clock) -> None:
        self._engine = engine.execution_options(writes=True)
        self._place = place
        self._lock = lock
        self._clock = clock
        self._tails: dict[UUID, Tail] = {}

    def begin_pass(self, taken: Pass) -> None:
        """Keep the pass as it begins, or as it goes on."""
        entry = Entry(self._clock.utc())
        with self._capturing(), self._engine.begin() as connection:
            add_record(connection, kind_of(Pass), taken, entry)
            self._tails[taken.id] = tail_of(connection, taken.id)

    def keep_reading(self, reading: Reading) -> None:
        """Commit a sealed reading. Raises ArchiveError if it does not continue the chain of its pass."""
        row = reading_row(reading, self._tail(reading.pass_id))
        self._write(lambda connection: connection.execute(insert(READING), row))
        self._tails[reading.pass_id] = Tail(reading.number + 1, reading.hash)

    def keep_stream(self, block: StreamBlock) -> None:
        """Commit a block of the stream."""
        self._tail(block.pass_id)
        self._write(lambda connection: add_block(connection, block))

    def note(self, event: PassEvent) -> None:
        """Commit an event."""
        self._tail(event.pass_id)
        self._write(lambda connection: add_event(connection, event))

    def end_pass(self, ended: Pass) -> None:
        """Keep the pass as it ended and how many readings it has, and give the lock back."""
        tail = self._tail(ended.id)
        entry = Entry(self._clock.utc())
        tally = Tally(new_id(entry.moment), ended.id, tail.next_number, tail.last_hash)
        with self._capturing():
            try:
                self._write(lambda connection: _end(connection, ended, tally, entry))
            finally:
                self._tails.pop(ended.id, None)

    @contextmanager
    def claimed(self) -> Iterator[None]:
        """Hold the lock while the records of a pass are made, so that nothing is kept where it would be refused."""
        with self._capturing():
            yield

    def close(self) -> None:
        """Give the lock back, whatever is open."""
        self._tails.clear()
        self._lock.give_back()

    def _tail(self, pass_id: UUID) -> Tail:
        if pass_id not in self._tails:
            with self._capturing(), self._engine.connect() as connection:
                self._tails[pass_id] = tail_of(connection, pass_id)
        return self._tails[pass_id]

    @contextmanager
    def _capturing(self) -> Iterator[None]:
        """Hold the lock as long as a pass is open."""
        try:
            with told(self._place):
                self._lock.take()
                yield
        finally:
            if not self._tails:
                self._lock.give_back()

    def _write(self, step: Callable[[Connection], object]) -> None:
        try:
            with told(self._place), self._engine.begin() as connection:
                step(connection)
        except ArchiveError:
            # A disk that failed while flushing may have kept it all the same: look again before the next reading.
            self._tails.clear()
            raise


def _end(connection: Connection, ended: Pass, tally: Tally, entry: Entry) -> None:
    add_record(connection, kind_of(Pass), ended, entry)
    add_record(connection, kind_of(Tally), tally, entry)
