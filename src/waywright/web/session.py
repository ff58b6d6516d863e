"""The line that is being measured, in a thread of its own: no page, however slow, holds up a reading."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from waywright.archive import Archive, open_archive
from waywright.capture import Live
from waywright.capture.live import with_batch
from waywright.clocks import Clock, new_id
from waywright.errors import WaywrightError
from waywright.instruments import Happening, SampleBatch
from waywright.jobs.begin import Begun
from waywright.jobs.connected import Connected
from waywright.jobs.figures import meanings_on_screen, position_on_line
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.recorder import Recorder
from waywright.jobs.take import PassPlan, Taking, planned, unfinished
from waywright.readings import Reading
from waywright.simulation import Workshop
from waywright.visit import Interpretation, Pass, PassEvent
from waywright.web import state
from waywright.web.awake import Awake
from waywright.web.committed import Committed
from waywright.web.state import MeasuringState, PassNow

_log = logging.getLogger(__name__)
_FIGURES_EVERY_S = 0.25
HEARD_WITHIN_S = 8.0
"""Wall time in which every instrument that is switched on is heard; from then on the pages name those that are not."""
ASLEEP_S = 10.0
"""Nothing holds this loop up for so long but a computer that sleeps, or one that is hopelessly busy."""
Changed = Callable[[str], None]
"""Told in the session's thread what has changed: "phase", "reading", "event"."""


