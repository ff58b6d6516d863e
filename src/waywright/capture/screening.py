"""Each reading of a pass screened as it is taken: beside its neighbours, the planned stations and the passes before.

What is found is said once and kept with the pass; it changes no reading. A station taken again is screened anew.
How the rate of false alarms is spent on looks stands in :mod:`waywright.guard.live`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

import numpy as np

from waywright.capture.noise import standard_error
from waywright.capture.telling import Told, unit_of
from waywright.guard import (
    DEFAULT_RATE,
    Finding,
    PassSoFar,
    Remark,
    end_of_pass,
    live_shares,
    screen_pass,
    temperature_change,
)
from waywright.quantities import Kind
from waywright.readings import Reading, standing
from waywright.visit import Pass

_AT_ONCE = 40  # stations that one look compares, so that a look stays short
_OTHERS = 3
_SHORTEST_H = 0.25
_VALUES = (f"_{Kind.DISPLACEMENT.value}", f"_{Kind.ANGLE.value}")
_TEMPERATURE = f"_{Kind.TEMPERATURE.value}"


@dataclass(frozen=True, slots=True, eq=False)
class TakenBefore:
    """A pass of the same set-up that was taken before, with the readings of it that stand."""

    taken: Pass
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Beside:
    """What a pass is screened beside. ``planned_mm`` are places as the position source reads; without them those of the
    passes before are meant again. ``rate`` is that of false alarms for the whole line.
    """

    earlier: tuple[TakenBefore, ...] = ()
    planned_mm: tuple[float, ...] = ()
    tolerance_um: float | None = None
    rate: float = DEFAULT_RATE


class PassScreen:
    """Screens one pass; told all its readings after each one."""

    def __init__(self, taken: Pass, beside: Beside) -> None:
        self._pass = taken
        self._beside = beside
        self._values = tuple(name for name in taken.channels if name.endswith(_VALUES))
        self._temperatures = tuple(name for name in taken.channels if name.endswith(_TEMPERATURE))
        self._began = min([taken.began_utc, *(one.taken.began_utc for one in beside.earlier)])
        self._errors: dict[tuple[UUID, str], float] = {}
        self._earlier = {name: self._before(name) for name in self._values}
        self._said: set[tuple[str, str, int | None]] = set()
        self._planned = beside.planned_mm or self._places_before()
        earlier = len(beside.earlier)
        self._shares = live_shares(
            beside.rate, passes=earlier + 1, channels=len(self._values), stations=len(self._planned)
        )
        self._in_detail = False  # once something was found, or a station read again, every look is thorough
        self.again_mm: tuple[float, ...] = ()

    def look(self, readings: Sequence[Reading]) -> tuple[Told, ...]:
        """What the newest reading shows that was not said yet; ``again_mm`` are the stations to be taken again."""
        self._forget_retaken(readings[-1])
        self._in_detail |= bool(self._said) or readings[-1].supersedes is not None
        found = list(self._found(standing(tuple(readings))))
        places = {one.position_mm for _, one in found if one.station is not None and one.remark is not Remark.DOUBLED}
        self.again_mm = tuple(sorted(place for place in places if place is not None))
        return self._new(found)

    def at_end(self, readings: Sequence[Reading]) -> tuple[Told, ...]:
        """What the pass as a whole shows: whether it closes with the passes before, and whether the source drifts."""
        held = standing(tuple(readings))
        return self._new([item for name in self._values for item in self._whole(name, held)])

    def _found(self, held: tuple[Reading, ...]) -> Iterator[tuple[str, Finding]]:
        for name in self._values:
            taken = self._so_far(self._pass, held[-_AT_ONCE:], name)
            if taken is not None:
                planned = self._planned or None
                earlier = self._earlier[name][1][-_OTHERS:]
                found = screen_pass(
                    taken, earlier, false_alarm=self._shares.look, planned_mm=planned, quick=not self._in_detail
                )
                yield from ((name, one) for one in found)
        for name in self._temperatures:
            yield from ((name, one) for one in _temperature(held, name))

    def _whole(self, name: str, held: tuple[Reading, ...]) -> Iterator[tuple[str, Finding]]:
        taken = self._so_far(self._pass, held, name)
        if taken is None:
            return
        numbers, earlier = self._earlier[name]
        passes, numbers = [*earlier, taken], [*numbers, self._pass.number]
        tolerance = self._beside.tolerance_um if taken.unit == "um" else None
        reach_mm = self._pass.settings.smallest_step_mm
        found = end_of_pass(passes, numbers, self._shares, reach_mm, tolerance)
        yield from ((name, one) for one in found)

    def _new(self, found: Sequence[tuple[str, Finding]]) -> tuple[Told, ...]:
        """What was not said yet of these readings."""
        told = []
        for name, one in found:
            mark = _mark(name, one)
            if mark not in self._said:
                self._said.add(mark)
                told.append(Told(one.why.key, _facts(one), one.position_mm))
        return tuple(told)

    def _forget_retaken(self, newest: Reading) -> None:
        """A station that was taken again may be called out again."""
        near = self._pass.settings.smallest_step_mm
        if newest.supersedes is not None:
            self._said = {mark for mark in self._said if mark[2] is None or abs(mark[2] - newest.position_mm) > near}

    def _before(self, name: str) -> tuple[list[int], list[PassSoFar]]:
        """Numbers and values of the passes before that have the channel."""
        made = [(one.taken.number, self._so_far(one.taken, one.readings, name)) for one in self._beside.earlier]
        known = [(number, one) for number, one in made if one is not None]
        return [number for number, _ in known], [one for _, one in known]

    def _places_before(self) -> tuple[float, ...]:
        """The places of the fullest pass before."""
        fullest = max(self._beside.earlier, key=lambda one: len(one.readings), default=None)
        return () if fullest is None else tuple(reading.position_mm for reading in fullest.readings)

    def _so_far(
        self, taken: Pass, held: Sequence[Reading], name: str, *, every: bool = False
    ) -> PassSoFar | None:  # fmt: skip
        """One channel of a pass, sorted along its travel; None where it has no value yet."""
        known = [reading for reading in held if (value := reading.value(name)) and np.isfinite(value.mean)]
        if not known:
            return None
        steps = np.diff([reading.position_mm for reading in known])
        falling = bool(steps.size and np.median(np.sign(steps)) < 0)
        known.sort(key=lambda reading: reading.position_mm, reverse=falling)
        values = [value for reading in known if (value := reading.value(name))]
        x = np.array([reading.position_mm for reading in known])
        return PassSoFar(
            x,
            np.array([value.mean for value in values]),
            taken.direction,
            float(np.median(np.abs(np.diff(x)))) if x.size > 1 else 1.0,
            sample_sd=np.array([value.standard_deviation for value in values]),
            samples=min(value.samples for value in values),
            error=np.array([self._error(reading, name) for reading in known]),
            time_s=np.array([_since(self._began, reading.began_utc) for reading in known]),
            name=name,
            unit=unit_of(name),
        )

    def _error(self, reading: Reading, name: str) -> float:
        mark = (reading.id, name)
        if mark not in self._errors:
            self._errors[mark] = error_of(reading, name)
        return self._errors[mark]


def error_of(reading: Reading, channel: str) -> float:
    """Standard error of a reading: by its samples where they are at hand, because air has a memory."""
    value = reading.value(channel)
    trace = next((one for one in reading.window if one.channel == channel), None)
    plain = value.standard_deviation / math.sqrt(max(1, value.samples)) if value else 0.0
    good = trace.value[np.isfinite(trace.value)] if trace is not None else np.empty(0)
    return float(max(plain, standard_error(good))) if good.size > 1 else float(plain)


def _temperature(held: Sequence[Reading], name: str) -> Iterator[Finding]:
    """A change from the first reading of the pass to the newest."""
    known = [reading for reading in held if (value := reading.value(name)) and np.isfinite(value.mean)]
    if len(known) < 2:
        return
    first, last = known[0], known[-1]
    before, after = first.value(name), last.value(name)
    if before is not None and after is not None:
        hours = max(_SHORTEST_H, _since(first.began_utc, last.began_utc) / 3600.0)
        found = temperature_change(before.mean, after.mean, hours)
        if found is not None:
            yield found


def _since(began: datetime, moment: datetime) -> float:
    return (moment - began).total_seconds()


def _facts(one: Finding) -> dict[str, str | float]:
    """Facts of a finding as an event keeps them."""
    return {name: value if isinstance(value, str) else float(value) for name, value in one.why.facts.items()}  # type: ignore[arg-type]


def _mark(name: str, one: Finding) -> tuple[str, str, int | None]:
    """What is said once: a remark on a station of a channel, or on the pass; missed stations are those of all channels.

    ``station`` counts along the travel and is another one once stations were added, so the place marks it.
    """
    everywhere = one.remark in (Remark.MISSED, Remark.DOUBLED)
    place = round(one.position_mm) if one.position_mm is not None and (one.station is not None) else None
    return ("" if everywhere else name, one.remark.value, place)
