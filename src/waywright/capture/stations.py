"""The places already measured: what is a new station, what a repeat, what no step at all."""

from __future__ import annotations

from collections.abc import Sequence

from waywright.capture.events import Accepted, Event, StandstillSettings, Station, TravelEnd
from waywright.capture.window import WindowView
from waywright.readings import ChannelValue


class Stations:
    """Stations of a pass. ``before`` are those of readings that stand, in the order taken."""

    def __init__(self, settings: StandstillSettings, before: Sequence[Station], next_number: int) -> None:
        self._settings = settings
        self._stations = list(before)
        self._next = next_number
        self._away = False

    def passed(self, level_mm: float) -> None:
        """Where the axis is: has it really been away since the last reading."""
        if self._stations and abs(level_mm - self._stations[-1].position_mm) >= self._settings.smallest_step_mm:
            self._away = True

    def too_small_step(self, place_mm: float) -> float | None:
        """How far this place is from the last station, if that is no new step and no return; otherwise None."""
        if not self._stations or self._away:
            return None
        step_mm = abs(place_mm - self._stations[-1].position_mm)
        return step_mm if step_mm < self._settings.smallest_step_mm else None

    def take(
        self, time_s: float, view: WindowView, values: tuple[ChannelValue, ...], motion: int, by_hand: bool
    ) -> list[Event]:
        """The reading of a window, and whether the travel ends with it."""
        channel = self._settings.position_channel
        position_mm = next(value.mean for value in values if value.channel == channel)
        repeated = self._nearest(position_mm)
        taken = Accepted(
            time_s,
            view.after_s,
            view.until_s,
            self._next,
            position_mm,
            self._direction(motion),
            "hand" if by_hand else "standstill",
            repeated.number if repeated else None,
            values,
            view.traces(),
        )
        if repeated is not None:
            self._stations.remove(repeated)
        self._stations.append(Station(self._next, position_mm))
        self._next += 1
        self._away = False
        return [taken, *self._end(time_s, position_mm)]

    def _nearest(self, position_mm: float) -> Station | None:
        """The station that this place is, if it is one."""
        nearest = min(self._stations, key=lambda item: abs(item.position_mm - position_mm), default=None)
        if nearest is None or abs(nearest.position_mm - position_mm) >= self._settings.smallest_step_mm:
            return None
        return nearest

    def _direction(self, motion: int) -> str | None:
        if motion == 0:
            return None
        return "forward" if motion * self._settings.forward_sense > 0 else "backward"

    def _end(self, time_s: float, position_mm: float) -> list[Event]:
        end_mm = self._settings.travel_end_mm
        if end_mm is None or abs(position_mm - end_mm) >= self._settings.smallest_step_mm:
            return []
        return [TravelEnd(time_s, position_mm)]
