"""A value as it is stated: with its interval, its budget row by row, and its noise floor."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.belief import ProfileBelief
from waywright.uncertainty.contribution import Budget
from waywright.uncertainty.degrees import coverage_factor
from waywright.uncertainty.effects import Effect
from waywright.uncertainty.outcome import Outcome
from waywright.uncertainty.profiles import NoiseFloor

SAMPLING = "sampling between stations"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the budget worked out: ``contribution`` = |``sensitivity``| times ``standard_uncertainty``.

    The sensitivity is in the unit of the value per unit of the contribution. ``line`` says which of several lines the
    contribution belongs to (from 1).
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
    contribution: float
    note: str = ""
    line: int = 1


def row_of(effect: Effect, weights: FloatArray, line: int) -> Row:
    """The row of a contribution to a value that changes by ``weights`` (n,) with the readings."""
    one, each = effect.contribution, weights @ effect.matrix
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
        one.note,
        line,
    )


def combined_of(rows: Sequence[Row], budgets: Sequence[Budget]) -> float:
    """All rows together, with the correlations that the budget of each line (from 1) states."""
    by_name = {(row.line, row.name): row for row in rows}
    variance = sum(row.contribution**2 for row in rows)
    for line, budget in enumerate(budgets, 1):
        for pair in budget.correlation:
            a, b = by_name[line, pair.first], by_name[line, pair.second]
            signed = a.sensitivity * a.standard_uncertainty * b.sensitivity * b.standard_uncertainty
            variance += 2.0 * pair.coefficient * signed
    return math.sqrt(max(variance, 0.0))


@dataclass(frozen=True, slots=True, eq=False)
class Stated:
    """A value with its uncertainty, in ``unit``: "um", or "um/m" for angles.

    ``value`` is computed from the readings as they are, ``best`` is the middle of what the true value may be: noise
    makes largest minus smallest larger, so for straightness it is the smaller one. ``outcome`` holds the distribution,
    ``beliefs`` the drawn profiles of each line (none for readings that are no line). ``rows`` are the law of
    propagation at the readings, all of them; ``combined`` their sum with correlations, ``second_order`` the same with
    second-order terms. ``floor`` is what a perfect axis would have read (None without scatter, and for values that do
    not grow with noise).
    """

    unit: str
    value: float
    best: float
    outcome: Outcome
    beliefs: tuple[ProfileBelief, ...]
    rows: tuple[Row, ...]
    combined: float
    second_order: float
    degrees_of_freedom: float
    floor: NoiseFloor | None = None
    reference: str | None = None
    probability: float = 0.95

    @property
    def interval(self) -> tuple[float, float]:
        """Where the true value lies with the stated probability (symmetric in probability)."""
        return self.outcome.interval(self.probability)

    @property
    def expanded(self) -> float:
        """Half the width of the interval: the U that is stated."""
        low, high = self.interval
        return (high - low) / 2.0

    @property
    def coverage_factor(self) -> float:
        """k: the stated U by the standard uncertainty of the distribution."""
        u = self.outcome.standard_uncertainty
        return self.expanded / u if u > 0.0 else math.nan

    @property
    def rows_coverage_factor(self) -> float:
        """k of the rows: t for their effective degrees of freedom."""
        return coverage_factor(self.degrees_of_freedom, self.probability)

    @property
    def rows_expanded(self) -> float:
        """Expanded uncertainty of the rows alone."""
        return self.rows_coverage_factor * self.combined

    @property
    def belief(self) -> ProfileBelief:
        """The drawn profiles of the only line, or the first."""
        return self.beliefs[0]

    @property
    def family(self) -> dict[str, float]:
        """Probability of each family of shapes (of the first line); empty for readings that are no line."""
        return self.belief.family if self.beliefs else {}
