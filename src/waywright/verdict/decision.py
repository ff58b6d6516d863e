"""The decision with uncertainty: conforms, does not conform, undecided.

The verdict has the three zones of ISO 14253-1: conformity is proved when its probability is at least ``confidence``
(95 % one-sided, so for a normal uncertainty the value lies 1.645 u inside the limit), non-conformity when the
probability of conformity is at most ``1 - confidence``, and in between nothing is proved. The burden says what
follows from "undecided": where the supplier has to prove conformity the machine is not accepted, where the customer
has to prove non-conformity it cannot be refused, where the burden is shared both sides have to talk. With simple
acceptance, when agreed, the measured value alone is compared (JCGM 106:2012, 8.2).

The value is a number with a standard uncertainty (normal), or a distribution: anything with ``draws`` (array),
``mean`` and ``standard_uncertainty``, as a Monte Carlo run returns it. Limits are upper limits: straightness, twist
and the like are never too small; ``lower_um`` adds a lower limit for signed results.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import NormalDist
from typing import Any, Protocol, TypeAlias, runtime_checkable

from waywright.errors import BadInput

_NORMAL = NormalDist()


class Verdict(StrEnum):
    """The three answers of ISO 14253-1."""

    CONFORMS = "conforms"
    DOES_NOT_CONFORM = "does not conform"
    UNDECIDED = "undecided"


class Burden(StrEnum):
    """Who has to prove what: the agreed decision rule."""

    SUPPLIER = "supplier"
    CUSTOMER = "customer"
    SHARED = "shared"
    SIMPLE = "simple"


@runtime_checkable
class Distribution(Protocol):
    """A value known through its distribution: equally likely draws, shape (draws,)."""

    @property
    def draws(self) -> Any:
        """Equally likely values, shape (draws,)."""

    @property
    def mean(self) -> float:
        """Their mean."""

    @property
    def standard_uncertainty(self) -> float:
        """Their standard deviation."""


Value: TypeAlias = float | Distribution


@dataclass(frozen=True, slots=True)
class Decision:
    """A verdict and everything it rests on.

    For angles the figures are in um/m. ``accepted`` is what follows under the agreed burden; None where both sides have
    to talk. ``acceptance_um`` and
    ``rejection_um`` are the edges of the undecided zone at the upper limit for a normal uncertainty; a verdict from a
    distribution rests on ``probability_of_conformity`` itself. ``consumers_risk`` is the probability that what is
    accepted is out of tolerance, ``producers_risk`` that what is refused is in tolerance, both for this very value
    (specific risks, JCGM 106:2012, 9.2); None where the decision is not the one the risk speaks of.
    """

    verdict: Verdict
    accepted: bool | None
    value_um: float
    limit_um: float
    lower_um: float | None
    standard_uncertainty_um: float
    burden: Burden
    confidence: float
    probability_of_conformity: float
    guard_band_um: float
    acceptance_um: float
    rejection_um: float
    consumers_risk: float | None
    producers_risk: float | None


def decide(
    value: Value,
    limit_um: float,
    standard_uncertainty_um: float | None = None,
    coverage_factor: float | None = None,
    burden: Burden | str = Burden.SUPPLIER,
    *,
    lower_um: float | None = None,
    confidence: float = 0.95,
) -> Decision:
    """Whether ``value`` (um) keeps the upper limit, and ``lower_um`` where given.

    ``value`` is a number, then ``standard_uncertainty_um`` is needed, or a distribution. With ``coverage_factor`` the
    number given is the expanded uncertainty U = k u. ``burden`` is "supplier" (has to prove conformity), "customer"
    (has to prove non-conformity), "shared" or "simple". Raises BadInput for limits the wrong way round, a missing or
    negative uncertainty, an unknown burden.
    """
    u = _uncertainty(value, standard_uncertainty_um, coverage_factor)
    _check_limits(limit_um, lower_um, confidence)
    measured = float(value.mean if isinstance(value, Distribution) else value)
    if not math.isfinite(measured):
        raise BadInput("verdict.value_not_a_number", value=measured)
    inside = probability_of_conformity(value, limit_um, u, lower_um=lower_um)
    kept = measured <= limit_um and (lower_um is None or measured >= lower_um)
    return decide_by_probability(
        inside, measured, limit_um, u, burden, kept=kept, lower_um=lower_um, confidence=confidence
    )


def decide_by_probability(
    probability_of_conformity: float,
    value_um: float,
    limit_um: float,
    standard_uncertainty_um: float,
    burden: Burden | str = Burden.SUPPLIER,
    *,
    kept: bool,
    lower_um: float | None = None,
    confidence: float = 0.95,
) -> Decision:
    """The decision from a probability of conformity that was found elsewhere, for example from drawn profiles.

    ``kept`` says whether the measured value by itself keeps the limit, which is all that simple acceptance asks.
    """
    rule, inside = _burden(burden), probability_of_conformity
    _check_limits(limit_um, lower_um, confidence)
    if rule is Burden.SIMPLE:
        guard, verdict = 0.0, Verdict.CONFORMS if kept else Verdict.DOES_NOT_CONFORM
    else:
        guard, verdict = guard_band_um(standard_uncertainty_um, confidence), proved(inside, confidence)
    accepted = follows(verdict, rule)
    return Decision(
        verdict=verdict,
        accepted=accepted,
        value_um=value_um,
        limit_um=float(limit_um),
        lower_um=lower_um,
        standard_uncertainty_um=standard_uncertainty_um,
        burden=rule,
        confidence=confidence,
        probability_of_conformity=inside,
        guard_band_um=guard,
        acceptance_um=limit_um - guard,
        rejection_um=limit_um + guard,
        consumers_risk=1.0 - inside if accepted is True else None,
        producers_risk=inside if accepted is False else None,
    )


def proved(probability_of_conformity: float, confidence: float = 0.95) -> Verdict:
    """What is proved at this confidence; holds for any distribution and for two limits close together."""
    if probability_of_conformity >= confidence:
        return Verdict.CONFORMS
    return Verdict.DOES_NOT_CONFORM if probability_of_conformity <= 1.0 - confidence else Verdict.UNDECIDED


def follows(verdict: Verdict, burden: Burden) -> bool | None:
    """Whether the item is accepted: undecided counts against whoever has to prove."""
    if verdict is not Verdict.UNDECIDED:
        return verdict is Verdict.CONFORMS
    return {Burden.SUPPLIER: False, Burden.CUSTOMER: True}.get(burden)


def probability_of_conformity(
    value: Value, limit_um: float, standard_uncertainty_um: float | None = None, *, lower_um: float | None = None
) -> float:
    """Probability that the true value lies at or below the limit and at or above ``lower_um`` (JCGM 106:2012, 7)."""
    if isinstance(value, Distribution):
        draws = value.draws
        kept = draws <= limit_um
        if lower_um is not None:
            kept = kept & (draws >= lower_um)
        return float(kept.mean())
    u = standard_uncertainty_um or 0.0
    below_upper = _phi(limit_um - value, u)
    if lower_um is None:
        return below_upper
    return max(0.0, below_upper - _phi(lower_um - value, u)) if u > 0.0 else float(lower_um <= value <= limit_um)


def guard_band_um(standard_uncertainty_um: float, confidence: float = 0.95) -> float:
    """One-sided guard band: the distance from the limit at which the risk of error is ``1 - confidence``."""
    return _NORMAL.inv_cdf(confidence) * standard_uncertainty_um


def _phi(distance: float, u: float) -> float:
    """Probability that a value ``distance`` below a limit keeps it; a value without uncertainty on it does."""
    if u > 0.0:
        return 0.5 * math.erfc(-distance / u / math.sqrt(2.0))
    return 1.0 if distance >= 0.0 else 0.0


def _burden(burden: Burden | str) -> Burden:
    try:
        return Burden(burden)
    except ValueError:
        raise BadInput("verdict.unknown_burden", burden=str(burden), known=", ".join(Burden)) from None


def _uncertainty(value: Value, given_um: float | None, coverage_factor: float | None) -> float:
    if isinstance(value, Distribution):
        if given_um is not None:
            raise BadInput("verdict.uncertainty_twice")
        return float(value.standard_uncertainty)
    if given_um is None:
        raise BadInput("verdict.uncertainty_missing")
    factor = 1.0 if coverage_factor is None else coverage_factor
    if not (math.isfinite(given_um) and given_um >= 0.0 and math.isfinite(factor) and factor > 0.0):
        raise BadInput("verdict.bad_uncertainty", uncertainty_um=given_um, coverage_factor=factor)
    return float(given_um) / factor


def _check_limits(limit_um: float, lower_um: float | None, confidence: float) -> None:
    if math.isnan(limit_um) or (lower_um is not None and not lower_um < limit_um):
        raise BadInput("verdict.bad_limits", limit_um=limit_um, lower_um=lower_um)
    if not 0.5 < confidence < 1.0:
        raise BadInput("verdict.bad_confidence", confidence=confidence)
