"""When each sample was received, on the monotonic clock, although lines arrive in bunches.

A computer that was busy hands over many lines at once: that must not look like a gap. An instrument that was silent
must. Both follow from how many lines arrived, or better from the instrument's own time stamp.
"""

from __future__ import annotations

from collections import deque

import numpy as np

from waywright.readings import Floats

_BLOCK_S = 10.0
_BLOCKS = 6
_HOLE_SAMPLES = 3.0


class SpacedTimes:
    """Without a time stamp: lines that arrived together are spaced back at the nominal rate."""

    def __init__(self, rate_hz: float) -> None:
        self._period_s = 1.0 / rate_hz
        self._last_s = -np.inf

    def restart(self) -> None:
        """A link opened anew needs nothing here: times stay monotone."""

    def fall_short(self, received_s: float, count: int) -> bool:
        """Whether ``count`` lines leave a hole since the last ones that more lines may yet fill."""
        missing_s = received_s - self._last_s - count * self._period_s
        return np.isfinite(missing_s) and bool(missing_s > _HOLE_SAMPLES * self._period_s)

    def times(self, received_s: float, stamp_s: Floats) -> Floats:
        """Times of the ``len(stamp_s)`` samples that arrived at ``received_s``; the stamps themselves are not used."""
        count = len(stamp_s)
        times = received_s - self._period_s * np.arange(count - 1, -1, -1.0)
        return self.monotone(times, received_s)

    def monotone(self, times: Floats, received_s: float) -> Floats:
        """The times, pressed together between the last one before and ``received_s`` where they reach too far back."""
        if len(times) == 0:
            return times
        if times[0] <= self._last_s:
            times = np.linspace(self._last_s, max(received_s, self._last_s), len(times) + 1)[1:]
        self._last_s = float(times[-1])
        return times


class AskedTimes(SpacedTimes):
    """Lines that were asked for, or made at even intervals here: each comes when it comes, no others are awaited."""

    def fall_short(self, received_s: float, count: int) -> bool:
        """Never."""
        return False


class StampedTimes:
    """With a time stamp: instrument time plus the smallest delay seen of late.

    Receive minus stamp is a constant, plus what the computer and the link delayed a line (never less than 0), plus the
    slow drift of two clocks. The lower envelope over the last minute is taken as the constant: it follows a drift of
    0.1 % within 0.06 s. A stamp that runs backwards (restart, clock set) starts the envelope anew.
    """

    def __init__(self, rate_hz: float, wraps_at_s: float | None = None) -> None:
        self._spaced = SpacedTimes(rate_hz)
        self._wraps_at_s = wraps_at_s
        self.restart()

    def restart(self) -> None:
        """The link was opened anew: nothing is known of the instrument's clock."""
        self._turns_s = 0.0
        self._last_stamp_s: float | None = None
        self._minima: deque[tuple[float, float]] = deque(maxlen=_BLOCKS + 1)

    def fall_short(self, received_s: float, count: int) -> bool:
        """Never: the stamps say where the samples belong."""
        return False

    def times(self, received_s: float, stamp_s: Floats) -> Floats:
        """Times (n,) of the samples with these stamps (n,), the last of which arrived at ``received_s``."""
        if len(stamp_s) == 0:
            return stamp_s
        stamp_s = self._unwrapped(stamp_s)
        if self._runs_backwards(stamp_s):
            self._minima.clear()
            self._last_stamp_s = float(stamp_s[-1])
            self._note(received_s, received_s - self._last_stamp_s)
            return self._spaced.times(received_s, stamp_s)
        self._last_stamp_s = float(stamp_s[-1])
        self._note(received_s, received_s - self._last_stamp_s)
        delay_s = min(least for _, least in self._minima)
        return self._spaced.monotone(stamp_s + delay_s, received_s)

    def _unwrapped(self, stamp_s: Floats) -> Floats:
        """Stamps that go on where the instrument's counter begins again from 0."""
        if self._wraps_at_s is None:
            return stamp_s
        before = stamp_s[0] if self._last_stamp_s is None else self._last_stamp_s - self._turns_s
        steps = np.diff(stamp_s, prepend=before)
        turns_s = self._turns_s + self._wraps_at_s * np.cumsum(steps < -0.5 * self._wraps_at_s)
        self._turns_s = float(turns_s[-1])
        return stamp_s + turns_s

    def _runs_backwards(self, stamp_s: Floats) -> bool:
        first = stamp_s[0] if self._last_stamp_s is None else self._last_stamp_s
        return bool(np.any(np.diff(stamp_s, prepend=first) < 0))

    def _note(self, received_s: float, delay_s: float) -> None:
        """Keep the smallest delay of every ten seconds of the last minute."""
        if self._minima and received_s - self._minima[-1][0] < _BLOCK_S:
            began_s, least_s = self._minima[-1]
            self._minima[-1] = (began_s, min(least_s, delay_s))
        else:
            self._minima.append((received_s, delay_s))
        while self._minima[0][0] < received_s - _BLOCK_S * (_BLOCKS + 1):
            self._minima.popleft()
