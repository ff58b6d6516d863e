"""A pass taken hands-free: armed once, it runs until the travel ends, somebody ends it, or the archive fails."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Mapping, Sequence
from contextlib import aclosing
from dataclasses import replace
from typing import Any, cast

from waywright.capture.announcing import Announcer
from waywright.capture.events import Accepted, Event, TravelEnd
from waywright.capture.live import Live, Watcher, with_batch, with_event
from waywright.capture.made_of_windows import ReadingChain, standstill_settings
from waywright.capture.pass_time import PassTime
from waywright.capture.screener import Screened, Screener
from waywright.capture.screening import Beside, PassScreen
from waywright.capture.standstill import Standstill
from waywright.capture.stream_keeper import StreamKeeper
from waywright.capture.telling import Told, told
from waywright.capture.temperatures import with_logged
from waywright.capture.watching import needed_channels, watched_sources
from waywright.clocks import Clock, new_id
from waywright.instruments import Happening, SampleBatch, Source
from waywright.readings import Reading
from waywright.visit import Pass, PassEvent, ReadingSink, Temperature

# How long the end of a pass waits for the last look at its readings, on the clock: the operator only turns round.
_PATIENCE_S = 2.0
# Wall time between two looks at the clock; every task has had its turn within it.
_LOOK_WALL_S = 0.1
_WAITING_BATCHES = 256

Item = SampleBatch | Happening | BaseException | None


class PassCapture:
    """Takes one pass; make it, then await :meth:`run`.

    ``archive`` must succeed: its error stops the pass. ``listeners`` hear the same afterwards, ``watchers`` the live
    state; both may fail. ``continuing`` goes on with a pass that was interrupted: ``earlier`` are its readings,
    ``blocks_before`` the number of stream blocks per source. ``travel_end_mm`` is a position as the source reads it.
    Readings are screened ``beside`` what was taken before; a screen that fails is logged and changes nothing.
    Raises CaptureError if a channel of the pass comes from no source.
    """

    def __init__(
        self,
        taken: Pass,
        sources: Sequence[Source],
        clock: Clock,
        archive: ReadingSink,
        *,
        listeners: Sequence[ReadingSink] = (),
        watchers: Sequence[Watcher] = (),
        continuing: bool = False,
        earlier: Sequence[Reading] = (),
        blocks_before: Mapping[str, int] | None = None,
        travel_end_mm: float | None = None,
        forward_sense: int = 1,
        beside: Beside | None = None,
    ) -> None:
        channels = {source.name: source.channels for source in sources}
        rates_hz = {source.name: source.rate_hz for source in sources}
        watched = watched_sources(channels, rates_hz, needed_channels(taken), clock.factor)
        self._pass = taken
        self._sources = tuple(sources)
        self._clock = clock
        self._announcer = Announcer(archive, listeners, watchers)
        self._continuing = continuing
        self._chain = ReadingChain(taken, earlier)
        self._keeper = StreamKeeper(taken.id, blocks_before or {})
        self._time = PassTime(clock, taken.began_utc)
        settings = standstill_settings(taken, forward_sense, travel_end_mm)
        self._machine = Standstill(settings, watched, self._chain.stations, self._chain.next_number, self._time.now_s())
        self._screen = PassScreen(taken, beside or Beside())
        self._screener = Screener(self._screen, _PATIENCE_S / clock.factor)
        self._live = Live(readings=len(self._chain.readings))
        self._outcome: str | None = None
        self._queue: asyncio.Queue[Item] = asyncio.Queue(_WAITING_BATCHES)

    @property
    def readings(self) -> tuple[Reading, ...]:
        """All readings of the pass so far, superseded ones included."""
        return self._chain.readings

    def trigger(self) -> None:
        """Take a reading by hand, now."""
        self._machine.trigger(self._time.now_s())

    def temperature(self, place: str, value_degc: float) -> None:
        """A temperature typed now; it belongs to the conditions of the pass."""
        moment = self._time.utc(self._time.now_s())
        read = Temperature(place, value_degc, moment)
        before = self._pass.conditions
        self._pass = replace(self._pass, conditions=replace(before, temperatures=(*before.temperatures, read)))
        self._note(Told("capture.temperature", {"place": place, "value_degc": value_degc}), self._time.now_s())

    def finish(self) -> None:
        """End the pass: its travel is complete."""
        self._outcome = "finished"

    def stop(self) -> None:
        """End the pass before its travel is complete; it can be continued."""
        self._outcome = "stopped"

    async def run(self) -> Pass:
        """Take the pass; returns its ended record.

        Whatever the archive raises is raised again after the end of the pass has been recorded as "failed".
        """
        self._begin()
        pumps = [asyncio.create_task(self._pump(source)) for source in self._sources]
        try:
            outcome = await self._take()
            self._tell_screened(await self._screener.end(self._chain.readings, self._time.now_s()))
            self._announcer.show(self._live)
        except asyncio.CancelledError:
            self._end("stopped")
            raise
        except BaseException:
            # The archive has failed, or something unforeseen: record it if that is still possible.
            with contextlib.suppress(Exception):
                self._end("failed")
            raise
        finally:
            for pump in pumps:
                pump.cancel()
            await asyncio.gather(*pumps, return_exceptions=True)
        return self._end(outcome)

    def _begin(self) -> None:
        if not self._continuing:
            self._announcer.begin_pass(self._pass)
        else:
            self._note(Told("capture.continued", {"readings": len(self._chain.readings)}), self._time.now_s())
            if self._chain.readings:
                with contextlib.suppress(Exception):  # what was said before the interruption is not said again
                    self._screen.look(self._chain.readings)

    async def _pump(self, source: Source) -> None:
        """Carry what a source says into the one queue; its end, or its error, last."""
        last: BaseException | None = None
        try:
            # Any async iterator will do; generators want to be closed in time.
            items = cast(Any, aiter(source))
            async with aclosing(items) if hasattr(items, "aclose") else contextlib.nullcontext():
                async for item in items:
                    await self._queue.put(item)
        except Exception as failure:
            last = failure
        await self._queue.put(last)

    async def _take(self) -> str:
        """Work through the queue until the pass has an outcome."""
        running = len(self._sources)
        arrived: list[Item] = []
        loop = asyncio.get_running_loop()
        looked, seen_s = loop.time(), self._time.now_s()
        while self._outcome is None:
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(_LOOK_WALL_S):
                    arrived.append(await self._queue.get())
            for item in arrived:
                running -= item is None
                self._handle(item)
            arrived.clear()
            if running == 0:
                self._note(Told("capture.sources_ended"), self._time.now_s())
                return "stopped"
            if loop.time() - looked >= _LOOK_WALL_S:
                # What arrived before the last look has been fed by now, also after a stall of the computer.
                self._look(seen_s)
                looked, seen_s = loop.time(), self._time.now_s()
        return self._outcome

    def _look(self, seen_s: float) -> None:
        self._look_for_sleep()
        self._follow(self._machine.tick(seen_s))

    def _handle(self, item: Item) -> None:
        if isinstance(item, BaseException):
            raise item
        if isinstance(item, Happening):
            self._note(Told(item.key, item.facts), self._time.now_s())
        elif isinstance(item, SampleBatch) and len(item.time_s):
            self._look_for_sleep()
            self._feed(replace(item, time_s=self._time.of(item.time_s)))

    def _look_for_sleep(self) -> None:
        slept_s = self._time.slept_s()
        if slept_s > 0:
            self._note(Told("capture.slept", {"duration_s": slept_s}), self._time.now_s())

    def _feed(self, batch: SampleBatch) -> None:
        block = self._keeper.add(batch)
        if block is not None:
            self._announcer.keep_stream(block)
        self._live = with_batch(self._live, batch, self._pass.position_channel)
        self._follow(self._machine.feed(batch))
        self._tell_screened(self._screener.take())
        self._announcer.show(self._live)

    def _follow(self, events: Sequence[Event]) -> None:
        for event in events:
            if self._outcome is not None:
                return
            if isinstance(event, Accepted):
                self._announcer.keep_reading(self._chain.add(event))
            self._live = with_event(self._live, event)
            if (message := told(event)) is not None:
                self._note(message, event.time_s)
            if isinstance(event, Accepted):
                self._screener.look(self._chain.readings, event.time_s)
            if isinstance(event, TravelEnd):
                self.finish()

    def _tell_screened(self, found: Sequence[Screened]) -> None:
        for one in found:
            for message in one.told:
                self._note(message, one.time_s)
            self._live = replace(self._live, again_mm=one.again_mm)

    def _note(self, message: Told, time_s: float) -> None:
        made_utc = self._time.utc(time_s)
        facts = dict(message.facts)
        self._announcer.note(
            PassEvent(new_id(made_utc), self._pass.id, made_utc, message.key, message.position_mm, facts)
        )

    def _end(self, outcome: str) -> Pass:
        for block in self._keeper.rest():
            self._announcer.keep_stream(block)
        conditions = with_logged(self._pass.conditions, self._chain.readings)
        ended_utc = self._time.utc(self._time.now_s())
        ended = replace(self._pass, ended_utc=ended_utc, outcome=outcome, conditions=conditions)
        self._announcer.end_pass(ended)
        return ended
