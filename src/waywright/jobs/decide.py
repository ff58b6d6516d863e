"""Decide: a value with its uncertainty against a limit or a tolerance rule."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.errors import BadInput
from waywright.verdict import Decision, decide, tolerance


@dataclass(frozen=True, slots=True, kw_only=True)
class DecisionOrder:
    """What is to be decided; either a limit, or a rule with the length it is asked for."""

    value_um: float
    uncertainty_um: float
    coverage_factor: float = 1.0
    limit_um: float | None = None
    rule: str | None = None
    length_mm: float | None = None
    burden: str = "supplier"
    confidence: float = 0.95


def decision(order: DecisionOrder) -> Decision:
    """The verdict. Raises BadInput unless there is a limit, or a rule and a length."""
    return decide(
        order.value_um,
        limit_of(order),
        order.uncertainty_um,
        order.coverage_factor,
        order.burden,
        confidence=order.confidence,
    )


def limit_of(order: DecisionOrder) -> float:
    """The limit itself, or what the rule allows over the length."""
    if order.limit_um is not None and order.rule is None:
        return order.limit_um
    if order.rule is None or order.length_mm is None or order.limit_um is not None:
        raise BadInput("jobs.which_limit")
    return tolerance(order.rule).limit_um(order.length_mm)
