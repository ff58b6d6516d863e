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
from waywright.guard.alignment import Adjuster, Alignment, Detector, Ready, alignment, steering_step
from waywright.guard.allan import AllanDeviation, allan_deviation, overlapping_deviation
from waywright.guard.bow import Belief, BowChallenge, Cause, Circumstances, Figure, Imitation, challenge_bow
from waywright.guard.direction import DirectionTest, Mounting, Outcome, Scale, direction_test
from waywright.guard.effort import Effort, Limit, Wish, motion_text, plan_effort
from waywright.guard.level_test import LevelSign, Reversal, level_reversal, level_sign
from waywright.guard.linearity import Linearity
from waywright.guard.moves import Foot, KnownMove, Seen
from waywright.guard.outliers import Outliers, generalized_esd, grubbs, grubbs_limit
from waywright.guard.rules import COMMON_PRACTICE, Rule
from waywright.guard.standstill_record import Standstill, StandstillFigures, correlation_time_s, standstill_figures
from waywright.guard.state import (
    Gate,
    GateResult,
    State,
    after_adjusting,
    baseline_check,
    instruments_gate,
    machine_gate,
    plan_gate,
    same_state,
    thermal_gate,
)
from waywright.guard.steadiness import Advice, Steadiness, steadiness
from waywright.guard.watching import Finding, PassSoFar, Remark, closure, screen_pass, temperature_change

__all__ = [
    "COMMON_PRACTICE",
    "Adjuster",
    "Advice",
    "Air",
    "AirSensitivity",
    "Alignment",
    "AllanDeviation",
    "BeamBend",
    "Belief",
    "BowChallenge",
    "Cause",
    "Circumstances",
    "Detector",
    "DirectionTest",
    "Effort",
    "Figure",
    "Finding",
    "Foot",
    "Gate",
    "GateResult",
    "Imitation",
    "KnownMove",
    "LevelSign",
    "Limit",
    "Linearity",
    "Mounting",
    "Outcome",
    "Outliers",
    "PassSoFar",
    "Ready",
    "Remark",
    "Reversal",
    "Rule",
    "Scale",
    "Seen",
    "Standstill",
    "StandstillFigures",
    "State",
    "Steadiness",
    "Wish",
    "after_adjusting",
    "alignment",
    "allan_deviation",
    "baseline_check",
    "beam_bend",
    "bed_bow_um",
    "challenge_bow",
    "closure",
    "correlation_time_s",
    "direction_test",
    "earth_bow_um",
    "generalized_esd",
    "grubbs",
    "grubbs_limit",
    "instruments_gate",
    "level_reversal",
    "level_sign",
    "machine_gate",
    "motion_text",
    "overlapping_deviation",
    "plan_effort",
    "plan_gate",
    "pressure_bow_um",
    "refractivity",
    "same_state",
    "screen_pass",
    "sensitivity",
    "standstill_figures",
    "steadiness",
    "steering_step",
    "temperature_change",
    "thermal_gate",
]
