"""The recent samples of one source, in order, as long as a window may need them."""

from __future__ import annotations

import numpy as np

from waywright.instruments import SampleBatch
from waywright.readings import Floats


class SampleStore:
    """Times (n,) and values (n, channels) that grow at one end and are forgotten at the other."""

    def __init__(self, channels: tuple[str, ...]) -> None:
        self.channels = channels
        self._time_s = np.empty(256)
        self._value = np.empty((256, len(channels)))
        self._first = 0
        self._end = 0

    @property
    def time_s(self) -> Floats:
        """Times of all samples kept."""
        return self._time_s[self._first : self._end]

    def column(self, channel: str) -> int:
        """Where the channel stands."""
        return self.channels.index(channel)

    def append(self, batch: SampleBatch) -> None:
        """Samples that follow the ones before."""
        count = len(batch.time_s)
        if self._end + count > len(self._time_s):
            self._make_room(count)
        self._time_s[self._end : self._end + count] = batch.time_s
        self._value[self._end : self._end + count] = batch.value
        self._end += count

    def latest_s(self, until_s: float) -> float:
        """Time of the last sample not later than ``until_s``; minus infinity if there is none."""
        at = int(np.searchsorted(self.time_s, until_s, side="right"))
        return float(self.time_s[at - 1]) if at else -np.inf

    def between(self, after_s: float, until_s: float) -> tuple[Floats, Floats]:
        """Times and values of the samples later than ``after_s`` and not later than ``until_s``; views."""
        first, end = np.searchsorted(self.time_s, (after_s, until_s), side="right") + self._first
        return self._time_s[first:end], self._value[first:end]

    def forget(self, before_s: float) -> None:
        """Samples before a time are not needed any more (the one just before it stays, to see a gap)."""
        self._first += max(0, int(np.searchsorted(self.time_s, before_s)) - 1)

    def _make_room(self, count: int) -> None:
        kept = self._end - self._first
        size = max(256, 2 * (kept + count))
        time_s, value = np.empty(size), np.empty((size, len(self.channels)))
        time_s[:kept] = self.time_s
        value[:kept] = self._value[self._first : self._end]
        self._time_s, self._value, self._first, self._end = time_s, value, 0, kept
