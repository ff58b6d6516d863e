"""Uncertainty and verdict of what is no line: flatness, positioning, a joint's step and kink, compared squares."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from waywright.evaluate import (
    Joint,
    SlopeLine,
    compare_squares,
    flatness,
    heights_from_network,
    joint,
    positioning,
)
from waywright.evaluate.positioning import Positioning
from waywright.jobs.judge_joints import JointResult
from waywright.jobs.judge_more import SquaresResult
from waywright.jobs.judge_surfaces import FlatnessResult, PositioningResult
from waywright.jobs.stated_decided import decided
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, budget_of, record_of
from waywright.readings import Floats
from waywright.uncertainty import Acts, Budget, Contribution, Measured, effects
from waywright.uncertainty.effects import Effect
from waywright.uncertainty.of_readings import Together, Work, state_readings
from waywright.uncertainty.on_points import Points, Tilts, effects_on_points, effects_on_tilts
from waywright.verdict.rule_records import Limit

_SURFACE_DRAWS = 1000
_TOUCHING = 1e-6  # of the flatness
_FIGURES: dict[str, tuple[str, Callable[[Positioning], object]]] = {
    "accuracy": ("A", lambda p: p.accuracy_um),
    "systematic": ("E", lambda p: p.systematic_um),
    "mean-deviation": ("M", lambda p: p.mean_deviation_um),
    "reversal": ("B", lambda p: p.reversal_um),
    "repeatability": ("R", lambda p: p.repeatability_um),
}
"""Figures of positioning with their letters (ISO 230-2), the first one that there is gets the verdict."""


def stated_flatness(result: FlatnessResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    """The flatness of the points, whether heights or tilts were read."""
    budget, x, y = budget_of(str(order.budget)), result.x_mm, result.y_mm
    if result.lines:
        acting = _through_network(result, budget)
    else:
        acting = effects_on_points(budget, Points(np.column_stack([x, y]), result.height_um))
    reference = result.result.reference

    def value(height: Floats) -> Floats:
        return np.asarray(flatness(x, y, height, reference, result.through).value_um)

    found = state_readings(
        value, Together(result.height_um, (acting,), budget), reference=reference, matters=_touching(result),
        draws=min(order.draws, _SURFACE_DRAWS), seed=order.seed,
    )  # fmt: skip
    made = record_of("flatness", "flatness", found, budget, order.budget)
    return (decided(made, found, order, max(float(np.ptp(x)), float(np.ptp(y)))),)


def _touching(result: FlatnessResult) -> np.ndarray[tuple[int], np.dtype[np.int64]] | None:
    """The points that hold the minimum zone planes apart; with another plane every point may count."""
    if result.result.reference != "minimum-zone":
        return None
    off = np.abs(result.result.deviation_um)
    return np.flatnonzero(off >= off.max() - _TOUCHING * max(float(result.result.value_um), _TOUCHING))


def _through_network(result: FlatnessResult, budget: Budget) -> tuple[Effect, ...]:
    """What acts on the tilts, as it comes out in the adjusted heights."""
    found = effects_on_tilts(budget, _tilts(result.lines))
    edges = np.cumsum([0, *(np.size(line.tilt_um_per_m) for line in result.lines)])

    def heights(tilt: Floats) -> Floats:
        moved = [
            replace(line, tilt_um_per_m=tilt[a:b])
            for line, a, b in zip(result.lines, edges[:-1], edges[1:], strict=True)
        ]
        return np.asarray(heights_from_network(moved, float(result.base_mm or 1.0), result.own_zero).height_um)

    return tuple(
        replace(one, random=heights(one.random))
        if one.random is not None
        else replace(one, column=heights(one.matrix)[:, 0])
        for one in found
    )


def _tilts(lines: Sequence[SlopeLine]) -> Tilts:
    starts, ends, read = [], [], []
    for line in lines:
        tilt = np.asarray(line.tilt_um_per_m, dtype=np.float64)
        first, towards = np.array(line.start_mm), np.array(line.towards_mm)
        along = (towards - first) / np.linalg.norm(towards - first) * float(line.base_mm or 1.0)
        starts.append(first + np.arange(tilt.size)[:, np.newaxis] * along)
        ends.append(starts[-1] + along)
        read.append(tilt)
    return Tilts(np.concatenate(starts), np.concatenate(ends), np.concatenate(read))


def stated_positioning(result: PositioningResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    """Every figure of positioning that there is; the readings in the order of the runs, up and down in turn."""
    budget, target = budget_of(str(order.budget)), result.result.target_mm
    both = np.stack([result.up_um, result.down_um])  # (2, targets, runs)
    runs = result.up_um.shape[1]
    step = np.stack([np.arange(target.size), np.arange(target.size)[::-1]])  # a way back begins at the far end
    turn = (2 * np.arange(runs) + np.arange(2)[:, np.newaxis])[:, np.newaxis, :] * target.size + step[:, :, np.newaxis]
    place = np.broadcast_to(target[np.newaxis, :, np.newaxis], both.shape).ravel()
    points = Points(np.column_stack([place, np.zeros(place.size)]), both.ravel(), turn.ravel() / max(turn.size - 1, 1))
    together = Together(both.ravel(), (effects_on_points(budget, points),), budget)
    stated: list[StatedResult] = []
    for what, (letter, figure) in _FIGURES.items():
        if figure(result.result) is None:
            continue

        def value(read: Floats, figure: Callable[[Positioning], object] = figure) -> Floats:
            up, down = read.reshape(*both.shape, -1)
            return np.asarray(figure(positioning(target, up, down)))

        found = state_readings(value, together, draws=order.draws, seed=order.seed)
        made = record_of(what, f"{result.code} {letter}", found, budget, order.budget)
        stated.append(made if stated else decided(made, found, order, float(np.ptp(target))))
    return tuple(stated)


def stated_joint(result: JointResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    """Step and kink; nothing where too few stations tell. A rule for lengths is for the step, one for angles the kink.

    What the stations scatter more than the budget says counts as scatter that was measured.
    """
    seen = result.result
    if not seen.judged:
        return ()
    measured = Measured(result.position_mm, result.height_um, passes=max(1, result.passes))
    budget = _with_scatter(budget_of(str(order.budget)), measured, float(seen.noise_um or 0.0), _freedom(result))
    together = Together(result.height_um, (effects(budget, measured),), budget)

    def part(what: str, name: str, unit: str) -> StatedResult:
        def value(height: Floats) -> Floats:
            return np.asarray(getattr(_joint(result, height), name))

        found = state_readings(value, together, unit, linear=True, draws=order.draws, seed=order.seed)
        made = record_of(what, f"{result.code} {what}", found, budget, order.budget)
        asked = _of_angles(order) == (unit == "um/m")
        return decided(made, found, order, float(np.ptp(result.position_mm))) if asked else made

    return part("step", "step_um", "um"), part("kink", "kink_um_per_m", "um/m")


def _joint(result: JointResult, height_um: Floats) -> Joint:
    seen = result.result
    return joint(result.position_mm, height_um, seen.at_mm, within_mm=result.within_mm, bow=seen.bow_removed)


def _freedom(result: JointResult) -> float:
    """Stations used less unknowns."""
    away = np.abs(result.position_mm - result.result.at_mm)
    used = (away > 0.0) & (away <= (math.inf if result.within_mm is None else result.within_mm))
    return float(used.sum()) - (5.0 if result.result.bow_removed else 4.0)


def _of_angles(order: StatedOrder) -> bool:
    """Whether the rule speaks of angles."""
    rule = order.wanted_rule()
    limits = () if rule is None else tuple(part for part in rule.parts if isinstance(part, Limit))
    return any(part.limit_um_per_m() is not None for part in limits)


def _with_scatter(budget: Budget, measured: Measured, noise_um: float, freedom: float) -> Budget:
    known = sum(
        one.contribution.standard_uncertainty**2 * float((one.random**2).sum(axis=1).mean())
        for one in effects(budget, measured)
        if one.random is not None and one.contribution.acts in (Acts.READING, Acts.TURBULENCE)
    )
    more = math.sqrt(max(noise_um**2 - known, 0.0) * measured.passes)
    if more == 0.0:
        return budget
    left = Contribution("left over beside the joint", Acts.READING, more, "um", "normal", freedom, "measured")
    return replace(budget, contribution=(*budget.contribution, left))


def stated_squares(result: SquaresResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    """The errors of the three squares, each gap with errors of its own."""
    budget = budget_of(str(order.budget))
    sizes = [x.size for x in result.height_mm]
    edges = np.cumsum([0, *sizes])
    acting = tuple(
        tuple(_among(effect, int(edges[k]), int(edges[-1])) for effect in effects(budget, Measured(x, gap)))
        for k, (x, gap) in enumerate(zip(result.height_mm, result.gap_um, strict=True))
    )
    together = Together(np.concatenate(result.gap_um), acting, budget)

    def one(number: int) -> StatedResult:
        def value(read: Floats) -> Floats:
            gaps = [(x, read[a:b]) for x, a, b in zip(result.height_mm, edges[:-1], edges[1:], strict=True)]
            return np.asarray(compare_squares(gaps, result.result.faces).error_um_per_m[number])

        work: Work = value
        found = state_readings(work, together, "um/m", linear=True, draws=order.draws, seed=order.seed)
        made = record_of("square", f"square {number + 1}", found, budget, order.budget)
        return decided(made, found, order)

    return one(0), one(1), one(2)


def _among(effect: Effect, first: int, size: int) -> Effect:
    """An effect on one gap as one on all readings."""
    rows = effect.matrix.shape[0]
    wide = np.zeros((size, effect.matrix.shape[1]))
    wide[first : first + rows] = effect.matrix
    return replace(effect, random=wide) if effect.random is not None else replace(effect, column=wide[:, 0])
