"""What every channel said in the last half hour, for the tests of a set-up: averages and recordings at standstill."""

from __future__ import annotations

import threading
from collections import deque
from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.guard import correlation_time_s
from waywright.instruments import Happening, SampleBatch
from waywright.readings.records import Floats

KEPT_S = 1800.0
_FEWEST = 8


@dataclass(frozen=True, slots=True)
class Average:
    """A channel over some time: mean, its standard error with the memory of the air, samples; in the inside unit."""

    mean: float
    error: float
    samples: int


class Recorder:
    """Keeps the samples of the last half hour of the instruments' time; told of every batch, asked from any thread."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._batches: dict[str, deque[SampleBatch]] = {}
        self._source_of: dict[str, tuple[str, int]] = {}

    def look(self, source: str, item: SampleBatch | Happening) -> None:
        """What a source hands on."""
        if isinstance(item, Happening) or not len(item.time_s):
            return
        with self._lock:
            kept = self._batches.setdefault(source, deque())
            kept.append(item)
            self._source_of |= {name: (source, at) for at, name in enumerate(item.channels)}
            while kept[0].time_s[-1] < item.time_s[-1] - KEPT_S:
                kept.popleft()

    def now_s(self, channel: str) -> float | None:
        """The time of the newest sample of a channel; None where none has come."""
        with self._lock:
            source, _ = self._source_of.get(channel, ("", 0))
            kept = self._batches.get(source)
            return float(kept[-1].time_s[-1]) if kept else None

    def recording(self, channel: str, from_s: float, to_s: float = np.inf) -> tuple[float, Floats]:
        """Spacing in s and values (n,) of a channel, NaN where it had none. Raises BadInput where too little came."""
        with self._lock:
            source, column = self._source_of.get(channel, ("", 0))
            batches = [item for item in self._batches.get(source, ()) if item.time_s[-1] >= from_s]
        time_s = np.concatenate([item.time_s for item in batches]) if batches else np.empty(0)
        value = np.concatenate([item.value[:, column] for item in batches]) if batches else np.empty(0)
        within = (time_s >= from_s) & (time_s <= to_s)
        if int(np.isfinite(value[within]).sum()) < _FEWEST:
            raise BadInput("jobs.too_little_heard", channel=channel, samples=int(within.sum()), needed=_FEWEST)
        return float(np.median(np.diff(time_s[within]))), value[within]

    def average(self, channel: str, from_s: float, to_s: float = np.inf) -> Average:
        """The mean of a channel. Raises BadInput where too little came."""
        spacing_s, value = self.recording(channel, from_s, to_s)
        good = value[np.isfinite(value)]
        memory_s = correlation_time_s(good, spacing_s)
        independent = max(2.0, len(good) * spacing_s / (2.0 * memory_s))
        return Average(float(good.mean()), float(good.std(ddof=1) / np.sqrt(min(independent, len(good)))), len(good))
