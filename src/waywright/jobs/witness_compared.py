"""Do a line and the same line measured again agree? Within what both may err by, in 95 of 100 cases.

Compared are differences about the best line of the stations chosen, because straightness does not depend on where a
beam points that day. What both measurements share (the scale of a detector, a bow of the air) cancels and is not
counted. Allowed is what is left: scatter, repeatability and drift of either, and how far the true profile may run off
the straight line between two stations of the first, where the second stands elsewhere (``uncertainty.belief``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.passes import Between
from waywright.jobs.line_budget import judged_line
from waywright.jobs.line_stated import ready_method
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.uncertain import budget_of
from waywright.quantities import code
from waywright.readings import Floats
from waywright.uncertainty import Acts, Believer, Budget, Judged, covariance, effects, standard_normals
from waywright.uncertainty.one_thread import one_blas_thread

FEWEST, PROBABILITY, WITHIN_MM = 4, 0.95, 20.0
_DRAWS, _SEED, _STREAM = 4000, 1, 301
_APART = (
    Acts.READING, Acts.TURBULENCE, Acts.STEP, Acts.STEP_ANGLE,
    Acts.DRIFT_OFFSET, Acts.DRIFT_ANGLE, Acts.BED_GRADIENT, Acts.JOIN,
)  # fmt: skip
"""What differs between two measurements of one line by the same means."""


@dataclass(frozen=True, slots=True)
class WitnessedValue:
    """One station and quantity: first and again about their line, the difference, what is allowed; um."""

    code: str
    position_mm: float
    first: float
    again: float
    difference: float
    allowed: float

    @property
    def agrees(self) -> bool:
        """Within the uncertainty of both."""
        return abs(self.difference) <= self.allowed


def witnessed(first: MeasuredLine, again: MeasuredLine, chosen_mm: Sequence[float] = ()) -> tuple[WitnessedValue, ...]:
    """Compare a line measured again with the first; ``chosen_mm`` are the stations (within 20 mm), by default all.

    Raises BadInput where fewer than four stations or no straightness were measured twice.
    """
    names = [name for name in first.codes() if code(name).is_straightness and name in again.codes()]
    if not names:
        raise BadInput("witness.nothing_common", line=first.line.name)
    budget = _apart(budget_of(ready_method(first)))
    with one_blas_thread():
        return tuple(
            value
            for name in names
            for value in _compared(
                name, judged_line(first, name, budget), judged_line(again, name, budget), chosen_mm, 1.0 / len(names)
            )
        )


def not_compared(values: Sequence[WitnessedValue], chosen_mm: Sequence[float]) -> tuple[float, ...]:
    """Chosen stations that are not among the values: one of the two measurements has nothing there."""
    places = np.array([each.position_mm for each in values])
    return tuple(each for each in chosen_mm if np.abs(places - each).min() > WITHIN_MM)


def _apart(budget: Budget) -> Budget:
    """The budget of a difference: without what both share."""
    return replace(budget, contribution=tuple(one for one in budget.contribution if one.acts in _APART), correlation=())


def _compared(
    name: str, first: Judged, again: Judged, chosen_mm: Sequence[float], share: float
) -> list[WitnessedValue]:
    picked = _picked(again.measured.position_mm, first.measured.position_mm, chosen_mm)
    places = again.measured.position_mm[picked]
    if places.size < FEWEST:
        raise BadInput("witness.few_stations", stations=int(places.size), needed=FEWEST)
    read = Between.of(places, first.measured.position_mm).linear(first.measured.reading)
    one, two = _about_line(places, read), _about_line(places, again.measured.reading[picked])
    off = _about_line(places, _true(first, places) - read[:, np.newaxis] + _scatter(again)[picked])
    allowed = _allowed(off, PROBABILITY**share)
    return [
        WitnessedValue(name, float(place), float(a), float(b), float(b - a), float(limit))
        for place, a, b, limit in zip(places, one, two, allowed, strict=True)
    ]


def _true(first: Judged, places_mm: Floats) -> Floats:
    """What the true profile may be at places (m,) given the first measurement, (m, draws)."""
    m = first.measured
    believer = Believer(m.position_mm, covariance(first.budget, effects(first.budget, m)), first.budget.bed)
    belief = believer.belief(m.reading, _DRAWS, _SEED)
    return Between.of(places_mm, belief.grid_mm).linear(belief.profile)


def _scatter(again: Judged) -> Floats:
    """Errors of the second measurement at its stations (n, draws)."""
    m = again.measured
    root = np.linalg.cholesky(covariance(again.budget, effects(again.budget, m)))
    drawn = standard_normals(m.position_mm.size * _DRAWS, _SEED, stream=_STREAM)
    return np.asarray(root @ drawn.reshape(m.position_mm.size, _DRAWS))


def _allowed(off: Floats, probability: float) -> Floats:
    """What differences (m, draws) stay within, all stations together with a probability; the same share for each."""
    size = np.sqrt((off**2).mean(axis=1))
    return np.asarray(size * np.quantile((np.abs(off) / size[:, np.newaxis]).max(axis=0), probability))


def _picked(again_mm: Floats, first_mm: Floats, chosen_mm: Sequence[float]) -> Floats:
    """Which stations of the second measurement count: chosen, and on the stretch of the first (within 20 mm)."""
    inside = (again_mm >= first_mm.min() - WITHIN_MM) & (again_mm <= first_mm.max() + WITHIN_MM)
    if not chosen_mm:
        return np.asarray(inside)
    near = np.abs(again_mm[:, np.newaxis] - np.array(chosen_mm)[np.newaxis, :]).min(axis=1) <= WITHIN_MM
    return np.asarray(inside & near)


def _about_line(position_mm: Floats, value: Floats) -> Floats:
    return np.asarray(straightness(position_mm, value, "least-squares").deviation_um)
