"""Uncertainty of a value that follows from a few readings: a row of a sheet.

The budget's contributions act on the readings as they do on a line (see ``Acts``), but for what needs a line: each tilt
counts by itself, contact of the feet over the base, an artefact's own angle over the place along it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.contribution import Acts, Budget, Contribution
from waywright.uncertainty.degrees import coverage_factor, welch_satterthwaite
from waywright.uncertainty.draws import standard_normals

Work: TypeAlias = Callable[[FloatArray], FloatArray]
_STREAM = 401
_DRAWS = 2000


@dataclass(frozen=True, slots=True, eq=False)
class RowReadings:
    """Readings (n,) of a row, um or um/m, and what contributions work with.

    ``angles`` says that they are tilts; ``at_mm`` (n,) where they lie along the line or artefact, zeros if not known;
    ``sense`` (n,) -1 where the artefact was turned over; ``base_mm`` the distance of the feet.
    """

    reading: FloatArray
    angles: bool
    at_mm: FloatArray
    sense: FloatArray
    base_mm: float | None = None

    @property
    def share(self) -> FloatArray:
        """Share of the time of the row, taken as even, in the order read."""
        return np.linspace(0.0, 1.0, self.reading.size)


@dataclass(frozen=True, slots=True)
class RowPart:
    """One contribution worked out, in the unit of the value; nothing where it does not act on this row."""

    name: str
    acts: str
    value: float
    unit: str
    distribution: str
    source: str
    degrees_of_freedom: float
    contribution: float


@dataclass(frozen=True, slots=True)
class RowUncertainty:
    """Uncertainty of a value in its unit: ``expanded`` = ``coverage_factor`` times ``standard``, 95 %.

    ``standard`` is the root mean square of what may come about the value read, so that what noise adds to a largest
    minus smallest is in it. ``floor`` is what noise alone would have read where that is not zero on average.
    """

    standard: float
    expanded: float
    coverage_factor: float
    parts: tuple[RowPart, ...]
    floor: float


def largest_part(parts: Sequence[RowPart]) -> RowPart | None:
    """The contribution that counts most; None where none acts."""
    return max((part for part in parts if part.contribution > 0.0), key=_size, default=None)


def _size(part: RowPart) -> float:
    return part.contribution


def row_uncertainty(
    work: Work, measured: RowReadings, budget: Budget, *, linear: bool, seed: int = 1
) -> RowUncertainty:
    """Uncertainty of ``work(reading)``, which takes (n,) and, unless ``linear``, (n, draws).

    Contributions of a budget are taken as independent here. The same seed gives the same bits.
    """
    columns = [one.standard_uncertainty * acting(one, measured) for one in budget.contribution]
    spread = _by_derivative(work, measured.reading) if linear else _by_draws(work, measured.reading, seed)
    sizes = [spread(column) for column in columns]
    parts = tuple(_part(one, size) for one, size in zip(budget.contribution, sizes, strict=True))
    together = np.hstack(columns) if columns else np.zeros((measured.reading.size, 0))
    standard = spread(together)
    factor = coverage_factor(welch_satterthwaite(standard, [(p.contribution, p.degrees_of_freedom) for p in parts]))
    floor = 0.0 if linear or not together.any() else float(np.mean(work(_disturbed(together, seed))))
    return RowUncertainty(standard, factor * standard, factor, parts, floor)


def _part(one: Contribution, size: float) -> RowPart:
    return RowPart(one.name, str(one.acts), one.value, one.unit, one.distribution, one.source,
                   one.degrees_of_freedom, size)  # fmt: skip


def _by_derivative(work: Work, reading: FloatArray) -> Callable[[FloatArray], float]:
    """Exactly, from the derivative by each reading."""
    size = max(float(np.abs(reading).max()), 1.0)
    derivative = np.array(
        [float(work(reading + size * one)) - float(work(reading - size * one)) for one in np.eye(reading.size)]
    ) / (2.0 * size)
    return lambda columns: float(np.linalg.norm(derivative @ columns))


def _by_draws(work: Work, reading: FloatArray, seed: int) -> Callable[[FloatArray], float]:
    """Root mean square about the value read."""
    value = float(work(reading))

    def spread(columns: FloatArray) -> float:
        if not columns.any():
            return 0.0
        made = work(reading[:, np.newaxis] + _disturbed(columns, seed))
        return float(np.sqrt(np.mean((made - value) ** 2)))

    return spread


def _disturbed(columns: FloatArray, seed: int) -> FloatArray:
    normals = standard_normals(columns.shape[1] * _DRAWS, seed, stream=_STREAM).reshape(columns.shape[1], _DRAWS)
    return np.asarray(columns @ normals)


def acting(one: Contribution, m: RowReadings) -> FloatArray:
    """What one unit of standard uncertainty does to the readings, (n, k); zeros where it does not act here."""
    acts, n = Acts(one.acts), m.reading.size
    if acts is Acts.SCALE:
        return m.reading[:, np.newaxis].copy()
    if m.angles:
        return _on_angles(acts, m, n)
    if acts in (Acts.READING, Acts.STEP):
        return np.eye(n)
    column = {
        Acts.DRIFT_OFFSET: m.share,
        Acts.TILT: m.sense * m.at_mm / 1000.0,
        Acts.BOW: 4.0 * _along(m) * (1.0 - _along(m)),
    }.get(acts, np.zeros(n))
    return np.asarray(column)[:, np.newaxis]


def _on_angles(acts: Acts, m: RowReadings, n: int) -> FloatArray:
    if acts is Acts.STEP_ANGLE:
        return np.eye(n)
    if acts is Acts.STEP:
        # A foot a little off its place tilts the level by that over its base.
        return np.eye(n) * (1000.0 / m.base_mm if m.base_mm else 0.0)
    column = {Acts.TILT: np.ones(n), Acts.DRIFT_ANGLE: m.share}.get(acts, np.zeros(n))
    return np.asarray(column)[:, np.newaxis]


def _along(m: RowReadings) -> FloatArray:
    length = float(np.ptp(m.at_mm))
    return np.asarray((m.at_mm - m.at_mm.min()) / length) if math.isfinite(length) and length > 0.0 else 0.0 * m.at_mm
