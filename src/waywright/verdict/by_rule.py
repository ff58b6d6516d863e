"""A tolerance rule decided from drawn true profiles: in how many of them do all its parts hold?

So a rule that needs the curve (a local tolerance, convex only) gets a probability of conformity like any other, and
parts that depend on the same errors are judged together. "Convex" and "concave" are asked at the stations: between
them, next to the ends, the roughness of any bed crosses the line through the ends.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from waywright.evaluate import REFERENCES, Reason, straightness
from waywright.uncertainty import ProfileBelief
from waywright.verdict.decision import Burden, Decision, Verdict, decide_by_probability
from waywright.verdict.rule import Rule
from waywright.verdict.rule_check import PartCheck, RuleCheck, Sight, check_part
from waywright.verdict.rule_records import Lean, Part, Shape, Slope

PartJudge = Callable[[Part, bool], PartCheck]
"""Checks a part against the measured result (False) or against the drawn ones (True)."""


@dataclass(frozen=True, slots=True)
class RuleDecision:
    """What a rule comes to: each part checked against the measured result, and the decision from the drawn ones.

    ``decision`` is None where a part cannot be judged and nothing judged fails; ``unjudged`` then says why.
    ``warning`` says that another reference line would give another verdict.
    """

    rule: str
    parts: tuple[PartCheck, ...]
    decision: Decision | None
    reason: Reason | None
    unjudged: tuple[Reason, ...] = ()
    warning: Reason | None = None


def decide_by_rule(
    rule: Rule,
    judge: PartJudge,
    burden: Burden | str = Burden.SUPPLIER,
    *,
    value: float | None = None,
    standard_uncertainty: float = 0.0,
    confidence: float = 0.95,
) -> RuleDecision:
    """Decide a rule by a function that checks one part against the measured or the drawn results.

    ``value`` and ``standard_uncertainty`` are those of the result, shown in the decision where a part speaks of it.
    """
    measured = RuleCheck(str(rule), tuple(judge(part, False) for part in rule.parts))
    drawn = RuleCheck(str(rule), tuple(judge(part, True) for part in rule.parts))
    unjudged = tuple(Reason(part.key, part.facts) for part in measured.parts if part.key)
    together = [np.asarray(part.holds) for part in drawn.parts if part.holds is not None]
    worst = measured.worst
    if not together or worst is None:
        return RuleDecision(str(rule), measured.parts, None, None, unjudged)
    held = np.logical_and.reduce(np.broadcast_arrays(*together))
    decision = decide_by_probability(
        float(held.mean()),
        float(worst.value),
        float(worst.limit or 0.0),
        _spread(drawn, worst, standard_uncertainty),
        burden,
        kept=all(part.holds for part in measured.parts if part.holds is not None),
        confidence=confidence,
    )
    if unjudged and decision.verdict is not Verdict.DOES_NOT_CONFORM:
        return RuleDecision(str(rule), measured.parts, None, None, unjudged)
    return RuleDecision(str(rule), measured.parts, decision, _reason(decision, worst, value), unjudged)


def decide_straightness(
    rule: Rule,
    belief: ProfileBelief,
    reference: str,
    burden: Burden | str = Burden.SUPPLIER,
    *,
    positive: str | tuple[str, ...] = (),
    confidence: float = 0.95,
) -> RuleDecision:
    """Decide a rule about a straightness; with a warning where another reference line gives another verdict.

    ``positive`` names where positive deviations point. Parts about the slope of the line are not judged: a beam's own
    direction is not known.
    """
    sight = Sight.of(positive, (), ())
    found = {name: _by_line(rule, belief, name, burden, sight, confidence) for name in _first(reference)}
    chosen = found[reference]
    return RuleDecision(
        chosen.rule, chosen.parts, chosen.decision, chosen.reason, chosen.unjudged, depends_on_reference(found)
    )


def depends_on_reference(found: dict[str, RuleDecision]) -> Reason | None:
    """The warning where the lines do not give the same verdict."""
    verdicts = {name: one.decision.verdict.value for name, one in found.items() if one.decision is not None}
    if len(set(verdicts.values())) <= 1:
        return None
    said = ", ".join(f"{name}: {verdict}" for name, verdict in verdicts.items())
    return Reason("verdict.depends_on_reference", {"verdicts": said})


def _first(reference: str) -> tuple[str, ...]:
    return (reference, *(name for name in REFERENCES if name != reference))


def _by_line(
    rule: Rule, belief: ProfileBelief, reference: str, burden: Burden | str, sight: Sight, confidence: float
) -> RuleDecision:
    measured = straightness(belief.station_mm, belief.nominal, reference)
    drawn = straightness(belief.grid_mm, belief.profile, reference)
    at = np.searchsorted(belief.grid_mm, belief.station_mm)
    at_stations = straightness(belief.station_mm, belief.profile[at], reference)

    def judge(part: Part, draws: bool) -> PartCheck:
        if isinstance(part, (Slope, Lean)):
            return PartCheck(str(part), key="verdict.not_judged_needs_slope", facts={"part": str(part)})
        curve: Any = (at_stations if isinstance(part, Shape) else drawn) if draws else measured
        return check_part(part, curve, sight, None)

    spread = float(np.std(np.asarray(drawn.value_um), ddof=1))
    return decide_by_rule(rule, judge, burden, standard_uncertainty=spread, confidence=confidence)


def _spread(drawn: RuleCheck, worst: PartCheck, otherwise: float) -> float:
    """Standard uncertainty of what the worst part speaks of."""
    values = next((part.value for part in drawn.parts if part.part == worst.part), None)
    return float(np.std(np.asarray(values), ddof=1)) if values is not None and np.size(values) > 1 else otherwise


def _reason(decision: Decision, worst: PartCheck, value: float | None) -> Reason:
    facts = {
        "part": worst.part,
        "value": float(worst.value) if value is None else value,
        "limit": decision.limit_um,
        "unit": worst.unit,
        "probability": decision.probability_of_conformity,
        "confidence": decision.confidence,
    }
    if decision.burden is Burden.SIMPLE:
        return Reason("verdict.because_simple", facts)
    return Reason(f"verdict.because_{decision.verdict.name.lower()}", facts)
