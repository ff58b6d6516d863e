"""Can this set-up be trusted today? Mathematics only: knows no device, file, clock or page."""

from waywright.guard.air import (
    Air,
    AirSensitivity,
    BeamBend,
    beam_bend,
    bed_bow_um,
    earth_bow_um,
    pressure_bow_um,
    refractivity,
    sensitivity,
)
from waywright.guard.allan import AllanDeviation, allan_deviation, overlapping_deviation
from waywright.guard.direction import DirectionTest, Mounting, Outcome, Scale, direction_test
from waywright.guard.level_test import LevelSign, Reversal, level_reversal, level_sign
from waywright.guard.moves import Foot, KnownMove, Seen
from waywright.guard.rules import COMMON_PRACTICE, Rule
from waywright.guard.standstill_record import Standstill, StandstillFigures, correlation_time_s, standstill_figures
from waywright.guard.steadiness import Advice, Steadiness, steadiness

__all__ = [
    "COMMON_PRACTICE",
    "Advice",
    "Air",
    "AirSensitivity",
    "AllanDeviation",
    "BeamBend",
    "DirectionTest",
    "Foot",
    "KnownMove",
    "LevelSign",
    "Mounting",
    "Outcome",
    "Reversal",
    "Rule",
    "Scale",
    "Seen",
    "Standstill",
    "StandstillFigures",
    "Steadiness",
    "allan_deviation",
    "beam_bend",
    "bed_bow_um",
    "correlation_time_s",
    "direction_test",
    "earth_bow_um",
    "level_reversal",
    "level_sign",
    "overlapping_deviation",
    "pressure_bow_um",
    "refractivity",
    "sensitivity",
    "standstill_figures",
    "steadiness",
]
