"""What adds itself to a signal: noise with a memory, and slow wandering.

Every generator is drawn in the order of simulated time, so that the noise does not depend on how time was cut up.
"""

from __future__ import annotations

import math

import numpy as np

from waywright.readings.records import Floats


class Memory:
    """Gaussian noise of unit variance whose correlation falls by 1/e within ``memory_s`` (first-order autoregressive).

    x[k] = a x[k-1] + sqrt(1 - a^2) w[k] with a = exp(-step / memory).
    """

    def __init__(self, channels: int, memory_s: float, rate_hz: float, generator: np.random.Generator) -> None:
        self._keep = math.exp(-1.0 / (memory_s * rate_hz))
        self._generator = generator
        self._last = generator.standard_normal(channels)

    def next(self, samples: int) -> Floats:
        """The next samples, (channels, samples)."""
        fresh = self._generator.standard_normal((samples, self._last.size)) * math.sqrt(1.0 - self._keep**2)
        for number in range(samples):
            fresh[number] += self._keep * self._last
            self._last = fresh[number]
        return fresh.T


class Wander:
    """A slow way to and fro that begins at zero: two sines with random phases, within about the size given."""

    def __init__(self, sizes: tuple[float, ...], period_s: float, generator: np.random.Generator) -> None:
        self._size = np.array(sizes)[:, None]
        self._phase = generator.uniform(0.0, 2.0 * np.pi, (2, len(sizes), 1))
        self._rate = 2.0 * np.pi / period_s

    def at(self, time_s: Floats) -> Floats:
        """Values at times (n,); (sizes, n)."""
        return np.asarray(self._size * (self._way(time_s) - self._way(np.zeros(1))))

    def _way(self, time_s: Floats) -> Floats:
        slow = 0.5 * np.sin(self._rate * time_s + self._phase[0])
        return np.asarray(slow + 0.2 * np.sin(2.7 * self._rate * time_s + self._phase[1]))
