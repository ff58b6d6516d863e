"""Rules with their figure and where it comes from; what no publication says is called common practice."""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "guard.source_common_practice"


@dataclass(frozen=True, slots=True)
class Rule:
    """``name`` is the wording key of what the rule says, ``source`` that of where it comes from."""

    name: str
    value: float
    source: str = COMMON_PRACTICE


DRIFT_SHARE = Rule("guard.rule_drift_share", 0.1)
LONGEST_AVERAGING_S = Rule("guard.rule_longest_averaging", 30.0)
RECORD_OF_AVERAGES = Rule("guard.rule_record_of_averages", 20.0)
MOST_DISTURBED = Rule("guard.rule_most_disturbed", 0.01)
SCALE_SHARE = Rule("guard.rule_scale", 0.05)
ROLL_LIMIT_DEG = Rule("guard.rule_roll", 1.0)
SEATING_UM = Rule("guard.rule_seating", 2.0)
NONLINEARITY_SHARE = Rule("guard.rule_nonlinearity_share", 0.1)
EXCURSION_OF_SMALLEST = Rule("guard.rule_excursion_of_smallest", 100.0)
EXCURSION_OF_RANGE = Rule("guard.rule_excursion_of_range", 0.05)
BOW_SHARE = Rule("guard.rule_bow_share", 0.1)
BOW_THIRD = Rule("guard.rule_bow_third", 1.0 / 3.0)
CLOSURE_SHARE = Rule("guard.rule_closure_share", 0.1)
CLOSURE_UNCERTAINTIES = Rule("guard.rule_closure_uncertainties", 2.0)
TEMPERATURE_K_PER_H = Rule("guard.rule_temperature_rate", 1.0)
STATION_APART = Rule("guard.rule_station_apart", 0.4)
STATIONS_PER_SPACING = Rule("guard.rule_stations_per_spacing", 4.0)
STATIONS_PER_WINDOW = Rule("guard.rule_stations_per_window", 3.0)
FEWEST_STEPS = Rule("guard.rule_fewest_steps", 10.0)
PASSES_EACH_WAY = Rule("guard.rule_passes_each_way", 1.0)
UNCERTAINTY_SHARE = Rule("guard.rule_uncertainty_share", 0.2)
REDUCED_FEED = Rule("guard.rule_reduced_feed", 1000.0)
SETTLE_S = Rule("guard.rule_settle", 2.0)
GRADIENT_K_PER_M = Rule("guard.rule_gradient", 0.5)
CREEP_SHARE = Rule("guard.rule_creep", 0.1)
WAIT_MIN = Rule("guard.rule_wait", 30.0)
UNCERTAINTY_WORST = Rule("guard.rule_uncertainty_worst", 1.0 / 3.0)
