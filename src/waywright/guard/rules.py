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
