"""The archive as the rest of the program sees it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, Protocol, Self
from uuid import UUID

from sqlalchemy import Connection, Engine

from waywright.archive import dialect
from waywright.archive.belonging import belonging
from waywright.archive.blanking import blank
from waywright.archive.browsing import Browsing
from waywright.archive.checking import CheckProgress, CheckUp, check_up
from waywright.archive.conflicts import decide
from waywright.archive.contents import add_content
from waywright.archive.faults import told
from waywright.archive.kinds import kind_of
from waywright.archive.lock import CaptureLock, NoCapture
from waywright.archive.merging import Ends, Merged, Progress, merge
from waywright.archive.revisions import Entry, add_record, refuse_unless_newest, withdraw
from waywright.archive.visit_rows import contents_of, engine_of, memory_engine, passes_of, records_of
from waywright.archive.writer import PassWriter
from waywright.clocks import Clock
from waywright.errors import ArchiveError
from waywright.files.visit_file import VisitFile
from waywright.readings import Reading, StreamBlock
from waywright.visit import Pass, PassEvent


class Identified(Protocol):
    """A record that names the thing it is about."""

    @property
    def id(self) -> UUID:
        """The id of the thing."""


class Archive(Browsing):
    """Machines, visits and what was read at them; made by :func:`waywright.archive.open_archive`.

    A :class:`waywright.visit.ReadingSink`: when ``begin_pass``, ``keep_reading``, ``keep_stream``, ``note`` or
    ``end_pass`` returns, what it was given is committed and flushed; that it also survives a loss of power rests on the
    disk honouring the flush. Nothing is ever changed or removed. Every method raises ArchiveError when the database or
    the disk fails; what was kept before is still there.
    """

    def __init__(self, engine: Engine, place: Path | str, clock: Clock, *, writable: bool = True) -> None:
        self.path = Path(place)
        self.place = str(place)
        self.writable = writable
        self._engine = engine
        self._clock = clock
        lock = CaptureLock(place) if isinstance(place, Path) else NoCapture(place)
        self._writer = PassWriter(engine, self.place, lock, clock)

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

    def save(
        self, record: Identified, by: UUID | None = None, reason: str | None = None, over: UUID | None = None
    ) -> UUID:
        """Add a revision of a descriptive record and return the revision's id; ``by`` is a person's id.

        What says nothing new and gives no reason is not added again: the id of the revision that holds is returned.
        ``over`` is the revision that the writer has seen: raises ArchiveError where another one holds by now.
        """
        with self._writing() as connection:
            if over is not None:
                refuse_unless_newest(connection, record.id, over)
            return add_record(connection, kind_of(type(record)), record, Entry(self._clock.utc(), by, reason))

    def withdraw(self, subject: UUID, by: UUID | None = None, reason: str | None = None) -> UUID:
        """Say that a record does not hold any more (an exclusion made by mistake); its history stays."""
        with self._writing() as connection:
            return withdraw(connection, subject, Entry(self._clock.utc(), by, reason))

    def blank(self, person: UUID, by: UUID | None = None, reason: str | None = None) -> UUID:
        """Take the name of a person out, here and in earlier revisions, by an event whose id is returned."""
        with self._writing() as connection:
            event = blank(connection, person, Entry(self._clock.utc(), by, reason))
        with told(self.place):
            dialect.flush_log(self._engine)
        return event

    def keep_content(self, data: bytes) -> str:
        """Keep the bytes of a file and return their SHA-256; an Attachment record says what they belong to."""
        with self._writing() as connection:
            return add_content(connection, data)

    def decide(self, subject: UUID, revision: UUID, by: UUID | None = None, reason: str | None = None) -> None:
        """Let one of the versions of a description edited on two computers hold."""
        with self._writing() as connection:
            decide(connection, subject, revision, Entry(self._clock.utc(), by, reason))

    def part(self, root: UUID, progress: Progress = lambda table, done, total: None) -> Archive:
        """An archive in memory with one visit, or one machine and all its visits, and whatever they speak of.

        Raises ArchiveError for an id that is neither.
        """
        with self._reading() as connection:
            only = belonging(connection, root)
        engine = memory_engine()
        made = Archive(engine, f"{self.place} ({root})", self._clock, writable=False)
        merged = merge(Ends(self._engine, engine, self.place, made.place), progress, only)
        if merged.damaged:
            raise ArchiveError("archive.check_seal", pass_id=merged.damaged[0][0], number=merged.damaged[0][1])
        return made

    def as_file(self, scope: str, subject: UUID, program: str) -> VisitFile:
        """The whole archive as a visit file: meant for a part of one."""
        with self._reading() as connection:
            records, passes, contents = records_of(connection), passes_of(connection), contents_of(connection)
        now = self._clock.utc()
        return VisitFile(
            scope=scope,
            subject=subject,
            made_utc=now,
            program=program,
            records=records,
            passes=passes,
            contents=contents,
        )

    @classmethod
    def of_file(cls, file: VisitFile, place: str, clock: Clock) -> Archive:
        """An archive in memory that holds a visit file. Raises ArchiveError where a reading does not match its seal."""
        return cls(engine_of(file), place, clock, writable=False)

    def receive(self, source: Archive, progress: Progress = lambda table, done, total: None) -> Merged:
        """Add whatever this archive lacks of another; what was there stays. May be cut anywhere and started again."""
        self._refuse_read_only()
        return merge(Ends(source._engine, self._engine, source.place, self.place), progress)

    @contextmanager
    def claimed(self) -> Iterator[None]:
        """The right to capture, while the records of a pass are made. Raises ArchiveError while another captures."""
        self._refuse_read_only()
        with self._writer.claimed():
            yield

    def check(self, progress: CheckProgress = lambda done, total: None) -> CheckUp:
        """Look at the file, every record, every seal and every chain; the findings say where something is wrong."""
        with self._reading() as connection:
            return check_up(connection, progress)

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
            raise ArchiveError("archive.read_only", path=self.place, detail="")

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        self._refuse_read_only()
        with told(self.place), self._engine.execution_options(writes=True).begin() as connection:
            yield connection
