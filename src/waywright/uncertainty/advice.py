"""What would help most: the same readings judged again as if something had been done better.

Every action is a change of the budget or of the way of measuring; the value's uncertainty is computed anew for each,
so the order is that of the figures and not of a rule of thumb.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.belief import Believer
from waywright.uncertainty.contribution import Acts, Budget
from waywright.uncertainty.effects import DRIFTS, LEFT_OF_DRIFT, Measured, covariance, disturbance, effects
from waywright.uncertainty.one_thread import one_blas_thread

_PER_READING = (Acts.READING, Acts.TURBULENCE, Acts.STEP_ANGLE)


@dataclass(frozen=True, slots=True)
class Action:
    """Something to do, as a wording key with its facts, and the expanded uncertainty before and after it."""

    key: str
    facts: dict[str, float]
    expanded_before_um: float
    expanded_after_um: float


@dataclass(frozen=True, slots=True)
class _Change:
    key: str
    facts: dict[str, float]
    budget: Budget
    passes: int
    twice_the_stations: bool = False


def what_would_help(
    measured: Measured,
    budget: Budget,
    reference: str = "least-squares",
    *,
    averaging_s: float | None = None,
    most: int = 3,
    draws: int = 1500,
    seed: int = 1,
    expanded_um: float | None = None,
) -> tuple[Action, ...]:
    """The ``most`` actions that reduce the expanded uncertainty of the straightness most, best first.

    ``averaging_s`` is the averaging time of a reading; without it longer averaging is not considered. Actions that
    gain less than 2 % are left out: the draws cannot tell them from nothing. ``expanded_um`` is the U that was stated,
    from more draws: what an action changes is then told in proportion to it.
    """
    with one_blas_thread():
        return _actions(measured, budget, reference, averaging_s, most, draws, seed, expanded_um)


def _actions(
    measured: Measured,
    budget: Budget,
    reference: str,
    averaging_s: float | None,
    most: int,
    draws: int,
    seed: int,
    expanded_um: float | None,
) -> tuple[Action, ...]:
    before = _expanded(measured, budget, measured.passes, False, reference, draws, seed)
    share = 1.0 if expanded_um is None else expanded_um / before
    actions = [
        Action(
            change.key,
            change.facts,
            share * before,
            share
            * _expanded(measured, change.budget, change.passes, change.twice_the_stations, reference, draws, seed),
        )
        for change in _changes(measured, budget, averaging_s)
    ]
    useful = [action for action in actions if action.expanded_after_um < 0.98 * action.expanded_before_um]
    return tuple(sorted(useful, key=lambda action: action.expanded_after_um)[:most])


def _changes(measured: Measured, budget: Budget, averaging_s: float | None) -> Iterator[_Change]:
    acting = {one.acts for one in budget.contribution if one.value > 0.0}
    yield _Change("uncertainty.help_passes", {"more": 2}, budget, measured.passes + 2)
    if averaging_s is not None:
        # Air and electronics average with the root of the time, as long as it is several correlation times.
        longer = 4.0 * averaging_s
        yield _Change(
            "uncertainty.help_averaging", {"averaging_s": longer}, _scaled(budget, 0.5, _PER_READING), measured.passes
        )
    if Acts.AIR_GRADIENT in acting:
        yield _Change("uncertainty.help_air", {}, _scaled(budget, 0.25, (Acts.AIR_GRADIENT,)), measured.passes)
    if acting & set(DRIFTS) and not measured.both_ways:
        yield _Change("uncertainty.help_drift", {}, _scaled(budget, LEFT_OF_DRIFT, DRIFTS), measured.passes)
    if Acts.BOW in acting:
        yield _Change("uncertainty.help_reversal", {}, _scaled(budget, 0.2, (Acts.BOW,)), measured.passes)
    if Acts.NONLINEARITY in acting or Acts.SCALE in acting:
        align = (Acts.NONLINEARITY, Acts.SCALE)
        yield _Change("uncertainty.help_align", {}, _scaled(budget, 0.3, align), measured.passes)
    spacing = float(np.diff(measured.position_mm).max())
    yield _Change("uncertainty.help_stations", {"spacing_mm": spacing / 2.0}, budget, measured.passes, True)


def _scaled(budget: Budget, factor: float, acts: tuple[Acts, ...]) -> Budget:
    changed = tuple(replace(one, value=one.value * factor) if one.acts in acts else one for one in budget.contribution)
    return replace(budget, contribution=changed)


def _expanded(
    measured: Measured, budget: Budget, passes: int, twice: bool, reference: str, draws: int, seed: int
) -> float:
    x, y = measured.position_mm, measured.reading
    now = replace(measured, passes=passes)
    if twice:
        now = _between(now)
        x, y = now.position_mm, now.reading
    found = effects(budget, now)
    believer = Believer(x, covariance(budget, found), budget.bed)
    belief = believer.belief(y, draws, seed, disturbance=lambda count: disturbance(found, count, seed))
    low, high = belief.straightness(reference).interval()
    width = (high - low) / 2.0
    return width if math.isfinite(width) else math.inf


def _between(measured: Measured) -> Measured:
    """The same line with a station between every two, read as the neighbours would have it."""
    x = measured.position_mm
    more = np.sort(np.concatenate([x, (x[1:] + x[:-1]) / 2.0]))

    def at(values: FloatArray | None) -> FloatArray | None:
        return None if values is None else np.interp(more, x, values)

    reading = np.interp(more, x, measured.reading)
    return replace(
        measured,
        position_mm=more,
        reading=reading,
        angle_um_per_m=at(measured.angle_um_per_m),
        cross_um=at(measured.cross_um),
    )
