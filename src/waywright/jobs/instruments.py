"""Instruments before they measure: check a description against the live link, tell the instrument something."""

from __future__ import annotations

import asyncio
import re
from collections import deque
from collections.abc import Callable, Mapping
from contextlib import aclosing
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

import numpy as np

from waywright.clocks import Clock
from waywright.instruments import Happening, Instrument, InstrumentSource, SampleBatch, read_instrument
from waywright.wording import text

_GAP_SAMPLES = 5.0
_SHOWN_LINES = 5
_KEPT = 10_000


@dataclass(frozen=True, slots=True)
class ChannelSeen:
    """A channel while it was listened to, in its inside unit: newest value, mean, scatter, extremes, number of values.

    ``standard_deviation`` is that of the last values. Numbers are None where no value came.
    """

    channel: str
    latest: float | None
    mean: float | None
    standard_deviation: float | None
    least: float | None
    most: float | None
    values: int


@dataclass(frozen=True, slots=True)
class Checked:
    """What came from an instrument in ``duration_s``.

    ``gaps`` counts pauses of more than five samples, ``longest_gap_s`` is the longest time between two samples.
    ``unmatched`` are the newest lines that do not fit the pattern; ``flawed`` counts values by why they are none.
    """

    source: str
    duration_s: float
    rate_hz: float
    expected_hz: float
    samples: int
    gaps: int
    longest_gap_s: float | None
    malformed: int
    checksum_failed: int
    out_of_turn: int
    missed: int
    partial: int
    flawed: dict[str, int]
    unmatched: tuple[str, ...]
    said: tuple[str, ...]
    channels: tuple[ChannelSeen, ...]


class Check:
    """Listens to one instrument and keeps the account; bounded, however long it runs."""

    def __init__(self, instrument: Instrument, clock: Clock) -> None:
        self._clock = clock
        self._matches = re.compile(instrument.description.line_pattern, re.ASCII).fullmatch
        self._unmatched: deque[str] = deque(maxlen=_SHOWN_LINES)
        self._said: deque[str] = deque(maxlen=20)
        self.source = InstrumentSource(instrument, clock, listener=self._look)
        self._times: deque[float] = deque(maxlen=_KEPT)
        self._values: deque[Any] = deque(maxlen=_KEPT)
        self._gaps = 0
        self._longest_s = 0.0
        self._began_s = clock.monotonic_s()

    async def listen(self, seconds: float | None, on_news: Callable[[Checked], None] | None = None) -> Checked:
        """Listen for so long, or until cancelled; ``on_news`` is shown the account after every batch."""
        try:
            async with asyncio.timeout(seconds), aclosing(cast(Any, aiter(self.source))) as items:
                async for item in items:
                    self._heed(item)
                    if on_news is not None:
                        on_news(self.account())
        except TimeoutError:
            pass
        return self.account()

    def account(self) -> Checked:
        """What has come so far."""
        tally = self.source.tally
        times = np.array(self._times)
        span_s = float(times[-1] - times[0]) if len(times) > 1 else 0.0
        return Checked(
            source=self.source.name,
            duration_s=self._clock.monotonic_s() - self._began_s,
            rate_hz=(len(times) - 1) / span_s if span_s > 0 else 0.0,
            expected_hz=self.source.rate_hz,
            samples=tally.samples,
            gaps=self._gaps,
            longest_gap_s=self._longest_s if len(times) > 1 else None,
            malformed=tally.malformed,
            checksum_failed=tally.checksum,
            out_of_turn=tally.counter,
            missed=tally.missed,
            partial=tally.partial,
            flawed={flaw.name.lower(): count for flaw, count in tally.flawed.items() if count},
            unmatched=tuple(self._unmatched),
            said=tuple(self._said),
            channels=self._channels(),
        )

    def _look(self, lines: Any) -> None:
        self._unmatched.extend(line[:200] for line in lines if not self._matches(line))

    def _heed(self, item: SampleBatch | Happening) -> None:
        if isinstance(item, Happening):
            self._said.append(text(item.key, **item.facts))
            return
        before = [self._times[-1]] if self._times else []
        steps = np.diff(np.concatenate((before, item.time_s)))
        if len(steps):
            self._longest_s = max(self._longest_s, float(steps.max()))
            self._gaps += int(np.count_nonzero(steps > _GAP_SAMPLES / self.source.rate_hz))
        self._times.extend(item.time_s.tolist())
        self._values.extend(item.value)

    def _channels(self) -> tuple[ChannelSeen, ...]:
        table = np.array(self._values).reshape(-1, len(self.source.channels))
        return tuple(_seen(name, table[:, at]) for at, name in enumerate(self.source.channels))


def _seen(channel: str, column: Any) -> ChannelSeen:
    good = column[np.isfinite(column)]
    if not len(good):
        return ChannelSeen(channel, None, None, None, None, None, 0)
    latest = float(column[-1]) if np.isfinite(column[-1]) else None
    scatter = float(np.std(good, ddof=1)) if len(good) > 1 else None
    return ChannelSeen(channel, latest, float(good.mean()), scatter, float(good.min()), float(good.max()), len(good))


async def tell(path: Path, command: str, values: Mapping[str, float], clock: Clock) -> None:
    """Tell an instrument one of the commands of its description, and wait for the answer.

    Raises BadInput for an unknown command or value, InstrumentError if it cannot be reached or does not confirm.
    """
    source = InstrumentSource(read_instrument(path), clock)
    opened: asyncio.Future[None] = asyncio.get_running_loop().create_future()

    async def listen() -> None:
        async for item in source:
            if isinstance(item, Happening) and not opened.done():
                opened.set_result(None)

    listening = asyncio.create_task(listen())
    try:
        await asyncio.wait((opened, listening), return_when=asyncio.FIRST_COMPLETED)
        await source.command(command, **values)
    finally:
        listening.cancel()
        await asyncio.gather(listening, return_exceptions=True)
