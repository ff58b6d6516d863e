"""The desk of the server: the archive, and the one line that is being measured."""

from __future__ import annotations

import asyncio
import contextlib
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import UUID

from nicegui import Client, Event

from waywright.archive import Archive, open_archive
from waywright.clocks import Clock, ScaledClock, SystemClock
from waywright.errors import BadInput
from waywright.jobs.visits import line_of
from waywright.machine import Machine
from waywright.visit import Line, Visit

if TYPE_CHECKING:  # what measuring needs is loaded when something is measured: the first page is there sooner
    from waywright.files.setup_file import SetUpFile
    from waywright.instruments import Instrument
    from waywright.jobs.begin import Begun
    from waywright.jobs.measured import MeasuredLine
    from waywright.jobs.orders import CaptureOrder
    from waywright.simulation import Workshop
    from waywright.web.adjusting import Adjusting
    from waywright.web.session import Session
    from waywright.web.state import MeasuringState

PRACTICE_FACTORS = (1.0, 5.0, 20.0)
SOON_S = 0.1
"""So that a page that takes long to draw, or a busy computer, never falls behind a fast workshop."""


class Desk:
    """What the pages share. ``changed`` fires in the server's loop whenever a reading, an event or a phase is new."""

    def __init__(self, archive_path: Path, folder: Path | None = None) -> None:
        self.archive_path = archive_path
        self.folder = folder or archive_path.parent / "instruments"
        self.changed: Event[str] = Event()
        self.revision = 0
        self.session: Session | None = None
        self.ending = False
        """Set when the server has been told to end: what would go on for long ends by itself."""
        self._archive: Archive | None = None
        self.loop: asyncio.AbstractEventLoop | None = None
        """The server's loop, known once it runs; before that there are no pages to tell."""
        self._new: set[str] = set()
        self._measured: dict[UUID, tuple[int, MeasuredLine]] = {}

    @cached_property
    def adjusting(self) -> Adjusting:
        """The support that is being turned now."""
        from waywright.web.adjusting import Adjusting

        return Adjusting(self)

    @property
    def clock(self) -> Clock:
        """The clock of what is connected; the computer's own where nothing is."""
        return self.session.clock if self.session else SystemClock()

    def meanings_changed(self, line: Line) -> None:
        """Channels of a line count otherwise from now on; what is connected shows it too."""
        if self.session is not None and self.session.begun.line.id == line.id:
            found = self.archive.interpretation(self.session.begun.setup.id)
            if found is not None:
                self.session.count_as(found)

    @property
    def archive(self) -> Archive:
        """The archive, for reading and for records; the session has its own."""
        if self._archive is None:
            self._archive = open_archive(self.archive_path, create=True)
        return self._archive

    @property
    def state(self) -> MeasuringState:
        """The line that is measured, now."""
        from waywright.web.state import MeasuringState

        return self.session.state if self.session else MeasuringState()

    def state_of(self, line: UUID) -> MeasuringState:
        """The measuring state of a line: idle where another one is measured."""
        from waywright.web.state import MeasuringState

        return self.state if self.state.line_id == line else MeasuringState()

    def measures(self, line: UUID) -> bool:
        """Whether a pass of a line runs."""
        return self.session is not None and self.state_of(line).phase == "armed"

    def line(self, identity: str) -> tuple[Machine, Visit, Line]:
        """Machine, visit and line of an id in a page's address. Raises BadInput where there is none."""
        try:
            wanted = UUID(identity)
        except ValueError:
            raise BadInput("jobs.no_line", wanted=identity, archive=str(self.archive_path)) from None
        return line_of(self.archive, wanted)

    def measured(self, line: Line) -> MeasuredLine:
        """The line as measured so far; read anew only when something has changed."""
        from waywright.jobs.measured import measured_line

        known = self._measured.get(line.id)
        if known is None or known[0] != self.revision:
            known = (self.revision, measured_line(self.archive, line))
            self._measured = {line.id: known}
        return known[1]

    def touched(self, what: str = "record") -> None:
        """Something in the archive is new: pages show it, a moment later and once for all that is new by then.

        May be called from any thread.
        """
        self.revision += 1
        if self.loop is not None:
            with contextlib.suppress(RuntimeError):  # the server has just closed
                self.loop.call_soon_threadsafe(self._soon, what)

    def _soon(self, what: str) -> None:
        if not self._new and self.loop is not None:
            self.loop.call_later(SOON_S, self._tell)
        self._new.add(what)

    def _tell(self) -> None:
        new, self._new = self._new, set()
        self.changed.emit(next((what for what in ("phase", "event", "record") if what in new), "reading"))

    async def practise(self, factor: float) -> Line:
        """Start the invented workshop and connect to its instruments as a new line. Raises what the workshop raises."""
        return (await self._with_workshop(factor, None)).line

    async def practise_again(self, line: Line, factor: float) -> Line:
        """The same with a line that was begun before, to go on with it."""
        return (await self._with_workshop(factor, line)).line

    async def measure(
        self,
        machine: Machine,
        facts: SetUpFile,
        files: tuple[Path, ...],
        technician: str | None,
        visit: Visit | None = None,
    ) -> Line:
        """Begin a line with instruments by their description files, and connect them."""
        from waywright.instruments import read_instrument
        from waywright.jobs.begin import keep

        instruments = tuple(read_instrument(file) for file in files)
        begun = keep(self.archive, machine, facts, instruments, technician, SystemClock(), visit)
        await self._open(begun, SystemClock(), None)
        return begun.line

    async def reconnect(self, line: Line, files: tuple[Path, ...]) -> None:
        """Connect instruments to a line that was begun before."""
        from waywright.jobs.begin import resume

        await self._open(resume(self.archive, line, files), SystemClock(), None)

    async def measure_again(self, line: Line) -> Line:
        """The same line as left; what is connected goes on with it."""
        from waywright.jobs.begin import resume_with
        from waywright.jobs.line_again import line_again

        again = line_again(self.archive, line, self.clock)
        session, self.session = self.session, None
        if session is not None:
            files = session.begun.instruments
            workshop = await asyncio.to_thread(session.hand_over)
            begun = resume_with(self.archive, again, files)
            await self._open(begun, session.clock, workshop)
        self.touched("phase")
        return again

    def arm(self, order: CaptureOrder) -> None:
        """Arm passes on what is connected."""
        if self.session:
            self.session.arm(order)

    async def let_go(self) -> None:
        """Stop what runs and close the instruments."""
        session, self.session = self.session, None
        if session is not None:
            await asyncio.to_thread(session.close)
            self.touched("phase")

    async def close(self) -> None:
        """Everything kept, everything closed; what the pages still have to send is not waited for.

        In Python 3.11 a sender that is cancelled at the moment when something to send comes does not end by that: it
        is told, otherwise the server would wait for it for ever.
        """
        await self.let_go()
        for page in list(Client.instances.values()):
            page.outbox.stop()
        if self._archive is not None:
            self._archive.close()
            self._archive = None

    async def _with_workshop(self, factor: float, line: Line | None) -> Begun:
        from waywright.simulation import Workshop

        if factor not in PRACTICE_FACTORS:
            raise BadInput("web.bad_pace", pace=factor, allowed=", ".join(f"{item:g}" for item in PRACTICE_FACTORS))
        await self.let_go()
        clock: Clock = SystemClock() if factor == 1.0 else ScaledClock(factor)
        workshop = await asyncio.to_thread(Workshop.start, "calm-hall", factor, self.folder / "practice")
        try:
            begun = self._begun_in(workshop, line, clock)
        except BaseException:
            workshop.stop()
            raise
        await self._open(begun, clock, workshop)
        return begun

    def _begun_in(self, workshop: Workshop, line: Line | None, clock: Clock) -> Begun:
        from waywright.instruments import read_instrument
        from waywright.jobs.begin import keep, resume
        from waywright.jobs.practise import TECHNICIAN, facts_of

        if line is not None:
            return resume(self.archive, line, tuple(workshop.descriptions.values()))
        described: tuple[Instrument, ...] = tuple(map(read_instrument, workshop.descriptions.values()))
        return keep(self.archive, workshop.machine, facts_of(workshop.scenario), described, TECHNICIAN, clock)

    async def _open(self, begun: Begun, clock: Clock, workshop: Workshop | None) -> None:
        from waywright.web.session import Session

        await self.let_go()
        self.session = Session(self.archive_path, begun, clock, self.touched, workshop)
        self.session.on_figures = self.adjusting.look
        self.session.start()
        self.touched("phase")
