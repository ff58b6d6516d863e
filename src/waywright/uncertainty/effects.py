"""What the contributions of a budget do to the readings of one pass or of the mean of several."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.contribution import Acts, Budget, Contribution
from waywright.uncertainty.draws import standard_normals

AIR_UM = 0.93  # um per K/m and m^2, halved below: 0.93e-6 per K at constant vapour pressure
IRON_UM = 11.5  # um per m and K of expansion
_STREAM = 201
DRIFTS = (Acts.DRIFT_ANGLE, Acts.DRIFT_OFFSET)
LEFT_OF_DRIFT = 0.2


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """The readings that a budget is applied to, all arrays (n,).

    ``source_mm`` is where the beam comes from (a place on the line or beyond; the first station if not told).
    ``passes`` were averaged: scatter between them is divided, what is alike in all is not. ``angle_um_per_m`` is the
    carriage's angle that works with an offset, ``cross_um`` the other deviation. ``joins_mm`` are the
    joins of segments. With passes ``both_ways`` an even drift cancels in their mean; a fifth is left for what is not.
    """

    position_mm: FloatArray
    reading: FloatArray
    source_mm: float | None = None
    passes: int = 1
    joins_mm: tuple[float, ...] = ()
    angle_um_per_m: FloatArray | None = None
    cross_um: FloatArray | None = None
    both_ways: bool = False

    @property
    def distance_m(self) -> FloatArray:
        """Distance of each station from the source."""
        source = float(self.position_mm[0]) if self.source_mm is None else self.source_mm
        return np.asarray(np.abs(self.position_mm - source) / 1e3)

    @property
    def length_m(self) -> float:
        """Measured length."""
        return float(np.ptp(self.position_mm)) / 1e3

    @property
    def share(self) -> FloatArray:
        """Share of the pass's time, taken as even along the line."""
        x = self.position_mm
        return np.asarray((x - x[0]) / (x[-1] - x[0]))


@dataclass(frozen=True, slots=True, eq=False)
class Effect:
    """One contribution's action per unit of standard uncertainty.

    ``random`` (n, k): columns with a draw of their own each; ``column`` (n,): one draw for all stations (None where
    the contribution is random); ``on_reading``: whether the action depends on what was read.
    """

    contribution: Contribution
    random: FloatArray | None = None
    column: FloatArray | None = None
    on_reading: bool = False

    @property
    def matrix(self) -> FloatArray:
        """All columns together, (n, k)."""
        if self.random is not None:
            return self.random
        assert self.column is not None
        return self.column[:, np.newaxis]


def effects(budget: Budget, measured: Measured) -> tuple[Effect, ...]:
    """The action of every contribution. Raises BadInput where a contribution needs what was not measured."""
    return tuple(_effect(one, measured) for one in budget.contribution)


def covariance(budget: Budget, found: tuple[Effect, ...]) -> FloatArray:
    """Covariance of the readings' errors that do not depend on the readings, shape (n, n).

    A detector's nonlinearity counts once more as scatter of each reading: how its wave lies on the true profile is
    known as well as that profile is, and readings must not be believed more closely than the detector allows.
    """
    fixed = tuple(effect for effect in found if not effect.on_reading)
    size = found[0].matrix.shape[0] if found else 0
    total = variances(fixed, size)
    for effect in found:
        if effect.contribution.acts is Acts.NONLINEARITY:
            total += effect.contribution.standard_uncertainty**2 * np.eye(size)
    return total + correlations(budget, fixed, size)


def variances(found: Sequence[Effect], size: int) -> FloatArray:
    """Covariance of what these do to n readings, each for itself, shape (n, n)."""
    total = np.zeros((size, size))
    for effect in found:
        scaled = effect.contribution.standard_uncertainty * effect.matrix
        total += scaled @ scaled.T
    return total


def correlations(budget: Budget, found: Sequence[Effect], size: int) -> FloatArray:
    """What the correlations of the budget add to that. Raises BadInput for one that is not between fixed columns."""
    total = np.zeros((size, size))
    by_name = {effect.contribution.name: effect for effect in found}
    for pair in budget.correlation:
        a, b = by_name.get(pair.first), by_name.get(pair.second)
        if a is None or b is None or a.column is None or b.column is None:
            raise BadInput("uncertainty.correlated_readings", name=pair.first)
        factor = pair.coefficient * a.contribution.standard_uncertainty * b.contribution.standard_uncertainty
        both = factor * np.outer(a.column, b.column)
        total += both + both.T
    return total


