"""Uncertainty of a value of readings that are no line: a surface, positioning runs, a joint, compared squares.

There is no statement here about what such readings may look like, so the errors that the budget allows are put on the
readings once more, through the same evaluation. On average that adds something to a largest minus smallest; as much is
taken off the value read. It is known as little as it is large (errors add less to what has errors already), so it
counts in full in the standard uncertainty: the root mean square about the value read. As often as errors alone show as
much, the true value may be zero.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from waywright.evaluate.arrays import FloatArray, IntArray
from waywright.uncertainty.contribution import Budget
from waywright.uncertainty.degrees import welch_satterthwaite
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.effects import Effect, correlations, variances
from waywright.uncertainty.one_thread import one_blas_thread
from waywright.uncertainty.outcome import Outcome
from waywright.uncertainty.profiles import NoiseFloor
from waywright.uncertainty.stated import Stated, combined_of, row_of

Work: TypeAlias = Callable[[FloatArray], FloatArray]
"""The value (draws,) of readings (n, draws)."""

_STREAM = 501
_NEARLY = 1e-12  # of the sum of the variances
_MOST_ZERO = 0.9  # a value below what noise shows is no proof of a value of zero


@dataclass(frozen=True, slots=True, eq=False)
class Together:
    """Readings (n,) of one value, and what acts on them: ``acting`` for each line (from 1), matrices (n, k)."""

    reading: FloatArray
    acting: tuple[tuple[Effect, ...], ...]
    budget: Budget

    @property
    def each(self) -> list[tuple[int, Effect]]:
        """Every effect with the number of its line."""
        return [(line, effect) for line, found in enumerate(self.acting, 1) for effect in found]


def state_readings(
    work: Work,
    together: Together,
    unit: str = "um",
    *,
    linear: bool = False,
    reference: str | None = None,
    matters: IntArray | None = None,
    draws: int = 4000,
    seed: int = 1,
    probability: float = 0.95,
) -> Stated:
    """State the value of readings.

    ``linear``: the value is a weighted sum of the readings, of either sign; otherwise it grows with noise, is never
    negative, and with a ``reference`` gets its noise floor. ``matters`` are the readings that the value depends on, if
    not on all (it saves evaluating). Between the readings nothing is said. The same seed gives the same bits.
    """
    with one_blas_thread():
        nominal = float(work(together.reading[:, np.newaxis])[0])
        weights = _derivatives(work, together.reading, matters)
        rows = tuple(row_of(effect, weights, line) for line, effect in together.each)
        combined = combined_of(rows, [together.budget] * len(together.acting))
        place = _normal_places(draws)
        true = nominal + combined * place if linear else _true_values(work, together, nominal, place, seed)
        floor = None if linear or reference is None else _floor(work, together, reference, draws, seed)
    return Stated(
        unit=unit,
        value=nominal,
        best=float(np.median(true)),
        outcome=Outcome(true, nominal, seed),
        beliefs=(),
        rows=rows,
        combined=combined,
        second_order=combined,
        degrees_of_freedom=welch_satterthwaite(combined, [(row.contribution, row.degrees_of_freedom) for row in rows]),
        floor=floor,
        reference=reference,
        probability=probability,
    )


def _normal_places(draws: int) -> FloatArray:
    """A normal distribution without chance: its quantiles at even shares, of standard deviation one."""
    from scipy.stats import norm

    place = np.asarray(norm.ppf((np.arange(draws) + 0.5) / draws))
    return np.asarray(place / place.std(ddof=1))


def _derivatives(work: Work, reading: FloatArray, matters: IntArray | None) -> FloatArray:
    """Derivative of the value by each reading, (n,): exact where the value is linear in pieces."""
    chosen = np.arange(reading.size) if matters is None else matters
    step = 1e-6 * max(float(np.ptp(reading)), 1e-3)
    moves = step * np.eye(reading.size)[:, chosen]
    made = work(reading[:, np.newaxis] + np.hstack([moves, -moves]))
    found = np.zeros(reading.size)
    found[chosen] = (made[: chosen.size] - made[chosen.size :]) / (2.0 * step)
    return found


def _true_values(work: Work, together: Together, nominal: float, place: FloatArray, seed: int) -> FloatArray:
    """What the true value may be, (draws,) in rising order, of a value that grows with noise."""
    errors = _drawn(_covariance(together), place.size, seed, _STREAM)
    made = work(together.reading[:, np.newaxis] + errors)
    added, spread = float(np.mean(made - nominal)), float(np.sqrt(np.mean((made - nominal) ** 2)))
    true = np.maximum(nominal - added + spread * place, 0.0)
    share = min(float(np.mean(work(errors) >= nominal)), _MOST_ZERO)
    true[: round(share * place.size)] = 0.0
    return true


def _covariance(together: Together) -> FloatArray:
    """Covariance of all errors of the readings, (n, n), with the correlations of the budget."""
    total = variances([effect for _, effect in together.each], together.reading.size)
    for found in together.acting:
        total += correlations(together.budget, found, together.reading.size)
    return total


def _drawn(covariance: FloatArray, draws: int, seed: int, stream: int) -> FloatArray:
    """Normal errors (n, draws) of a covariance that may be singular."""
    size = covariance.shape[0]
    scale = float(np.trace(covariance)) or 1.0
    factor = np.linalg.cholesky(covariance + _NEARLY * scale * np.eye(size))
    return np.asarray(factor @ standard_normals(size * draws, seed, stream=stream).reshape(size, draws))


def _floor(work: Work, together: Together, reference: str, draws: int, seed: int) -> NoiseFloor | None:
    """What perfect readings would have shown with what is drawn for each of them."""
    scatter = [effect for _, effect in together.each if effect.random is not None and not effect.on_reading]
    size = together.reading.size
    covariance = variances(scatter, size)
    sigma = math.sqrt(float(np.trace(covariance)) / size)
    if sigma == 0.0:
        return None
    value = work(_drawn(covariance, draws, seed, _STREAM + 1))
    upper = float(np.quantile(value, 0.95))
    return NoiseFloor(reference, size, sigma, float(value.mean()), float(value.std(ddof=1)), upper, draws, seed)
