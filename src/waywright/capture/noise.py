"""Noise of a position source, running noise of the channels, and the robust mean of a window.

Nothing here knows a quantity or a result: it judges whether samples belong together.
"""

from __future__ import annotations

import math
from collections import deque

import numpy as np

from waywright.readings import Floats

# The normal distribution: 0.3 of |z| lie below 0.3853; the median of |z| is 0.6745.
_LOW_SHARE = 0.3
_LOW_QUANTILE = 0.3853
_MEDIAN_QUANTILE = 0.6745
_LEAST_DIFFERENCES = 6
_FAR = 8.0
_RECENT_WINDOWS = 3


def second_difference_noise(value: Floats) -> float:
    """Standard deviation of one value of a series (n,), from x[i-1] - 2 x[i] + x[i+1]: immune to constant speed.

    The second difference of independent values has 6 times their variance. Robust (median); NaN for n < 3.
    """
    if len(value) < 3:
        return float("nan")
    return float(np.median(np.abs(np.diff(value, 2)))) / (_MEDIAN_QUANTILE * math.sqrt(6.0))


def resolution_step(value: Floats) -> float:
    """Smallest step between neighbouring values (n,): the quantisation of a coarse source; 0 if nothing changes."""
    steps = np.abs(np.diff(value))
    real = steps[steps > 1e-9 * max(1.0, float(np.max(np.abs(value), initial=0.0)))]
    return float(real.min()) if len(real) else 0.0


def robust_spread(value: Floats) -> float:
    """Standard deviation of most of the values (n,), from the median distance to the median.

    Half a quantisation step at least: a coarse channel that rests on one value is not free of noise.
    """
    median = np.median(value)
    spread = float(np.median(np.abs(value - median))) / _MEDIAN_QUANTILE
    return max(spread, 0.5 * resolution_step(value))


def far_out(value: Floats, noise: float | None) -> np.ndarray:
    """Which values (n,) lie more than eight times the noise from the median; NaN is always far out.

    The larger of ``noise`` (None: not known yet) and half a quantisation step counts; without either the spread.
    """
    finite = np.isfinite(value)
    if not finite.any():
        return ~finite
    good = value[finite]
    size = max(noise, 0.5 * resolution_step(good)) if noise is not None else robust_spread(good)
    far: np.ndarray = ~finite
    far[finite] = np.abs(good - np.median(good)) > _FAR * size
    return far


def kept_mean(value: Floats, noise: float | None) -> tuple[float, float, int]:
    """Mean, standard deviation and number of the values (n,) that are not far out.

    So a garbled digit in a line without checksum does not pull the mean; the window keeps all samples.
    """
    kept = value[~far_out(value, noise)]
    return float(kept.mean()), float(kept.std(ddof=1)) if len(kept) > 1 else 0.0, len(kept)


def standard_error(value: Floats, blocks: int = 8) -> float:
    """Standard error of the mean of values (n,) that may be correlated in time.

    The larger of s/sqrt(n) and what the means of eight consecutive blocks say: air in a beam has a memory of up to a
    second, so neighbouring samples do not count in full.
    """
    count = len(value)
    plain = float(value.std(ddof=1)) / math.sqrt(count)
    if count < 2 * blocks:
        return plain
    means = value[: count - count % blocks].reshape(blocks, -1).mean(axis=1)
    return max(plain, float(means.std(ddof=1)) / math.sqrt(blocks))


class MeansNoise:
    """Noise of the mean of ``count`` neighbouring samples of a source that sometimes moves.

    Second differences of neighbouring means over the last ``memory`` samples; a low quantile, because a moving axis
    that is not at constant speed only enlarges them. Slow wander of the source counts, as it must.
    """

    def __init__(self, count: int, memory: int) -> None:
        self._count = count
        self._recent: deque[float] = deque(maxlen=3 * count)
        self._differences: deque[float] = deque(maxlen=memory)
        self._steps: deque[float] = deque(maxlen=memory)

    def see(self, value: float) -> None:
        """One more sample."""
        if self._recent and abs(value - self._recent[-1]) > 1e-9 * max(1.0, abs(value)):
            self._steps.append(abs(value - self._recent[-1]))
        self._recent.append(value)
        if len(self._recent) == 3 * self._count:
            means = np.array(self._recent).reshape(3, -1).mean(axis=1)
            self._differences.append(abs(float(means[0] - 2.0 * means[1] + means[2])))

    def break_off(self) -> None:
        """The next sample does not follow the last one."""
        self._recent.clear()

    @property
    def sigma(self) -> float | None:
        """Standard deviation of such a mean; None until there is enough to say."""
        if len(self._differences) < _LEAST_DIFFERENCES:
            return None
        at = int(_LOW_SHARE * len(self._differences))
        low = float(np.partition(np.array(self._differences), at)[at])
        return low / (_LOW_QUANTILE * math.sqrt(6.0))

    @property
    def step(self) -> float:
        """Smallest change seen of late: the quantisation of a coarse source."""
        return min(self._steps, default=0.0)


class ChannelNoise:
    """Running noise of each channel: the largest spread of the last three accepted windows.

    The largest, because air noise grows with the distance from the source and must not be taken for a disturbance.
    """

    def __init__(self) -> None:
        self._spreads: dict[str, deque[float]] = {}

    def of(self, channel: str) -> float | None:
        """The running noise; None before the first window."""
        spreads = self._spreads.get(channel)
        return max(spreads) if spreads else None

    def accept(self, channel: str, spread: float) -> None:
        """The spread of an accepted window."""
        self._spreads.setdefault(channel, deque(maxlen=_RECENT_WINDOWS)).append(spread)
