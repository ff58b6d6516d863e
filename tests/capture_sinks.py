"""Passes, sinks and clocks for the tests of capture."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from uuid import UUID

from capture_streams import BEAM, POSITION, RATES_HZ, Drive, Signals, bunched, streams
from waywright.instruments import Happening, SampleBatch
from waywright.readings import Reading, StreamBlock
from waywright.visit import Pass, PassEvent, PassSettings

BEGAN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
ORIGIN_S = 5000.0


class StoryClock:
    """A clock that is where the last sample was; ``slept_s`` is how far the time of day has run ahead by sleeping."""

    factor = 1.0

    def __init__(self) -> None:
        self.now_s = ORIGIN_S
        self.slept_s = 0.0

    def monotonic_s(self) -> float:
        return self.now_s

    def utc(self) -> datetime:
        return BEGAN + timedelta(seconds=self.now_s - ORIGIN_S + self.slept_s)

    async def sleep(self, duration_s: float) -> None:
        await asyncio.sleep(0)


class Story:
    """Several sources told in the right order, as fast as the capture takes them."""

    def __init__(self, drive: Drive, signals: Signals | None = None, clock: StoryClock | None = None) -> None:
        self.clock = clock or StoryClock()
        self._batches = list(bunched(streams(drive, signals or Signals()), 0.5))
        self._turn = 0
        self._moved = asyncio.Condition()
        self.sources = [StorySource(self, "distance", (POSITION,)), StorySource(self, "beam", BEAM)]
        self.sleeps: list[tuple[float, float]] = []

    async def next_of(self, name: str) -> SampleBatch | None:
        """The next batch of a source, once those before it have been told."""
        async with self._moved:
            await self._moved.wait_for(lambda: self._is_next(name) or self._turn >= len(self._batches))
            if self._turn >= len(self._batches):
                return None
            batch = self._batches[self._turn]
            self._turn += 1
            self._moved.notify_all()
        self._pass_time(float(batch.time_s[-1]))
        return SampleBatch(batch.source, batch.channels, batch.time_s + ORIGIN_S - self.clock.slept_s, batch.value)

    def _is_next(self, name: str) -> bool:
        return self._turn < len(self._batches) and self._batches[self._turn].source == name

    def _pass_time(self, until_s: float) -> None:
        for from_s, to_s in [item for item in self.sleeps if item[1] <= until_s]:
            self.clock.slept_s += to_s - from_s
            self.sleeps.remove((from_s, to_s))
        self.clock.now_s = max(self.clock.now_s, ORIGIN_S + until_s - self.clock.slept_s)


class StorySource:
    def __init__(self, story: Story, name: str, channels: tuple[str, ...]) -> None:
        self._story = story
        self.name = name
        self.channels = channels
        self.rate_hz = RATES_HZ[name]

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        yield Happening("instruments.connected", {"source": self.name, "address": "here"})
        while (batch := await self._story.next_of(self.name)) is not None:
            yield batch
            await asyncio.sleep(0)


def a_pass(**other: object) -> Pass:
    settings = PassSettings(averaging_s=5.0, dwell_s=1.0, smallest_step_mm=10.0)
    stated: dict[str, object] = {
        "id": UUID(int=1),
        "line_id": UUID(int=2),
        "setup_id": UUID(int=3),
        "number": 1,
        "direction": "forward",
        "position_channel": POSITION,
        "channels": BEAM,
        "began_utc": BEGAN,
        "settings": settings,
    }
    return Pass(**{**stated, **other})  # type: ignore[arg-type]


@dataclass
class Notebook:
    """A sink that writes down what it is told, and in which order."""

    readings: list[Reading] = field(default_factory=list)
    blocks: list[StreamBlock] = field(default_factory=list)
    events: list[PassEvent] = field(default_factory=list)
    begun: list[Pass] = field(default_factory=list)
    ended: list[Pass] = field(default_factory=list)

    def begin_pass(self, taken: Pass) -> None:
        self.begun.append(taken)

    def keep_reading(self, reading: Reading) -> None:
        self.readings.append(reading)

    def keep_stream(self, block: StreamBlock) -> None:
        self.blocks.append(block)

    def note(self, event: PassEvent) -> None:
        self.events.append(event)

    def end_pass(self, ended: Pass) -> None:
        self.ended.append(ended)

    @property
    def keys(self) -> list[str]:
        return [event.key for event in self.events]

    def of(self, key: str) -> list[PassEvent]:
        return [event for event in self.events if event.key == key]


def places(readings: Iterable[Reading]) -> list[int]:
    return [round(reading.position_mm) for reading in readings]
