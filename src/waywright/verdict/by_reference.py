"""The same readings decided about each reference line: a verdict that depends on the line must say so."""

from __future__ import annotations

from collections.abc import Mapping

from waywright.evaluate import REFERENCES
from waywright.uncertainty import ProfileBelief
from waywright.verdict.decision import Burden, Decision, decide


def decide_by_reference(
    belief: ProfileBelief, limit_um: float, burden: Burden | str = Burden.SUPPLIER, *, confidence: float = 0.95
) -> dict[str, Decision]:
    """The decision about each of the three reference lines, from the same drawn profiles."""
    return {
        reference: decide(belief.straightness(reference), limit_um, burden=burden, confidence=confidence)
        for reference in REFERENCES
    }


def depends_on_reference(decisions: Mapping[str, Decision]) -> dict[str, object] | None:
    """Facts for the warning ``verdict.depends_on_reference``, or None where all lines give the same verdict."""
    verdicts = {reference: decision.verdict.value for reference, decision in decisions.items()}
    if len(set(verdicts.values())) <= 1:
        return None
    return {"verdicts": ", ".join(f"{reference}: {verdict}" for reference, verdict in verdicts.items())}