def disturbance(found: tuple[Effect, ...], draws: int, seed: int) -> FloatArray | None:
    """Drawn errors that depend on the readings, (n, draws); None where there are none."""
    dependent = [effect for effect in found if effect.on_reading]
    if not dependent:
        return None
    total = np.zeros((dependent[0].matrix.shape[0], draws))
    for number, effect in enumerate(dependent):
        columns = effect.contribution.standard_uncertainty * effect.matrix
        z = standard_normals(draws * columns.shape[1], seed, stream=_STREAM + number).reshape(-1, draws)
        total += columns @ z
    return total


_RANDOM: dict[Acts, Callable[[Measured], FloatArray]] = {
    Acts.READING: lambda m: np.eye(m.position_mm.size),
    Acts.TURBULENCE: lambda m: np.diag((m.distance_m / 10.0) ** 1.5),
    Acts.STEP: lambda m: _summed(np.ones(m.position_mm.size - 1)),
    Acts.STEP_ANGLE: lambda m: _summed(np.diff(m.position_mm) / 1e3),
}
_ALIKE: dict[Acts, Callable[[Measured], FloatArray]] = {
    Acts.DRIFT_OFFSET: lambda m: m.share,
    Acts.DRIFT_ANGLE: lambda m: m.share * m.distance_m,
    Acts.AIR_GRADIENT: lambda m: AIR_UM * m.distance_m**2 / 2.0,
    Acts.BED_GRADIENT: lambda m: IRON_UM * m.length_m**2 / 2.0 * m.share * (1.0 - m.share),
    Acts.BOW: lambda m: 4.0 * m.share * (1.0 - m.share),
    Acts.TILT: lambda m: m.distance_m,
}


def _effect(one: Contribution, m: Measured) -> Effect:
    if one.acts in _RANDOM:
        return Effect(one, random=_RANDOM[one.acts](m) / np.sqrt(m.passes))
    if one.acts in _ALIKE:
        left = LEFT_OF_DRIFT if m.both_ways and one.acts in DRIFTS else 1.0
        return Effect(one, column=left * _ALIKE[one.acts](m))
    if one.acts is Acts.JOIN:
        return Effect(one, random=_kinks(m))
    if one.acts is Acts.SCALE:
        return Effect(one, column=m.reading - m.reading.mean(), on_reading=True)
    if one.acts is Acts.NONLINEARITY:
        return Effect(one, random=wave(m.reading), on_reading=True)
    name = "angle_um_per_m" if one.acts is Acts.ABBE else "cross_um"
    return Effect(one, column=_needed(getattr(m, name), one, name, m.position_mm.size) / 1e3)


def _kinks(m: Measured) -> FloatArray:
    """A change of slope at each join, (n, joins); nothing without joins."""
    beyond = np.maximum(0.0, np.subtract.outer(m.position_mm, np.array(m.joins_mm))) / 1e3
    return beyond if m.joins_mm else np.zeros((m.position_mm.size, 1))


def _summed(step: FloatArray) -> FloatArray:
    """Heights from steps: one more height than steps, the first zero; (n, n - 1)."""
    return np.vstack([np.zeros(step.size), np.tril(np.ones((step.size, step.size))) * step])


def wave(reading: FloatArray) -> FloatArray:
    """A wave of one and a half periods over the excursion, phase unknown: (n, 2), of variance one everywhere.

    A full period would cancel between the largest and the smallest reading, a half one is nearly a scale error.
    """
    excursion = float(np.ptp(reading))
    angle = 3.0 * np.pi * (reading - reading.min()) / (excursion if excursion > 0.0 else 1.0)
    return np.stack([np.sin(angle), np.cos(angle)], axis=1)


def _needed(given: FloatArray | None, one: Contribution, name: str, n: int) -> FloatArray:
    """A second profile that the contribution works with; without one it is taken as not acting only at value 0."""
    if given is None:
        if one.value > 0.0:
            raise BadInput("uncertainty.contribution_needs", name=one.name, missing=name)
        return np.zeros(n)
    return given
