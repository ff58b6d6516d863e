"""One window of all needed channels: is it complete, was it disturbed, has it been averaged for long enough."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from waywright.capture.events import WatchedSource
from waywright.capture.noise import ChannelNoise, far_out, kept_mean, robust_spread, standard_error
from waywright.capture.samples import SampleStore
from waywright.readings import ChannelValue, Floats, Trace

LEAST_SAMPLES = 10
_RUN = 3
_MOST_FAR = 0.05
_RESTLESS = 4.0


@dataclass(frozen=True, slots=True)
class Trouble:
    """A stretch of a window that must not count: from, to (s), the channel and what was wrong with it."""

    from_s: float
    to_s: float
    channel: str
    cause: str


@dataclass(frozen=True, slots=True)
class Spread:
    """A channel that scatters ``times`` as much as it has of late."""

    channel: str
    times: float


class WindowView:
    """The samples of every needed channel in (after_s, until_s]; the position channel is one of them.

    ``noise`` is what the channels are used to; ``by_itself`` measures a window against its own scatter if that is
    larger: where it has been restless for long, that is what the air is now.
    """

    def __init__(
        self,
        watched: tuple[WatchedSource, ...],
        stores: dict[str, SampleStore],
        after_s: float,
        until_s: float,
        noise: ChannelNoise,
        position_channel: str,
        by_itself: bool = False,
    ) -> None:
        self.after_s = after_s
        self.until_s = until_s
        self._noise = noise
        self._position_channel = position_channel
        self._by_itself = by_itself
        self._columns: dict[str, tuple[Floats, Floats]] = {}
        for source in watched:
            store = stores[source.name]
            times, values = store.between(after_s, until_s)
            for channel in source.needed:
                self._columns[channel] = (times, values[:, store.column(channel)])

    def column(self, channel: str) -> tuple[Floats, Floats]:
        """Times (n,) and values (n,) of a channel."""
        return self._columns[channel]

    @property
    def samples(self) -> int:
        """Samples of the channel that has the fewest."""
        return min(len(times) for times, _ in self._columns.values())

    @property
    def enough_s(self) -> float:
        """When the slowest channel had its tenth sample."""
        return max(float(times[LEAST_SAMPLES - 1]) for times, _ in self._columns.values())

    def trouble(self) -> Trouble | None:
        """The stretch in which a channel has no value or lies far out, if there is one: the one that ends last."""
        found = [item for item in self._troubles() if item is not None]
        return max(found, key=lambda item: item.to_s, default=None)

    def _troubles(self) -> Iterator[Trouble | None]:
        for channel, (times, values) in self._columns.items():
            yield _lost(channel, times, values)
            if channel != self._position_channel and len(times) >= LEAST_SAMPLES:
                yield _outliers(channel, times, values, self._usual(channel, values))

    def _usual(self, channel: str, values: Floats) -> float | None:
        """The scatter that counts as usual; None: not known, the window is all there is."""
        usual = self._noise.of(channel)
        return max(usual, robust_spread(values)) if usual is not None and self._by_itself else usual

    @property
    def _detected(self) -> Iterator[tuple[str, Floats]]:
        """Every channel but the position, and its values."""
        return ((name, values) for name, (_, values) in self._columns.items() if name != self._position_channel)

    def restless(self) -> Spread | None:
        """The channel that scatters several times as much as in the windows before, if there is one."""
        known = ((channel, values, self._noise.of(channel)) for channel, values in self._detected)
        ratios = [Spread(channel, robust_spread(values) / usual) for channel, values, usual in known if usual]
        worst = max(ratios, key=lambda item: item.times, default=None)
        return worst if worst is not None and worst.times > _RESTLESS else None

    def standard_error(self) -> tuple[float, str]:
        """The largest standard error of a channel's mean, and the channel."""
        errors = [(standard_error(values), channel) for channel, values in self._detected]
        return max(errors, default=(0.0, self._position_channel))

    def values(self) -> tuple[ChannelValue, ...]:
        """Mean, standard deviation and number of samples of every channel."""
        return tuple(
            ChannelValue(channel, *kept_mean(values, self._usual(channel, values)))
            for channel, (_, values) in self._columns.items()
        )

    def traces(self) -> tuple[Trace, ...]:
        """The samples, copied."""
        return tuple(Trace(channel, times.copy(), values.copy()) for channel, (times, values) in self._columns.items())

    def accept(self) -> None:
        """Let the spreads of this window count for the next ones."""
        for channel, values in self._detected:
            self._noise.accept(channel, robust_spread(values))


def _lost(channel: str, times: Floats, values: Floats) -> Trouble | None:
    missing = np.flatnonzero(~np.isfinite(values))
    if len(missing) == 0:
        return None
    return Trouble(float(times[missing[0]]), float(times[missing[-1]]), channel, "lost")


def _outliers(channel: str, times: Floats, values: Floats, noise: float | None) -> Trouble | None:
    """Values far out that are more than a stray line: three in a row, or one in twenty."""
    far = far_out(values, noise)
    at = np.flatnonzero(far)
    if len(at) == 0:
        return None
    in_a_row = len(values) >= _RUN and bool(np.any(np.convolve(far, np.ones(_RUN), "valid") >= _RUN))
    if not in_a_row and len(at) <= max(1.0, _MOST_FAR * len(values)):
        return None
    return Trouble(float(times[at[0]]), float(times[at[-1]]), channel, "outliers")
