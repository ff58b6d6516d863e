"""Which sources are there, up to when all have delivered, and where samples are missing."""

from __future__ import annotations

import numpy as np

from waywright.capture.events import Event, Returned, Silent, WatchedSource
from waywright.capture.samples import SampleStore
from waywright.instruments import SampleBatch


class Presence:
    """Keeps the recent samples of the watched sources; tells silence and return."""

    def __init__(self, watched: tuple[WatchedSource, ...], began_s: float) -> None:
        self.stores = {source.name: SampleStore(source.channels) for source in watched}
        self._watched = {source.name: source for source in watched}
        self._last_s = dict.fromkeys(self.stores, -np.inf)
        self._heard_s = dict.fromkeys(self.stores, began_s)
        self._silent: set[str] = set()
        self._now_s = began_s

    def feed(self, batch: SampleBatch) -> list[Event]:
        """Samples of a source."""
        if batch.source not in self.stores or len(batch.time_s) == 0:
            return []
        self.stores[batch.source].append(batch)
        last_s = float(batch.time_s[-1])
        events: list[Event] = []
        if batch.source in self._silent:
            self._silent.discard(batch.source)
            silence_s = float(batch.time_s[0]) - self._heard_s[batch.source]
            events.append(Returned(float(batch.time_s[0]), batch.source, silence_s))
        self._last_s[batch.source] = self._heard_s[batch.source] = last_s
        self._now_s = max(self._now_s, last_s)
        return events

    def tick(self, now_s: float) -> list[Event]:
        """Everything that arrived until ``now_s`` has been fed: which sources have fallen silent."""
        self._now_s = max(self._now_s, now_s)
        events: list[Event] = []
        for name, source in self._watched.items():
            if name not in self._silent and now_s - self._heard_s[name] > source.silent_s:
                self._silent.add(name)
                events.append(Silent(now_s, name, self._heard_s[name]))
        return events

    @property
    def silent(self) -> frozenset[str]:
        """Sources that are silent now."""
        return frozenset(self._silent)

    @property
    def complete_s(self) -> float:
        """Up to when every source that is not silent has delivered; minus infinity before that is known."""
        return min((last for name, last in self._last_s.items() if name not in self._silent), default=-np.inf)

    def gap(self, source: WatchedSource, after_s: float, until_s: float) -> tuple[float, float] | None:
        """The last gap of a source in the newest part of (after_s, until_s]: from, to; ``to`` is where samples go on.

        Called at every step, so that a stretch of two gap lengths suffices.
        """
        store = self.stores[source.name]
        from_s = max(after_s, until_s - 2.0 * source.gap_s)
        times = store.between(from_s, until_s)[0]
        edges = np.concatenate(([store.latest_s(from_s)], times, [until_s]))
        wide = np.flatnonzero(np.diff(edges) > source.gap_s)
        if len(wide) == 0:
            return None
        return float(edges[wide[-1]]), float(edges[wide[-1] + 1])

    def forget(self, before_s: float) -> None:
        """Samples before a time are not needed any more."""
        for store in self.stores.values():
            store.forget(before_s)

    def forget_stalled(self, kept_s: float) -> None:
        """Keep only the last seconds of every source: nothing can be stepped through for now."""
        self.forget(self._now_s - kept_s)
