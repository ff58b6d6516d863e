"""Tolerance rules and the decision with uncertainty."""

from waywright.verdict.by_rule import RuleDecision, decide_by_rule, decide_straightness, depends_on_reference
from waywright.verdict.decision import (
    Burden,
    Decision,
    Verdict,
    decide,
    decide_by_probability,
    guard_band_um,
    probability_of_conformity,
)
from waywright.verdict.risks import GlobalRisks, global_risks
from waywright.verdict.rule import Rule, tolerance
from waywright.verdict.rule_check import PartCheck, RuleCheck

__all__ = [
    "Burden",
    "Decision",
    "GlobalRisks",
    "PartCheck",
    "Rule",
    "RuleCheck",
    "RuleDecision",
    "Verdict",
    "decide",
    "decide_by_probability",
    "decide_by_rule",
    "decide_straightness",
    "depends_on_reference",
    "global_risks",
    "guard_band_um",
    "probability_of_conformity",
    "tolerance",
]
