"""Motion of the carriage as legs in time: standing, or driving with soft ramps.

A driving leg speeds up over a ramp with v = V (3 x^2 - 2 x^3), x from 0 to 1, cruises at V and slows down the same way:
acceleration has no step, jerk stays bounded. The way covered in a ramp of length T is V T (x^3 - x^4 / 2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.readings.records import Floats


@dataclass(frozen=True, slots=True)
class Leg:
    """From ``start_s`` to ``end_s`` the carriage goes from ``from_mm`` to ``to_mm``; the same place when it stands."""

    start_s: float
    end_s: float
    from_mm: float
    to_mm: float

    @property
    def stands(self) -> bool:
        """Nothing moves during this leg."""
        return self.from_mm == self.to_mm


def duration_s(distance_mm: float, speed_mm_per_s: float, ramp_s: float) -> float:
    """How long a move takes; a short one never reaches its speed and lasts two ramps."""
    return max(abs(distance_mm) / speed_mm_per_s + ramp_s, 2.0 * ramp_s)


@dataclass(frozen=True, slots=True)
class StickSlip:
    """Slower than ``below_mm_per_s`` the carriage sticks, and slips on ``step_mm`` at a time."""

    step_mm: float
    below_mm_per_s: float


@dataclass(frozen=True, slots=True, eq=False)
class Motion:
    """How the carriage moves at given times; all (n,). ``halted_s`` is the time since it came to rest.

    ``halted_s`` is infinite while it moves and where it has stood from the start. ``sense`` is +1 where positions grow
    or grew last, -1 where they fall or fell.
    """

    position_mm: Floats
    speed_mm_per_s: Floats
    halted_s: Floats
    sense: Floats


class Track:
    """All legs one after the other, evaluated at many times at once. Before and after them the carriage stands."""

    def __init__(self, legs: tuple[Leg, ...], ramp_s: float, sticks: StickSlip | None = None) -> None:
        self._ramp_s = ramp_s
        self._sticks = sticks
        self._start_s = np.array([leg.start_s for leg in legs])
        self._end_s = np.array([leg.end_s for leg in legs])
        self._from_mm = np.array([leg.from_mm for leg in legs])
        self._way_mm = np.array([leg.to_mm - leg.from_mm for leg in legs])
        self._sense = _last_sense(self._way_mm)
        self._arrived = np.array([leg.stands and number > 0 for number, leg in enumerate(legs)])

    def at(self, time_s: Floats) -> Motion:
        """The motion at times (n,) in s since the first leg began."""
        leg = np.clip(np.searchsorted(self._start_s, time_s, side="right") - 1, 0, None)
        total_s = self._end_s[leg] - self._start_s[leg]
        since_s = np.clip(time_s - self._start_s[leg], 0.0, total_s)
        left_s = total_s - since_s
        stands = self._way_mm[leg] == 0.0
        cruise = np.where(stands, 0.0, self._way_mm[leg] / np.where(stands, 1.0, total_s - self._ramp_s))
        begun = np.clip(since_s / self._ramp_s, 0.0, 1.0)
        ending = np.clip(left_s / self._ramp_s, 0.0, 1.0)
        cruising_s = np.clip(since_s - self._ramp_s, 0.0, None) - np.clip(self._ramp_s - left_s, 0.0, None)
        way = cruise * (self._ramp_s * (_way(begun) + 0.5 - _way(ending)) + cruising_s)
        speed = np.abs(cruise) * _rise(begun) * _rise(ending)
        if self._sticks is not None:
            way = _stuck(way, self._way_mm[leg], speed, cruise, self._ramp_s, self._sticks)
        return Motion(
            self._from_mm[leg] + way,
            speed,
            np.where(self._arrived[leg], time_s - self._start_s[leg], np.inf),
            self._sense[leg],
        )


def _last_sense(way_mm: Floats) -> Floats:
    """The sense of each leg; a standing one keeps that of the move before it. To the start he came backwards."""
    sense = np.sign(way_mm)
    sense[0] = sense[0] or -1.0
    for leg in range(1, sense.size):
        sense[leg] = sense[leg] or sense[leg - 1]
    return np.asarray(sense)


def _stuck(way_mm: Floats, whole_mm: Floats, speed: Floats, cruise: Floats, ramp_s: float, how: StickSlip) -> Floats:
    """The way covered (n,) when what is driven slowly goes in steps: it lags, and arrives in one last slip.

    Slowing down it sticks from where it has become slow, so that it never goes back.
    """
    slow = (speed < how.below_mm_per_s) & (speed > 0.0)
    gone, whole = np.abs(way_mm), np.abs(whole_mm)
    share = np.minimum(how.below_mm_per_s / np.where(cruise == 0.0, 1.0, np.abs(cruise)), 1.0)
    slow_from_mm = whole - np.abs(cruise) * ramp_s * _way(_risen(share))
    starting = how.step_mm * np.floor(gone / how.step_mm)
    stopping = np.maximum(whole - how.step_mm * np.ceil((whole - gone) / how.step_mm), slow_from_mm)
    stuck = np.where(gone < whole - gone, starting, stopping)
    return np.asarray(np.where(slow, np.sign(whole_mm) * stuck, way_mm))


def _risen(share: Floats) -> Floats:
    """Where on the ramp a share of the speed is reached: the inverse of 3 x^2 - 2 x^3 on 0 to 1."""
    return np.asarray(0.5 - np.sin(np.arcsin(1.0 - 2.0 * share) / 3.0))


def _rise(x: Floats) -> Floats:
    return np.asarray(x**2 * (3.0 - 2.0 * x))


def _way(x: Floats) -> Floats:
    return np.asarray(x**3 * (1.0 - 0.5 * x))
