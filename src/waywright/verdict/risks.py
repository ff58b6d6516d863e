"""Risks over a whole production or fleet: how often the rule errs before anything is measured.

Global consumer's and producer's risk of JCGM 106:2012, 9.3: the true value varies with a normal prior, the measured
value scatters normally about the true one, and whatever is measured inside the acceptance interval is accepted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from waywright.errors import BadInput


@dataclass(frozen=True, slots=True)
class GlobalRisks:
    """Probability that an item is accepted though out of tolerance, and refused though in tolerance."""

    consumers: float
    producers: float


def global_risks(
    mean_um: float,
    sd_um: float,
    standard_uncertainty_um: float,
    limit_um: float,
    lower_um: float = -math.inf,
    guard_band_um: float = 0.0,
) -> GlobalRisks:
    """Global risks for true values N(mean, sd) and limits from ``lower_um`` to ``limit_um``.

    ``guard_band_um`` is taken off at both limits (negative: added). Raises BadInput unless both spreads are positive
    and the limits the right way round.
    """
    from scipy.integrate import quad
    from scipy.stats import norm

    if not (sd_um > 0.0 and standard_uncertainty_um > 0.0):
        raise BadInput("verdict.bad_spread", sd_um=sd_um, standard_uncertainty_um=standard_uncertainty_um)
    if not lower_um < limit_um:
        raise BadInput("verdict.bad_limits", limit_um=limit_um, lower_um=lower_um)
    low, high = lower_um + guard_band_um, limit_um - guard_band_um

    def accepted_at(true: float) -> float:
        u = standard_uncertainty_um
        return float(norm.cdf((high - true) / u) - norm.cdf((low - true) / u)) if high > low else 0.0

    def part(a: float, b: float, probability: object) -> float:
        # Ten standard deviations hold the prior to 1e-23; a finite range keeps the integrator on the peak.
        a, b = max(a, mean_um - 10 * sd_um), min(b, mean_um + 10 * sd_um)
        if a >= b:
            return 0.0
        edges = [edge for edge in (low, high, mean_um) if a < edge < b]
        return float(quad(probability, a, b, points=edges or None, epsabs=1e-12, limit=200)[0])

    prior = norm(mean_um, sd_um).pdf
    wrong = part(-math.inf, lower_um, lambda t: prior(t) * accepted_at(t)) + part(
        limit_um, math.inf, lambda t: prior(t) * accepted_at(t)
    )
    refused = part(lower_um, limit_um, lambda t: prior(t) * (1.0 - accepted_at(t)))
    return GlobalRisks(consumers=wrong, producers=refused)
