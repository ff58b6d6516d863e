"""Windows to sealed readings, one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from waywright.capture.events import Accepted, StandstillSettings, Station
from waywright.clocks import new_id
from waywright.readings import Reading, seal, standing
from waywright.visit import Pass


class ReadingChain:
    """The readings of a pass as they are made; ``earlier`` are those taken before it was interrupted."""

    def __init__(self, taken: Pass, earlier: Sequence[Reading] = ()) -> None:
        self._pass = taken
        self._readings = sorted(earlier, key=lambda reading: reading.number)

    @property
    def readings(self) -> tuple[Reading, ...]:
        """All readings in the order taken."""
        return tuple(self._readings)

    @property
    def next_number(self) -> int:
        """Number of the next reading."""
        return self._readings[-1].number + 1 if self._readings else 0

    @property
    def stations(self) -> tuple[Station, ...]:
        """The places where readings stand, in the order taken."""
        return tuple(Station(reading.number, reading.position_mm) for reading in standing(self.readings))

    def add(self, window: Accepted) -> Reading:
        """The sealed reading of a window."""
        began = self._pass.began_utc
        repeated = next((item.id for item in self._readings if item.number == window.repeats), None)
        ended_utc = began + timedelta(seconds=window.ended_s)
        reading = Reading(
            id=new_id(ended_utc),
            pass_id=self._pass.id,
            number=window.number,
            position_mm=window.position_mm,
            direction=window.direction,
            values=window.values,
            began_utc=began + timedelta(seconds=window.began_s),
            ended_utc=ended_utc,
            taken_by=window.taken_by,
            supersedes=repeated,
            window=window.window,
        )
        sealed = seal(reading, self._readings[-1] if self._readings else None)
        self._readings.append(sealed)
        return sealed


def standstill_settings(taken: Pass, forward_sense: int = 1, travel_end_mm: float | None = None) -> StandstillSettings:
    """The settings that a pass records, for the standstill machine."""
    stated = taken.settings
    usual = StandstillSettings(taken.position_channel, stated.dwell_s, stated.averaging_s, stated.smallest_step_mm)
    return StandstillSettings(
        position_channel=taken.position_channel,
        dwell_s=stated.dwell_s,
        averaging_s=stated.averaging_s,
        smallest_step_mm=stated.smallest_step_mm,
        standard_error_um=stated.standard_error_um or usual.standard_error_um,
        longest_s=stated.longest_s or usual.longest_s,
        forward_sense=forward_sense,
        travel_end_mm=travel_end_mm,
    )
