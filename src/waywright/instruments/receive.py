"""An instrument as a source of samples: link -> lines -> values -> times."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import aclosing
from dataclasses import dataclass, field

import numpy as np

from waywright.clocks import Clock
from waywright.instruments.batches import Flaw, Happening, SampleBatch
from waywright.instruments.commanding import Commanding
from waywright.instruments.decoding import Decoded, Decoder
from waywright.instruments.description import Description
from waywright.instruments.lines import LineSplitter
from waywright.instruments.links import REOPENED, Chunk, open_link
from waywright.instruments.reading_file import Instrument
from waywright.instruments.receive_times import AskedTimes, SpacedTimes, StampedTimes
from waywright.quantities import Kind, unit

_UNREADABLE_LINES = 50
_REASONS = tuple(flaw for flaw in Flaw if flaw is not Flaw.NONE)
# Wall time within which a sender that was held up, or this computer, hands over everything that waited.
_CATCH_UP_WALL_S = 0.25


@dataclass(slots=True)
class Tally:
    """Counts since the source was made: samples, lines refused, pieces of lines, lines too long.

    ``malformed`` lines failed the pattern, the checksum or the counter; ``checksum`` and ``counter`` are those of them
    that failed only there. ``missed`` lines never came or could not be read, by the counter. ``flawed`` counts values
    of otherwise good lines that are NaN, by reason.
    """

    samples: int = 0
    malformed: int = 0
    checksum: int = 0
    counter: int = 0
    missed: int = 0
    partial: int = 0
    overlong: int = 0
    flawed: dict[Flaw, int] = field(default_factory=dict)


class InstrumentSource:
    """Samples of one described instrument. Iterate over it; leaving the loop closes the link.

    ``listener`` is shown the lines of every chunk before they are decoded.
    """

    def __init__(
        self, instrument: Instrument, clock: Clock, *, listener: Callable[[Sequence[str]], None] | None = None
    ) -> None:
        stated = instrument.description
        self.name = instrument.name
        self.channels = instrument.channels
        self.rate_hz = stated.stream.rate_hz
        self.tally = Tally()
        self._link = open_link(stated, clock)
        self._commanding = Commanding(stated, self._link.send)
        self._splitter = LineSplitter()
        self._decoder = Decoder(stated)
        self._times = _times(stated)
        self._delay_s = stated.stream.delay_s
        self._listener = listener
        self._refused = self._unclean = 0
        self._clock = clock
        self._held: list[str] = []
        self._held_from_s = self._held_until_s = 0.0

    async def command(self, name: str, /, **values: float) -> None:
        """Tell the instrument something that its description knows, and wait for the answer if it has one.

        Raises BadInput for an unknown command or a value beyond its limits, InstrumentError if nothing can be sent now
        or the instrument does not confirm. The source must be iterated over meanwhile.
        """
        await self._commanding.tell(name, values)

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        """Batches and happenings as they come, for ever."""
        async with aclosing(self._link.chunks()) as chunks:
            async for item in chunks:
                for made in self._made_of(item) if isinstance(item, Chunk) else self._flushed():
                    yield made
                if isinstance(item, Happening):
                    if item.key in ("instruments.connected", REOPENED):
                        self._restart()
                    if item.key != REOPENED:
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
        self._decoder.checks.restart()
        self._times.restart()
        self._refused = self._unclean = 0

    def _made_of(self, chunk: Chunk) -> list[SampleBatch | Happening]:
        if not chunk.data:
            waited_s = (chunk.received_s - self._held_from_s) / self._clock.factor
            return self._flushed() if self._held and waited_s > _CATCH_UP_WALL_S else []
        lines = self._commanding.without_answers(self._splitter.lines(chunk.data), self._splitter.take_head())
        if self._listener is not None:
            self._listener(lines)
        if not lines or self._late(lines, chunk.received_s):
            return []
        return self._flushed()

    def _flushed(self) -> list[SampleBatch | Happening]:
        """What the lines in hand say."""
        if not self._held:
            return []
        decoded = self._decoder.decode(self._held)
        self._unclean += sum("\ufffd" in line for line in self._held) if decoded.malformed else 0
        self._held.clear()
        self._count(decoded)
        made: list[SampleBatch | Happening] = []
        if count := len(decoded.value):
            stamps = np.empty(count) if decoded.stamp_s is None else decoded.stamp_s
            times = self._times.times(self._held_until_s, stamps) - self._delay_s
            made.append(SampleBatch(self.name, self.channels, times, decoded.value, decoded.flaw))
        if self._unreadable(decoded):
            # Bytes that are no text at all come from a wrong baud rate or parity, not from a wrong pattern.
            garbled = 2 * self._unclean > self._refused
            key = "instruments.garbled" if garbled else "instruments.unreadable"
            made.append(Happening(key, {"source": self.name, "lines": self._refused}))
        return made

    def _count(self, decoded: Decoded) -> None:
        tally = self.tally
        tally.samples += len(decoded.value)
        tally.malformed += decoded.malformed
        checks = self._decoder.checks
        tally.checksum, tally.counter, tally.missed = checks.failed["checksum"], checks.failed["counter"], checks.missed
        tally.partial, tally.overlong = self._splitter.partial, self._splitter.overlong
        if decoded.flaw is not None:
            for flaw in _REASONS:
                tally.flawed[flaw] = tally.flawed.get(flaw, 0) + int(np.count_nonzero(decoded.flaw == flaw))

    def _unreadable(self, decoded: Decoded) -> bool:
        """Whether it should be said now that nothing fits: once, until something fits again."""
        before = self._refused
        self._refused = 0 if len(decoded.value) else before + decoded.malformed
        self._unclean = self._unclean if self._refused else 0
        return before < _UNREADABLE_LINES <= self._refused


def _times(stated: Description) -> SpacedTimes | StampedTimes:
    stream, stamp = stated.stream, stated.stream.time_stamp
    if stamp is None:
        evenly = stated.ask is None and not stated.brings_values
        return SpacedTimes(stream.rate_hz) if evenly else AskedTimes(stream.rate_hz)
    wraps_at_s = None if stamp.wraps_at is None else unit(Kind.TIME, stamp.unit).inside(stamp.wraps_at)
    return StampedTimes(stream.rate_hz, wraps_at_s)