class Session:
    """Connected instruments of one line; passes are armed, ended and continued here. Every method may be called from
    any thread. ``workshop`` is the invented one in practice: its operator drives once a pass is armed.
    """

    def __init__(
        self, archive_path: Path, begun: Begun, clock: Clock, changed: Changed, workshop: Workshop | None = None
    ) -> None:
        self.begun = begun
        self.clock = clock
        self.recorder = Recorder()
        self.on_figures: Callable[[MeasuringState], None] = _nobody
        """Told of every new figure, in the session's thread."""
        self.state = MeasuringState(
            state.CONNECTING,
            begun.line.id,
            practice=workshop is not None,
            meanings=meanings_on_screen(begun),
            position_channel=begun.position_channel,
        )
        self._awake = Awake()
        self._path = archive_path
        self._changed = changed
        self._workshop = workshop
        self._taking: Taking | None = None
        self._orders: asyncio.Queue[CaptureOrder | None] = asyncio.Queue()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._stepped_in = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True, name="measuring")

    def start(self) -> None:
        """Connect the instruments."""
        self._thread.start()

    def arm(self, order: CaptureOrder) -> None:
        """Arm the passes of an order, or go on with the interrupted one; without effect while a pass runs."""
        self._in_loop(lambda: self._ordered(order))

    def trigger(self) -> None:
        """Take a reading by hand, now."""
        self._with_taking(lambda taking: taking.trigger())

    def finish(self) -> None:
        """End the pass that runs: its travel is complete."""
        self._with_taking(lambda taking: taking.finish())

    def stop(self) -> None:
        """Stop the pass; it can be continued."""
        self._with_taking(lambda taking: taking.stop())

    def hand_over(self) -> Workshop | None:
        """Close, and leave the invented workshop open for another line."""
        workshop, self._workshop = self._workshop, None
        self.close()
        return workshop

    def close(self) -> None:
        """Stop what runs, let the instruments go and wait until all is kept."""
        if self.runs:
            self._stepped_in.wait(15.0)  # what was only just started hears nothing before
        self.stop()
        self._in_loop(lambda: self._orders.put_nowait(None))
        if self.runs and threading.current_thread() is not self._thread:
            self._thread.join(15.0)

    def count_as(self, interpretation: Interpretation) -> None:
        """Channels count as a newer interpretation says; passes that are armed later carry it too."""
        self.begun = replace(self.begun, interpretation=interpretation)
        self.state = replace(self.state, meanings=meanings_on_screen(self.begun))

    @property
    def runs(self) -> bool:
        """Whether it was started and has not ended."""
        return self._thread.is_alive()

    @property
    def workshop(self) -> Workshop | None:
        """The invented workshop, in practice."""
        return self._workshop

    @property
    def stands_at_last_station(self) -> bool:
        """Whether the axis stands where the last reading was taken, so that "again" can be now."""
        now = self.state
        return now.position_mm is not None and now.last_mm is not None and abs(now.position_mm - now.last_mm) < 5.0

    # ------------------------------------------------------------------ in the session's own thread

    def _ordered(self, order: CaptureOrder) -> None:
        """Two pages may arm at the same moment: the first counts."""
        if self.state.phase == state.READY and self._taking is None and self._orders.empty():
            self._orders.put_nowait(order)

    def _run(self) -> None:
        try:
            asyncio.run(self._measure())
        except WaywrightError as error:
            self._tell(phase=state.FAILED, problem=error)
        except Exception as error:
            _log.exception("measuring ended")
            self._tell(phase=state.FAILED, problem=error)
        finally:
            self._loop = None
            self._stepped_in.set()
            if self._workshop is not None:
                self._workshop.stop()

    async def _measure(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._stepped_in.set()
        with open_archive(self._path, create=True, clock=self.clock) as archive:
            async with Connected(self.begun, self.clock, self._heard) as connected:
                watching = asyncio.create_task(self._keep_figures(connected, archive))
                watching.add_done_callback(lambda _: self._orders.put_nowait(None))
                try:
                    while (order := await self._orders.get()) is not None:
                        await self._take(archive, connected, order)
                finally:
                    watching.cancel()
                    (ended,) = await asyncio.gather(watching, return_exceptions=True)
                if isinstance(ended, Exception):
                    raise ended
        self._tell(phase=state.IDLE)

    def _heard(self, source: str, item: SampleBatch | Happening) -> None:
        """Every batch, before it goes on: kept for tests of the set-up; the newest figures while no pass runs."""
        self.recorder.look(source, item)
        if self.state.phase == state.ARMED or isinstance(item, Happening) or not len(item.time_s):
            return
        self._show(with_batch(replace(self.state.live, state=""), item, self.begun.position_channel))

    async def _keep_figures(self, connected: Connected, archive: Archive) -> None:
        """The figures with their health, a few times a second; all channels heard makes the session ready.

        Raises what an instrument has failed with for good."""
        wanted = {self.begun.position_channel, *self.begun.channels}
        looked_s = time.time()
        late_s = time.monotonic() + HEARD_WITHIN_S
        while True:
            gone_s, looked_s = time.time() - looked_s, time.time()
            if gone_s > ASLEEP_S:
                self._slept(archive, gone_s)
            self._show_figures(connected)
            if (failure := connected.failure()) is not None:
                raise failure
            if self.state.phase == state.CONNECTING:
                self._show_connecting(wanted, connected if time.monotonic() > late_s else None)
            await asyncio.sleep(_FIGURES_EVERY_S)

    def _show_connecting(self, wanted: set[str], late: Connected | None) -> None:
        """Ready once everything is heard; until then what is ``late`` is named."""
        if wanted <= {item.channel for item in self.state.figures}:
            self._tell(phase=state.READY, unheard=())
        elif late is not None and (unheard := late.unheard()) != self.state.unheard:
            self._tell(unheard=unheard)

    def _slept(self, archive: Archive, gone_s: float) -> None:
        """The computer did not run for a while: the pass says so where it happened."""
        taken = self.state.taken
        if taken is not None and self.state.phase == state.ARMED:
            facts: dict[str, str | float] = {"gone_s": gone_s}
            now = self.clock.utc()
            place = self.state.live.position_mm
            archive.note(PassEvent(new_id(now), taken.id, now, "capture.computer_slept", place, facts))
            self._tell("event")

    def _show_figures(self, connected: Connected) -> None:
        self.state = replace(self.state, figures=connected.figures())

    async def _take(self, archive: Archive, connected: Connected, order: CaptureOrder) -> None:
        taking = connected.taking(
            archive,
            self._plans(archive, order),
            listeners=[Committed(self)],
            watchers=[self._show],
            on_armed=self._armed,
        )
        self._taking = taking
        self._awake.keep()
        programme = "brief" if order.passes == ("forward",) and not order.continue_pass else "whole"
        driving = asyncio.create_task(self._drive(taking, programme)) if self._workshop else None
        try:
            await taking.run()
        finally:
            self._taking = None
            self._awake.let()
            if driving is not None:
                driving.cancel()
                await asyncio.gather(driving, return_exceptions=True)
        self._tell(phase=state.READY, taken=None)

    def _plans(self, archive: Archive, order: CaptureOrder) -> tuple[PassPlan, ...]:
        before = len(archive.passes(self.begun.line.id))
        if not order.continue_pass:
            return planned(self.begun, order, self.clock, before)
        rest = ("backward",) if self._workshop and archive.passes(self.begun.line.id)[-1].direction == "forward" else ()
        again = replace(order, passes=rest, continue_pass=False)
        return unfinished(archive, self.begun), *planned(self.begun, again, self.clock, before)

    async def _drive(self, taking: Taking, programme: str) -> None:
        """The invented operator drives a programme; the passes stop when he has gone home."""
        workshop = self._workshop
        if workshop is None:
            return
        wanted = {self.begun.position_channel, *self.begun.channels}
        while not wanted <= self.state.live.latest.keys() or self.state.phase != state.ARMED:
            await asyncio.sleep(0.05)
        workshop.drive_to(None)
        await workshop.until_standing()
        workshop.drive(programme)
        await workshop.until_finished()
        await asyncio.sleep(1.0)
        taking.stop()

    def _armed(self, taken: Pass) -> None:
        self._tell(phase=state.ARMED, taken=PassNow(taken.id, taken.number, taken.direction, 0), last_mm=None)

    def _show(self, live: Live) -> None:
        place = None if live.position_mm is None else position_on_line(self.begun, live.position_mm)
        again = tuple(position_on_line(self.begun, one) for one in live.again_mm)
        self.state = replace(self.state, live=live, position_mm=place, again_mm=again)
        self.on_figures(self.state)

    def took(self, reading: Reading) -> None:
        """A reading is in the archive."""
        taken = self.state.taken
        if taken is not None:
            taken = replace(taken, readings=taken.readings + 1)
        place = position_on_line(self.begun, reading.position_mm)
        self._tell("reading", taken=taken, last_mm=place)

    def noted(self) -> None:
        """An event is in the archive."""
        self._tell("event")

    def _tell(self, what: str = "phase", **fields: object) -> None:
        self.state = replace(self.state, **fields)  # type: ignore[arg-type]
        self._changed(what)

    def _with_taking(self, call: Callable[[Taking], None]) -> None:
        self._in_loop(lambda: call(self._taking) if self._taking else None)

    def _in_loop(self, call: Callable[[], object]) -> None:
        loop = self._loop
        if loop is not None:
            with contextlib.suppress(RuntimeError):  # it has just ended
                loop.call_soon_threadsafe(call)


def _nobody(_: MeasuringState) -> None:
    """Nobody looks."""
