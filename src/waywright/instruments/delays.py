"""Constant delay of one source behind another, from what both said of the same motion.

Two position sources differ by an offset, a scale, and the delay. A detector in a beam that was tilted on purpose says a
straight line of the position, so the same estimate serves: the delay is where the line through both fits best. A motion
that never changes its speed does not tell a delay from an offset; then the delay is not determinable.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from waywright.readings import Floats

_FEWEST = 30
_STEPS = 81
# The misfit must rise above its least by so many times what a sum of as many squares wavers by.
_CLEAR = 8.0

_Misfit = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Delay:
    """``second`` lags ``first`` by ``delay_s`` (negative: it leads), with its standard uncertainty.

    Both are None if the delay is not determinable; ``reason`` is then a wording key.
    """

    delay_s: float | None
    standard_uncertainty_s: float | None
    reason: str | None = None


def estimate_delay(
    first_time_s: Floats, first: Floats, second_time_s: Floats, second: Floats, longest_s: float = 2.0
) -> Delay:
    """The delay of the second source behind the first within ``longest_s`` either way.

    Times (n,) rise; values (n,) are in any unit, NaN is left out. For each delay tried the second source is fitted by a
    straight line of the first, interpolated to the moment earlier by the delay; the misfit is least at the true delay.
    """
    first_time_s, first = _good(first_time_s, first)
    second_time_s, second = _good(second_time_s, second)
    if min(len(first), len(second)) < _FEWEST:
        return Delay(None, None, "instruments.delay_too_few")
    inside = (second_time_s >= first_time_s[0] + longest_s) & (second_time_s <= first_time_s[-1] - longest_s)
    time_s, value = second_time_s[inside], second[inside]
    if len(value) < _FEWEST:
        return Delay(None, None, "instruments.delay_too_short")
    if np.ptp(value) == 0 or np.ptp(first) == 0:
        return Delay(None, None, "instruments.delay_no_motion")

    def misfit(delay_s: float) -> float:
        return _misfit(np.interp(time_s - delay_s, first_time_s, first), value)

    return _lowest(
        misfit, longest_s, len(value), lambda at: _memory(np.interp(time_s - at, first_time_s, first), value)
    )


def _lowest(misfit: _Misfit, longest_s: float, count: int, memory: _Misfit) -> Delay:
    """Coarse, then finer around the lowest point; the curvature there gives the uncertainty."""
    centre_s, half_s = 0.0, longest_s
    for _ in range(4):
        tried = np.linspace(centre_s - half_s, centre_s + half_s, _STEPS)
        tried = tried[np.abs(tried) <= longest_s]
        sums = np.array([misfit(float(delay_s)) for delay_s in tried])
        centre_s, half_s = float(tried[np.argmin(sums)]), 2.0 * half_s / (_STEPS - 1) * 2.0
        if half_s < 1e-5:
            break
    least = misfit(centre_s)
    variance = max(least, 1e-18 * misfit(longest_s)) / (count - 3)
    rise = min(misfit(longest_s), misfit(-longest_s)) - least
    # What is left over is not independent from sample to sample: fewer samples count than there are.
    inflation = memory(centre_s)
    wavering = variance * inflation * float(np.sqrt(2.0 * count))
    if rise < _CLEAR * wavering or abs(centre_s) > 0.95 * longest_s:
        return Delay(None, None, "instruments.delay_not_determinable")
    step_s = max(half_s, 0.01 * longest_s)
    curvature = (misfit(centre_s + step_s) - 2.0 * least + misfit(centre_s - step_s)) / step_s**2
    if curvature <= 0:
        return Delay(None, None, "instruments.delay_not_determinable")
    return Delay(centre_s, float(np.sqrt(2.0 * variance * inflation / curvature)))


def _good(time_s: Floats, value: Floats) -> tuple[Floats, Floats]:
    kept = np.isfinite(time_s) & np.isfinite(value)
    return time_s[kept], value[kept]


def _left(one: Floats, other: Floats) -> Floats:
    """What a straight line of ``one`` leaves of ``other``."""
    one, other = one - one.mean(), other - other.mean()
    spread = float(one @ one)
    rest: Floats = other - (float(one @ other) / spread if spread > 0 else 0.0) * one
    return rest


def _misfit(one: Floats, other: Floats) -> float:
    rest = _left(one, other)
    return float(rest @ rest)


def _memory(one: Floats, other: Floats) -> float:
    """How many times fewer independent samples there are, by the correlation of neighbours; at least 1."""
    rest = _left(one, other)
    power = float(rest @ rest)
    correlation = float(rest[1:] @ rest[:-1]) / power if power > 0 else 0.0
    correlation = min(max(correlation, 0.0), 0.99)
    return (1.0 + correlation) / (1.0 - correlation)
