"""Time of a pass: seconds since it began, by the monotonic clock, put right when the computer has slept.

Most monotonic clocks stand still while a computer sleeps; the time of day does not. A forward jump between the two is
added to the time of the pass, so that a sleep is a gap in every stream and in no reading.
"""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np

from waywright.clocks import Clock
from waywright.readings import Floats

_JUMP_S = 1.0


class PassTime:
    """Seconds since ``began_utc``; a pass that is continued later goes on counting from its own beginning."""

    def __init__(self, clock: Clock, began_utc: datetime) -> None:
        self._clock = clock
        self._began_utc = began_utc
        self._jump_s = _JUMP_S * max(1.0, clock.factor)
        now_s = clock.monotonic_s()
        self._offset_s = (clock.utc() - began_utc).total_seconds() - now_s
        self._checked_s = now_s
        # Where on the monotonic clock a later offset holds.
        self._jumps: list[tuple[float, float]] = []

    def now_s(self) -> float:
        """Seconds since the pass began."""
        return self._clock.monotonic_s() + self._current_s

    def of(self, monotonic_s: Floats) -> Floats:
        """Times (n,) of the monotonic clock as seconds since the pass began."""
        times = monotonic_s + self._offset_s
        for from_s, offset_s in self._jumps:
            times = np.where(monotonic_s > from_s, monotonic_s + offset_s, times)
        return times

    def utc(self, time_s: float) -> datetime:
        """The time of day of a time of the pass."""
        return self._began_utc + timedelta(seconds=time_s)

    def slept_s(self) -> float:
        """How long the computer has slept since this was asked last; ask often. 0 if it has not."""
        now_s = self._clock.monotonic_s()
        offset_s = (self._clock.utc() - self._began_utc).total_seconds() - now_s
        slept_s = offset_s - self._current_s
        checked_s, self._checked_s = self._checked_s, now_s
        if slept_s < self._jump_s:
            return 0.0
        self._jumps.append((checked_s, offset_s))
        return slept_s

    @property
    def _current_s(self) -> float:
        return self._jumps[-1][1] if self._jumps else self._offset_s
