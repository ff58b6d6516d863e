"""From readings and budgets to stated values: straightness, and any value of one or two lines."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.evaluate import straightness
from waywright.evaluate.arrays import FloatArray, positions, values
from waywright.uncertainty.belief import Believer, ProfileBelief
from waywright.uncertainty.contribution import Acts, Budget
from waywright.uncertainty.degrees import welch_satterthwaite
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.effects import Effect, Measured, covariance, disturbance, effects
from waywright.uncertainty.one_thread import one_blas_thread
from waywright.uncertainty.outcome import Outcome
from waywright.uncertainty.profiles import noise_floor_um
from waywright.uncertainty.stated import SAMPLING, Row, Stated, combined_of, row_of

Curve: TypeAlias = tuple[FloatArray, FloatArray]
Value: TypeAlias = Callable[[Sequence[Curve]], FloatArray]
"""A value of lines: for each its positions (n,) and its profiles (n, draws); returns (draws,)."""

_STREAM_PAIRS = 131


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """One line to be judged: what was read and the budget that says how far it can be trusted."""

    measured: Measured
    budget: Budget

    @property
    def curve(self) -> Curve:
        """Positions and readings."""
        return self.measured.position_mm, self.measured.reading


def measured_of(
    position_mm: npt.ArrayLike,
    reading: npt.ArrayLike,
    *,
    source_mm: float | None = None,
    passes: int = 1,
    joins_mm: tuple[float, ...] = (),
    angle_um_per_m: npt.ArrayLike | None = None,
    cross_um: npt.ArrayLike | None = None,
) -> Measured:
    """Readings (n,) at increasing positions (n,), n >= 4, checked. Raises BadInput for what cannot be evaluated."""
    x = positions(position_mm, 4)
    y = values(reading, x)
    angle, cross = (None if given is None else values(given, x) for given in (angle_um_per_m, cross_um))
    return Measured(x, y, source_mm, passes, joins_mm, angle, cross)


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
    measured = measured_of(
        position_mm,
        deviation_um,
        source_mm=source_mm,
        passes=passes,
        joins_mm=joins_mm,
        angle_um_per_m=angle_um_per_m,
        cross_um=cross_um,
    )
    judged = Judged(measured, budget)
    return state([judged], straightness_value(reference), "um", reference, draws, seed, probability)


def straightness_value(reference: str) -> Value:
    """Straightness of the only line."""

    def value(lines: Sequence[Curve]) -> FloatArray:
        return np.asarray(straightness(*lines[0], reference).value_um)

    return value


def state(
    lines: Sequence[Judged],
    value: Value,
    unit: str = "um",
    reference: str | None = None,
    draws: int = 4000,
    seed: int = 1,
    probability: float = 0.95,
) -> Stated:
    """State any value of one or several lines that were measured independently, for example their squareness.

    ``reference`` is given where the value is a straightness about that line, which then gets its noise floor.
    """
    with one_blas_thread():
        return _stated(lines, value, unit, reference, draws, seed, probability)


def _stated(
    lines: Sequence[Judged],
    value: Value,
    unit: str,
    reference: str | None,
    draws: int,
    seed: int,
    probability: float,
) -> Stated:
    acting = [effects(line.budget, line.measured) for line in lines]
    beliefs = tuple(
        _belief(line, found, draws, seed + k) for k, (line, found) in enumerate(zip(lines, acting, strict=True))
    )
    nominal = float(value([(x, y[:, np.newaxis]) for x, y in (line.curve for line in lines)])[0])
    outcome = Outcome(np.asarray(value([(b.grid_mm, b.profile) for b in beliefs])), nominal, seed)
    weights = _derivatives(lines, value)
    rows = [
        row_of(effect, own, k + 1)
        for k, (found, own) in enumerate(zip(acting, weights, strict=True))
        for effect in found
    ]
    rows.append(_sampling_row(beliefs, outcome, value))
    combined = combined_of(rows, [line.budget for line in lines])
    scatter = _scatter(acting[0])
    floored = reference is not None and scatter > 0.0
    return Stated(
        unit=unit,
        value=nominal,
        best=float(np.median(outcome.draws)),
        outcome=outcome,
        beliefs=beliefs,
        rows=tuple(rows),
        combined=combined,
        second_order=math.sqrt(combined**2 + _second_order(lines, acting, weights)),
        degrees_of_freedom=welch_satterthwaite(combined, [(row.contribution, row.degrees_of_freedom) for row in rows]),
        floor=noise_floor_um(lines[0].measured.position_mm, scatter, reference or "", seed=seed) if floored else None,
        reference=reference,
        probability=probability,
    )


def _belief(line: Judged, found: tuple[Effect, ...], draws: int, seed: int) -> ProfileBelief:
    """Drawn profiles of one line, in an order of its own: what is drawn for two lines must not run in step."""
    measured = line.measured
    believer = Believer(measured.position_mm, covariance(line.budget, found), line.budget.bed)
    belief = believer.belief(measured.reading, draws, seed, disturbance=lambda count: disturbance(found, count, seed))
    return belief.shuffled(np.argsort(standard_normals(draws, seed, stream=_STREAM_PAIRS), kind="stable"))


def _derivatives(lines: Sequence[Judged], value: Value) -> list[FloatArray]:
    """Derivative of the value by each reading of each line, (n,): exact where the value is linear in pieces."""
    curves = [line.curve for line in lines]
    found = []
    for k, (x, y) in enumerate(curves):
        step = 1e-6 * max(float(np.ptp(y)), 1e-3)
        moved = y[:, np.newaxis] + step * np.hstack([np.eye(x.size), -np.eye(x.size)])
        others = [(a, np.repeat(b[:, np.newaxis], 2 * x.size, axis=1)) for a, b in curves]
        others[k] = (x, moved)
        result = value(others)
        found.append(np.asarray((result[: x.size] - result[x.size :]) / (2.0 * step)))
    return found


def _sampling_row(beliefs: Sequence[ProfileBelief], outcome: Outcome, value: Value) -> Row:
    """What the value over the whole length differs from the value at the stations, as the beliefs have it."""
    seen = [(b.station_mm, b.profile[np.searchsorted(b.grid_mm, b.station_mm)]) for b in beliefs]
    missed = outcome.draws - value(seen)
    u = float(np.sqrt((missed**2).mean()))
    return Row(SAMPLING, "sampling", u, "1", "normal", math.inf, "computed", u, 1.0, u)


def _second_order(
    lines: Sequence[Judged], acting: Sequence[tuple[Effect, ...]], weights: Sequence[FloatArray]
) -> float:
    """What second-order terms add to the variance (JCGM 100, 5.1.2 note): a scale times the readings' own errors.

    The value is linear in pieces in the readings, so that other second derivatives are zero.
    """
    added = 0.0
    for line, found, own in zip(lines, acting, weights, strict=True):
        centred = own - own.sum() / own.size  # a scale acts on readings about their mean
        errors = float(centred @ covariance(line.budget, found) @ centred)
        added += (
            sum(e.contribution.standard_uncertainty**2 for e in found if e.contribution.acts is Acts.SCALE) * errors
        )
    return added


def _scatter(found: tuple[Effect, ...]) -> float:
    """Root mean square over the stations of what is drawn for each reading."""
    random = [effect for effect in found if effect.random is not None and not effect.on_reading]
    variance = sum(
        effect.contribution.standard_uncertainty**2 * float((effect.matrix**2).sum(axis=1).mean()) for effect in random
    )
    return math.sqrt(variance)
