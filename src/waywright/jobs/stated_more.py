"""Uncertainty and verdict of results beside the straightness of one line: twist, roll, squareness, in space ...

Lines of one result are taken as measured independently of each other. What has a value of its own once (the square, the
tie between two lines) acts on the second line only.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import singledispatch
from typing import Any

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import (
    angular_error,
    parallelism,
    roll_from_lines,
    spatial_straightness,
    squareness,
    straightness,
    twist,
)
from waywright.evaluate.results import Straightness
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.judge_joints import JointResult
from waywright.jobs.judge_lines import (
    GuidewayResult,
    ParallelismResult,
    SegmentsResult,
    SpatialResult,
    SquarenessResult,
    TwistResult,
)
from waywright.jobs.judge_more import AnglesResult, SquaresResult
from waywright.jobs.judge_parts import RollResult
from waywright.jobs.judge_surfaces import FlatnessResult, LevelResult, PositioningResult
from waywright.jobs.stated_decided import decided
from waywright.jobs.stated_readings import stated_flatness, stated_joint, stated_positioning, stated_squares
from waywright.jobs.stated_record import StatedResult
from waywright.jobs.uncertain import StatedOrder, budget_of, of_profile, record_of, stated_results
from waywright.readings import Floats
from waywright.uncertainty import Acts, Budget, Contribution, Judged, Stated, measured_of, state
from waywright.uncertainty.stating import Curve, Value

_SPATIAL_DRAWS, _SPATIAL_PLACES = 300, 80  # a cylinder is a problem of its own for each draw


def stated_of(results: Sequence[Any], order: StatedOrder) -> tuple[StatedResult, ...]:
    """Every result as it is stated; nothing without a budget.

    Raises BadInput for results that no uncertainty is stated for, and for a rule without a budget.
    """
    order.wanted_rule()
    if order.budget is None:
        return ()
    straight = [one for one in results if isinstance(one, StraightnessResult)]
    others = [one for one in results if not isinstance(one, StraightnessResult)]
    return (*stated_results(straight, order), *(found for one in others for found in _stated(one, order)))


@singledispatch
def _stated(result: object, order: StatedOrder) -> tuple[StatedResult, ...]:
    raise BadInput("jobs.not_stated", result=type(result).__name__.removesuffix("Result").lower())


@_stated.register
def _twist(result: TwistResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    judged = [_judged(result.position_mm, result.roll_um_per_m, _budget(order), result.passes)]
    total = _state(judged, lambda lines: np.asarray(twist(*lines[0]).total_um_per_m), "um/m", order)
    ends = _state(judged, lambda lines: np.asarray(twist(*lines[0]).end_to_end_um_per_m), "um/m", order)
    return (
        decided(record_of("twist", result.code, total, judged[0].budget, order.budget), total, order),
        record_of("twist-end-to-end", result.code, ends, judged[0].budget, order.budget),
    )


@_stated.register
def _angles(result: AnglesResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    judged = [_judged(result.position_mm, result.angle_um_per_m, _budget(order), result.passes)]
    found = _state(judged, lambda lines: np.asarray(angular_error(*lines[0]).value_um_per_m), "um/m", order)
    return (decided(record_of("angle", result.code, found, judged[0].budget, order.budget), found, order),)


@_stated.register
def _roll(result: RollResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    """Each line by itself: what both have from one reference is not taken as alike."""
    seen = result.result

    def value(lines: Sequence[Curve]) -> Floats:
        (x, one), (_, two) = lines
        found = roll_from_lines(seen.from_code, x, one, two, seen.arm_mm, same_reference=seen.same_reference)
        return np.asarray(np.ptp(found.roll_um_per_m, axis=0))

    budget = _budget(order)
    judged = [_judged(seen.position_mm, each, budget) for each in (result.first_um, result.second_um)]
    found = _state(judged, value, "um/m", order)
    return (decided(record_of("roll", result.code, found, budget, order.budget), found, order),)


@_stated.register
def _squareness(result: SquarenessResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    code, artefact = result.result.code, result.artefact_um_per_m

    def value(lines: Sequence[Curve]) -> Floats:
        one, two = (straightness(x, y, result.reference) for x, y in lines)
        return np.asarray(squareness(one, two, code, artefact).value_um_per_m)

    judged = _two(result.first, result.second, _budget(order))
    found = _state(judged, value, "um/m", order)
    return (decided(record_of("squareness", code, found, judged[1].budget, order.budget), found, order),)


@_stated.register
def _parallelism(result: ParallelismResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    def value(lines: Sequence[Curve]) -> Floats:
        one, two = (straightness(x, y, result.reference) for x, y in lines)
        return np.asarray(parallelism(one, two).angle_um_per_m)

    judged = _two(result.first, result.second, _budget(order))
    if result.linked is not None:
        tie = Contribution(
            "tie between the lines", Acts.TILT, result.linked.link_part_um_per_m, "um/m", source="measured"
        )
        budget = judged[1].budget
        judged[1] = replace(judged[1], budget=replace(budget, contribution=(*budget.contribution, tie)))
    found = _state(judged, value, "um/m", order)
    return (decided(record_of("parallelism", result.code, found, judged[1].budget, order.budget), found, order),)


@_stated.register
def _spatial(result: SpatialResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    def value(lines: Sequence[Curve]) -> Floats:
        (x, one), (_, two) = lines
        every = np.unique(np.linspace(0, x.size - 1, min(x.size, _SPATIAL_PLACES)).round().astype(int))
        return np.asarray(spatial_straightness(x[every], one[every], two[every]).diameter_um)

    budget = _budget(order)
    deviations = result.first_deviation_um, result.second_deviation_um
    judged = [_judged(result.position_mm, each, budget, result.passes) for each in deviations]
    found = _state(judged, value, "um", replace(order, draws=min(order.draws, _SPATIAL_DRAWS)))
    name = f"{result.first_code} {result.second_code}"
    made = record_of("spatial", name, found, budget, order.budget)
    return (decided(made, found, order, float(np.ptp(result.position_mm))),)


@_stated.register
def _segments(result: SegmentsResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    joined = result.joined
    joins = tuple(float(one.position_mm.mean()) for one in joined.overlaps)
    return (of_profile(result.code, joined.position_mm, joined.value_um, _budget(order), order, joins_mm=joins),)


@_stated.register
def _guideway(result: GuidewayResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    shape = result.shape
    return (of_profile(shape.code, shape.position_mm, shape.height_um, _budget(order), order),)


@_stated.register
def _level(result: LevelResult, order: StatedOrder) -> tuple[StatedResult, ...]:
    return (of_profile("height", result.position_mm, result.height_um, _budget(order), order),)


def _budget(order: StatedOrder) -> Budget:
    return budget_of(str(order.budget))


def _judged(position_mm: Floats, value: Floats, budget: Budget, passes: int = 1) -> Judged:
    ascending = np.argsort(position_mm)
    return Judged(measured_of(position_mm[ascending], value[ascending], passes=max(1, passes)), budget)


def _two(first: Straightness, second: Straightness, budget: Budget) -> list[Judged]:
    """Both lines with level and slope as measured; a tilt in the budget (the square's own error) counts once."""
    once = tuple(one for one in budget.contribution if one.acts is not Acts.TILT)
    budgets = replace(budget, contribution=once), budget
    profiles = [(line.position_mm, line.deviation_um + line.line.at(line.position_mm)) for line in (first, second)]
    return [_judged(x, y, own) for (x, y), own in zip(profiles, budgets, strict=True)]


def _state(judged: Sequence[Judged], value: Value, unit: str, order: StatedOrder) -> Stated:
    return state(judged, value, unit, draws=order.draws, seed=order.seed)


_stated.register(FlatnessResult, stated_flatness)
_stated.register(PositioningResult, stated_positioning)
_stated.register(JointResult, stated_joint)
_stated.register(SquaresResult, stated_squares)
