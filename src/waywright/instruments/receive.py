"""An instrument as a source of samples: link -> lines -> values -> times."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import aclosing
from dataclasses import dataclass, field

import numpy as np

from waywright.clocks import Clock
from waywright.instruments.batches import Flaw, Happening, SampleBatch
from waywright.instruments.decoding import Decoded, Decoder
from waywright.instruments.description import Stream, TcpLink
from waywright.instruments.lines import LineSplitter
from waywright.instruments.links import Chunk, Reconnecting, serial_link, tcp_link
from waywright.instruments.reading_file import Instrument
from waywright.instruments.receive_times import SpacedTimes, StampedTimes
from waywright.quantities import Kind, unit

_QUIET_S = 10.0
_QUIET_SAMPLES = 20
_UNREADABLE_LINES = 50
# Wall time within which a sender that was held up, or this computer, hands over everything that waited.
_CATCH_UP_WALL_S = 0.25


@dataclass(slots=True)
class Tally:
    """Counts since the source was made: samples, lines refused by the pattern, pieces of lines, lines too long.

    ``flawed`` counts values of otherwise good lines that are NaN, by reason.
    """

    samples: int = 0
    malformed: int = 0
    partial: int = 0
    overlong: int = 0
    flawed: dict[Flaw, int] = field(default_factory=dict)


class InstrumentSource:
    """Samples of one described instrument. Iterate over it; leaving the loop closes the link."""

    def __init__(self, instrument: Instrument, clock: Clock) -> None:
        self.name = instrument.name
        self.channels = instrument.channels
        self.rate_hz = instrument.description.stream.rate_hz
        self.tally = Tally()
        self._link = _link(instrument, clock)
        self._splitter = LineSplitter()
        self._decoder = Decoder(instrument.description)
        self._times = _times(instrument.description.stream)
        self._refused = 0
        self._clock = clock
        self._held: list[str] = []
        self._held_from_s = self._held_until_s = 0.0

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        """Batches and happenings as they come, for ever."""
        async with aclosing(self._link.chunks()) as chunks:
            async for item in chunks:
                for made in self._made_of(item) if isinstance(item, Chunk) else self._flushed():
                    yield made
                if isinstance(item, Happening):
                    if item.key == "instruments.connected":
                        self._restart()
                    yield item

    def _late(self, lines: list[str], received_s: float) -> bool:
        """Whether these lines are the first of a bunch that was held up, so that the rest must come any moment.

        Without a time stamp only all of the bunch together says when its first line was sent.
        """
        if not self._held:
            self._held_from_s = received_s
        self._held += lines
        self._held_until_s = received_s
        if (received_s - self._held_from_s) / self._clock.factor > _CATCH_UP_WALL_S:
            return False
        return self._times.fall_short(received_s, len(self._held))

    def _restart(self) -> None:
        self._splitter.restart()
        self._times.restart()
        self._refused = 0

    def _made_of(self, chunk: Chunk) -> list[SampleBatch | Happening]:
        lines = self._splitter.lines(chunk.data)
        if not lines or self._late(lines, chunk.received_s):
            return []
        return self._flushed()

    def _flushed(self) -> list[SampleBatch | Happening]:
        """What the lines in hand say."""
        if not self._held:
            return []
        decoded = self._decoder.decode(self._held)
        self._held.clear()
        self._count(decoded)
        made: list[SampleBatch | Happening] = []
        if count := len(decoded.value):
            stamps = np.empty(count) if decoded.stamp_s is None else decoded.stamp_s
            times = self._times.times(self._held_until_s, stamps)
            made.append(SampleBatch(self.name, self.channels, times, decoded.value, decoded.flaw))
        if self._unreadable(decoded):
            made.append(Happening("instruments.unreadable", {"source": self.name, "lines": self._refused}))
        return made

    def _count(self, decoded: Decoded) -> None:
        tally = self.tally
        tally.samples += len(decoded.value)
        tally.malformed += decoded.malformed
        tally.partial, tally.overlong = self._splitter.partial, self._splitter.overlong
        if decoded.flaw is not None:
            for flaw in (Flaw.LOST, Flaw.OUT_OF_RANGE, Flaw.NOT_A_NUMBER):
                tally.flawed[flaw] = tally.flawed.get(flaw, 0) + int(np.count_nonzero(decoded.flaw == flaw))

    def _unreadable(self, decoded: Decoded) -> bool:
        """Whether it should be said now that nothing fits: once, until something fits again."""
        before = self._refused
        self._refused = 0 if len(decoded.value) else before + decoded.malformed
        return before < _UNREADABLE_LINES <= self._refused


def _link(instrument: Instrument, clock: Clock) -> Reconnecting:
    stated = instrument.description
    quiet_s = max(_QUIET_S, _QUIET_SAMPLES / stated.stream.rate_hz)
    if isinstance(stated.link, TcpLink):
        return tcp_link(stated.link, clock, stated.name, quiet_s)
    return serial_link(stated.link, clock, stated.name, quiet_s)


def _times(stream: Stream) -> SpacedTimes | StampedTimes:
    stamp = stream.time_stamp
    if stamp is None:
        return SpacedTimes(stream.rate_hz)
    wraps_at_s = None if stamp.wraps_at is None else unit(Kind.TIME, stamp.unit).inside(stamp.wraps_at)
    return StampedTimes(stream.rate_hz, wraps_at_s)
