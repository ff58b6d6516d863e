"""The simulated operator: he drives forward and back and waits at each stop; he knows nothing of what is taken.

He stops about every so many millimetres but never exactly, hesitates now and then on the way, once goes back to a
station and waits there again, and after somebody walked through the beam he begins his count again. He never stops
twice at the far end: he waits there long enough to turn.
"""

from __future__ import annotations

from dataclasses import dataclass

import msgspec
import numpy as np

from waywright.simulation.motion import Leg, Motion, StickSlip, Track, duration_s
from waywright.simulation.scenario import Scenario
from waywright.simulation.sections import Pair

FORWARD = "forward"
BACKWARD = "backward"


@dataclass(frozen=True, slots=True)
class Stop:
    """A place where the operator waits. ``repeat`` is a return to a station where he has been in this pass."""

    position_mm: float
    from_s: float
    to_s: float
    direction: str
    repeat: bool = False


@dataclass(frozen=True, slots=True)
class Programme:
    """Everything the operator is going to do; times in s since he begins.

    ``hesitations`` are the standing legs that are no stops; ``passers_s`` is when somebody is in the beam, ``slip_s``
    when the detector slips.
    """

    legs: tuple[Leg, ...]
    stops: tuple[Stop, ...]
    hesitations: tuple[Leg, ...]
    passers_s: tuple[tuple[float, float], ...]
    ramp_s: float
    slip_s: float | None = None
    sticks: StickSlip | None = None

    @property
    def duration_s(self) -> float:
        """From the first wait to the end of the last."""
        return self.legs[-1].end_s

    @property
    def track(self) -> Track:
        """The motion of the carriage."""
        return Track(self.legs, self.ramp_s, self.sticks)

    def motion(self, time_s: float) -> Motion:
        """The motion at one time."""
        return self.track.at(np.array([time_s]))

    def direction(self, time_s: float) -> str:
        """The pass that is driven at a time."""
        last_s = max((stop.to_s for stop in self.stops if stop.direction == FORWARD), default=time_s)
        return FORWARD if time_s < last_s else BACKWARD


def plan_programme(scenario: Scenario) -> Programme:
    """The programme of a scenario; the same seed gives the same programme."""
    generator = np.random.default_rng([scenario.seed, 2])
    forward_mm = _places(scenario, generator)
    # the far end is where he turns, and he ends where he began: the carriage never jumps between two programmes
    backward_mm = [*_places(scenario, generator)[-2:0:-1], forward_mm[0]]
    itinerary = [(place, FORWARD, False) for place in forward_mm]
    back = scenario.operator.returns_from
    if back is not None:
        within = scenario.operator.returns_within_mm
        again = forward_mm[back - 1 - scenario.operator.returns_by] + generator.uniform(-within, within)
        itinerary.insert(back, (again, FORWARD, True))
    far = len(itinerary) - 1
    itinerary += [(place, BACKWARD, False) for place in backward_mm]
    hesitant = generator.choice(len(itinerary) - 1, min(scenario.operator.hesitations, len(itinerary) - 1), False) + 1
    drive = _Drive(scenario, generator, itinerary[0][0])
    for number, (place, direction, repeat) in enumerate(itinerary):
        if number:
            drive.go(place, hesitates=number in hesitant)
        drive.wait(direction, repeat, turns=number == far)
    return drive.programme()


def _places(scenario: Scenario, generator: np.random.Generator) -> list[float]:
    """Stations of one traverse from 0 to the end of the travel, near an even spacing but never on it."""
    even = np.linspace(0.0, scenario.travel_mm, scenario.stops)
    scatter = np.full(even.shape, scenario.operator.scatter_mm)
    scatter[[0, -1]] = scenario.operator.ends_mm
    return [float(place) for place in even + scatter * generator.uniform(-1.0, 1.0, even.shape)]


def brief_programme(scenario: Scenario) -> Programme:
    """Once forward, without a pause, a return or a visitor, and straight home: to see what a turn did."""
    generator = np.random.default_rng([scenario.seed, 9])
    start_mm = plan_programme(scenario).stops[0].position_mm
    quiet = msgspec.structs.replace(scenario, passers=(), slip=None)
    places_mm = [start_mm, *_places(scenario, generator)[1:]]
    drive = _Drive(quiet, generator, start_mm)
    for number, place in enumerate(places_mm):
        if number:
            drive.go(place, hesitates=False)
        drive.wait(FORWARD, repeat=False, turns=number == len(places_mm) - 1)
    drive.go(start_mm, hesitates=False)
    return drive.programme()


class _Drive:
    """Writes down legs and stops while time goes on."""

    def __init__(self, scenario: Scenario, generator: np.random.Generator, place_mm: float) -> None:
        self._habits = scenario.operator
        self._passers, self._slip = scenario.passers, scenario.slip
        self._generator = generator
        self._place_mm = place_mm
        self._time_s = 0.0
        self._legs: list[Leg] = []
        self._stops: list[Stop] = []
        self._hesitations: list[Leg] = []
        self._passers_s: list[tuple[float, float]] = []
        self._slip_s: float | None = None

    def go(self, place_mm: float, hesitates: bool) -> None:
        """Drive to a place, perhaps with a halt on the way that is no stop."""
        if hesitates:
            self._move(self._place_mm + self._generator.uniform(0.3, 0.7) * (place_mm - self._place_mm))
            self._hesitations.append(self._stand(self._between(self._habits.hesitation_s)))
        self._move(place_mm)

    def wait(self, direction: str, repeat: bool, turns: bool) -> None:
        """Stand at a stop as long as he is used to; longer when somebody passes and where he turns."""
        wait_s = self._between(self._habits.wait_s) + (self._habits.turn_s if turns else 0.0)
        number = len(self._stops) + 1
        for passer in self._passers:
            if passer.stop == number:
                began_s = self._time_s + passer.after_s
                self._passers_s.append((began_s, began_s + passer.lasts_s))
                wait_s += passer.after_s + passer.lasts_s
        if self._slip is not None and self._slip.stop == number:
            self._slip_s = self._time_s + self._slip.after_s
        leg = self._stand(wait_s)
        self._stops.append(Stop(self._place_mm, leg.start_s, leg.end_s, direction, repeat))

    def programme(self) -> Programme:
        """What has been written down."""
        parts = (tuple(self._legs), tuple(self._stops), tuple(self._hesitations))
        sticks = StickSlip(self._habits.stick_mm, self._habits.stick_below_mm_per_s) if self._habits.stick_mm else None
        return Programme(*parts, tuple(self._passers_s), self._habits.ramp_s, self._slip_s, sticks)

    def _move(self, place_mm: float) -> None:
        speed = self._between(self._habits.speed_mm_per_s)
        self._append(place_mm, duration_s(place_mm - self._place_mm, speed, self._habits.ramp_s))

    def _stand(self, lasts_s: float) -> Leg:
        return self._append(self._place_mm, lasts_s)

    def _append(self, place_mm: float, lasts_s: float) -> Leg:
        leg = Leg(self._time_s, self._time_s + lasts_s, self._place_mm, place_mm)
        self._legs.append(leg)
        self._time_s, self._place_mm = leg.end_s, place_mm
        return leg

    def _between(self, bounds: Pair) -> float:
        return float(self._generator.uniform(*bounds))
