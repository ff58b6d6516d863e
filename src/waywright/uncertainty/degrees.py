"""Effective degrees of freedom and coverage factors (JCGM 100:2008, annex G)."""

from __future__ import annotations

import math
from collections.abc import Iterable

from waywright.errors import BadInput


def welch_satterthwaite(combined: float, parts: Iterable[tuple[float, float]]) -> float:
    """Effective degrees of freedom of a combined uncertainty from (contribution, degrees of freedom), eq. G.2b.

    Infinite where no contribution has finite degrees of freedom. The formula holds for independent contributions.
    """
    below = sum(part**4 / degrees for part, degrees in parts if math.isfinite(degrees))
    return combined**4 / below if below > 0.0 else math.inf


def coverage_factor(degrees_of_freedom: float, probability: float = 0.95) -> float:
    """Two-sided factor: normal for infinitely many degrees of freedom, else t of the next lower whole number."""
    if not 0.0 < probability < 1.0:
        raise BadInput("uncertainty.bad_probability", probability=probability)
    from scipy.special import ndtri, stdtrit

    upper = 0.5 + probability / 2.0
    if not math.isfinite(degrees_of_freedom):
        return float(ndtri(upper))
    return float(stdtrit(max(1, math.floor(degrees_of_freedom + 1e-9)), upper))
