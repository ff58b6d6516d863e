"""Rules with their figure and where it comes from; what no publication says is called common practice."""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "guard_rules.source_common_practice"


@dataclass(frozen=True, slots=True)
class Rule:
    """``name`` is the wording key of what the rule says, ``source`` that of where it comes from."""

    name: str
    value: float
    source: str = COMMON_PRACTICE


DRIFT_SHARE = Rule("guard_rules.drift_share", 0.1)
LONGEST_AVERAGING_S = Rule("guard_rules.longest_averaging", 30.0)
RECORD_OF_AVERAGES = Rule("guard_rules.record_of_averages", 20.0)
MOST_DISTURBED = Rule("guard_rules.most_disturbed", 0.01)
SCALE_SHARE = Rule("guard_rules.scale", 0.05)
ROLL_LIMIT_DEG = Rule("guard_rules.roll", 1.0)
SEATING_UM = Rule("guard_rules.seating", 2.0)
NONLINEARITY_SHARE = Rule("guard_rules.nonlinearity_share", 0.1)
EXCURSION_OF_SMALLEST = Rule("guard_rules.excursion_of_smallest", 100.0)
EXCURSION_OF_RANGE = Rule("guard_rules.excursion_of_range", 0.05)
BOW_SHARE = Rule("guard_rules.bow_share", 0.1)
BOW_THIRD = Rule("guard_rules.bow_third", 1.0 / 3.0)
CLOSURE_SHARE = Rule("guard_rules.closure_share", 0.1)
CLOSURE_UNCERTAINTIES = Rule("guard_rules.closure_uncertainties", 2.0)
TEMPERATURE_K_PER_H = Rule("guard_rules.temperature_rate", 1.0)
STATION_APART = Rule("guard_rules.station_apart", 0.4)
STATIONS_PER_SPACING = Rule("guard_rules.stations_per_spacing", 4.0)
STATIONS_PER_WINDOW = Rule("guard_rules.stations_per_window", 3.0)
FEWEST_STEPS = Rule("guard_rules.fewest_steps", 10.0)
PASSES_EACH_WAY = Rule("guard_rules.passes_each_way", 1.0)
UNCERTAINTY_SHARE = Rule("guard_rules.uncertainty_share", 0.2)
REDUCED_FEED = Rule("guard_rules.reduced_feed", 1000.0)
SETTLE_S = Rule("guard_rules.settle", 2.0)
GRADIENT_K_PER_M = Rule("guard_rules.gradient", 0.5)
CREEP_SHARE = Rule("guard_rules.creep", 0.1)
WAIT_MIN = Rule("guard_rules.wait", 30.0)
RECHECK_DAYS = Rule("guard_rules.recheck", 28)
UNCERTAINTY_WORST = Rule("guard_rules.uncertainty_worst", 1.0 / 3.0)
