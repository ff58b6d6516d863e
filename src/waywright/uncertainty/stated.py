"""A straightness value as it is stated: with its interval, its budget row by row, and its noise floor."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.evaluate import straightness
from waywright.evaluate.arrays import FloatArray, positions, values
from waywright.uncertainty.belief import Believer, ProfileBelief
from waywright.uncertainty.contribution import Budget
from waywright.uncertainty.degrees import coverage_factor, welch_satterthwaite
from waywright.uncertainty.effects import Effect, Measured, covariance, disturbance, effects
from waywright.uncertainty.outcome import Outcome
from waywright.uncertainty.profiles import NoiseFloor, noise_floor_um

SAMPLING = "sampling between stations"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the budget worked out: ``contribution_um`` = |``sensitivity``| times ``standard_uncertainty``.

    The sensitivity is in um of the value per unit of the contribution.
    """

    name: str
    acts: str
    value: float
    unit: str
    distribution: str
    degrees_of_freedom: float
    source: str
    standard_uncertainty: float
    sensitivity: float
    contribution_um: float


@dataclass(frozen=True, slots=True, eq=False)
class Stated:
    """A value with its uncertainty.

    ``value_um`` is computed from the readings as they are, ``best_um`` is the middle of what the true value may be:
    noise makes largest minus smallest larger, so it is the smaller one. ``outcome`` holds the distribution.
    ``rows`` are the law of propagation at the readings, all of them; ``combined_um`` their sum with correlations.
    ``floor`` is what a perfect axis would have read (None without scatter). ``family`` tells what shape it seems.
    """

    reference: str
    value_um: float
    best_um: float
    outcome: Outcome
    belief: ProfileBelief
    rows: tuple[Row, ...]
    combined_um: float
    degrees_of_freedom: float
    floor: NoiseFloor | None
    probability: float = 0.95

    @property
    def interval_um(self) -> tuple[float, float]:
        """Where the true value lies with the stated probability (symmetric in probability)."""
        return self.outcome.interval(self.probability)

    @property
    def expanded_um(self) -> float:
        """Half the width of the interval: the U that is stated."""
        low, high = self.interval_um
        return (high - low) / 2.0

    @property
    def budget_expanded_um(self) -> float:
        """Expanded uncertainty of the rows alone, with the factor for their effective degrees of freedom."""
        return coverage_factor(self.degrees_of_freedom, self.probability) * self.combined_um

    @property
    def family(self) -> dict[str, float]:
        """Probability of each family of shapes."""
        return self.belief.family


def state_straightness(
    position_mm: npt.ArrayLike,
    deviation_um: npt.ArrayLike,
    budget: Budget,
    reference: str = "least-squares",
    *,
    source_mm: float | None = None,
    passes: int = 1,
    joins_mm: tuple[float, ...] = (),
    angle_um_per_m: npt.ArrayLike | None = None,
    cross_um: npt.ArrayLike | None = None,
    draws: int = 4000,
    seed: int = 1,
    probability: float = 0.95,
) -> Stated:
    """Straightness of readings (n,) at increasing positions (n,), n >= 4, with the uncertainty the budget gives it.

    The other arguments are what the contributions of the budget work with (see ``Measured``). The same seed gives the
    same bits. Raises BadInput for readings that cannot be evaluated, a budget without scatter of any kind, and
    contributions that need what is missing.
    """
    x = positions(position_mm, 4)
    y = values(deviation_um, x)
    measured = Measured(x, y, source_mm, passes, joins_mm, _column(angle_um_per_m, x), _column(cross_um, x))
    found = effects(budget, measured)
    believer = Believer(x, covariance(budget, found), budget.bed)
    belief = believer.belief(y, draws, seed, disturbance=lambda count: disturbance(found, count, seed))
    outcome = belief.straightness(reference)
    weights = functional(x, y, reference)
    rows = (*(_row(effect, weights) for effect in found), _sampling_row(belief, outcome, reference))
    combined = _combined(rows, budget)
    scatter = _scatter(found)
    return Stated(
        reference=reference,
        value_um=outcome.nominal,
        best_um=float(np.median(outcome.draws)),
        outcome=outcome,
        belief=belief,
        rows=rows,
        combined_um=combined,
        degrees_of_freedom=welch_satterthwaite(
            combined, [(row.contribution_um, row.degrees_of_freedom) for row in rows]
        ),
        floor=noise_floor_um(x, scatter, reference, seed=seed) if scatter > 0.0 else None,
        probability=probability,
    )


def functional(x: FloatArray, y: FloatArray, reference: str) -> FloatArray:
    """Derivative of the straightness value by each reading, (n,): exact, the value is linear in pieces."""
    step = 1e-6 * max(float(np.ptp(y)), 1e-3)
    moved = straightness(x, y[:, np.newaxis] + step * np.hstack([np.eye(x.size), -np.eye(x.size)]), reference).value_um
    return np.asarray((moved[: x.size] - moved[x.size :]) / (2.0 * step))


def _column(given: npt.ArrayLike | None, x: FloatArray) -> FloatArray | None:
    return None if given is None else values(given, x)


def _row(effect: Effect, weights: FloatArray) -> Row:
    one = effect.contribution
    each = weights @ effect.matrix
    sensitivity = float(each[0]) if effect.column is not None else float(np.sqrt((each**2).sum()))
    return Row(
        one.name,
        str(one.acts),
        one.value,
        one.unit,
        one.distribution,
        one.degrees_of_freedom,
        one.source,
        one.standard_uncertainty,
        sensitivity,
        abs(sensitivity) * one.standard_uncertainty,
    )


def _sampling_row(belief: ProfileBelief, outcome: Outcome, reference: str) -> Row:
    """What the value over the whole length differs from the value at the stations, as the belief has it."""
    at = np.searchsorted(belief.grid_mm, belief.station_mm)
    missed = outcome.draws - straightness(belief.station_mm, belief.profile[at], reference).value_um
    u = float(np.sqrt((missed**2).mean()))
    return Row(SAMPLING, "sampling", u, "um", "normal", math.inf, "computed", u, 1.0, u)


def _combined(rows: tuple[Row, ...], budget: Budget) -> float:
    by_name = {row.name: row for row in rows}
    variance = sum(row.contribution_um**2 for row in rows)
    for pair in budget.correlation:
        a, b = by_name[pair.first], by_name[pair.second]
        signed = a.sensitivity * a.standard_uncertainty * b.sensitivity * b.standard_uncertainty
        variance += 2.0 * pair.coefficient * signed
    return math.sqrt(max(variance, 0.0))


def _scatter(found: tuple[Effect, ...]) -> float:
    """Root mean square over the stations of what is drawn for each reading."""
    random = [effect for effect in found if effect.random is not None and not effect.on_reading]
    variance = sum(
        effect.contribution.standard_uncertainty**2 * float((effect.matrix**2).sum(axis=1).mean()) for effect in random
    )
    return math.sqrt(variance)
