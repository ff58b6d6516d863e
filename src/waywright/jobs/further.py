"""What a kept line says beyond its deviations: passes, space, segments, joints, rotations, functional point."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import (
    at_functional_point,
    level_places,
    offset_along_axes,
    spatial_straightness,
    straightness_by_reference,
    twist,
)
from waywright.evaluate.passes import JoinedPasses
from waywright.jobs.basis import Basis
from waywright.jobs.content_of_result import content_of
from waywright.jobs.judge import Wish, result_of
from waywright.jobs.judge_joints import joint_in
from waywright.jobs.judge_lines import SegmentsResult, SpatialResult, TwistResult
from waywright.jobs.judge_more import AnglesResult, angles_of
from waywright.jobs.judge_parts import FunctionalPointResult
from waywright.jobs.line_passes import passes_of_line
from waywright.jobs.line_table import joints_within, to_screen
from waywright.jobs.measured import MeasuredLine, basis_of_line, joined, positive_on_screen, traverses
from waywright.jobs.segmented import parts_of, whole_line
from waywright.jobs.ties import Profile
from waywright.quantities import Code, code
from waywright.readings import Floats
from waywright.report import FurtherContent

_BESIDE_A_JOINT = 6


@dataclass(frozen=True, slots=True, eq=False)
class FurtherResult:
    """One result of a kept line: the name of its evaluation, the record, and what it rests on."""

    kind: str
    result: object
    basis: Basis


def further_of_line(measured: MeasuredLine) -> tuple[FurtherContent, ...]:
    """The report entries of :func:`further_results`."""
    zero = measured.passes[-1].setup.zero
    grows_left = zero is not None and zero.sense < 0
    return tuple(
        content_of(each.kind, each.result, each.basis, grows_left=grows_left) for each in further_results(measured)
    )


def further_results(measured: MeasuredLine) -> tuple[FurtherResult, ...]:
    """Everything that a line says by itself; what was not measured is not there."""
    return tuple(_results(measured))


def _results(measured: MeasuredLine) -> Iterator[FurtherResult]:
    codes = [code(name) for name in measured.codes()]
    straight = [found.text for found in codes if found.is_straightness]
    turning = [found for found in codes if found.is_rotation]
    yield from _passes(measured, straight)
    yield from _flips(measured, straight)
    if len({single.setup.segment for single in measured.passes}) > 1:
        yield from (_segments(measured, name) for name in straight)
    if len(straight) == 2 and (spatial := _spatial(measured, straight)) is not None:
        yield FurtherResult("spatial", spatial, basis_of_line(measured, straight))
    yield from _joints(measured, straight)
    for found in turning:
        yield FurtherResult("angles", _angles(measured, found), basis_of_line(measured, [found.text]))
        if found.direction == found.axis:
            yield FurtherResult("twist", _twist(measured, found.text), basis_of_line(measured, [found.text]))
    if turning:
        yield from _at_functional_point(measured, straight, [found.text for found in turning])


def _passes(measured: MeasuredLine, names: list[str]) -> Iterator[FurtherResult]:
    """The newest segment's passes; they need not be several to be a segment, but to be compared."""
    newest = max(single.setup.segment for single in measured.passes)
    if sum(single.setup.segment == newest for single in measured.passes) < 2:
        return
    for name in names:
        basis = basis_of_line(measured, [name], "least-squares", segment=newest)
        yield FurtherResult("passes", passes_of_line(measured, name), basis)


def _flips(measured: MeasuredLine, names: list[str]) -> Iterator[FurtherResult]:
    """Where the choice of the reference line matters, of a line in one pass; several passes say so themselves."""
    for name in names if len(measured.passes) == 1 else ():
        seen = joined(measured, name)
        found = result_of(name, seen.position_mm, seen.mean, Wish(), pass_number=measured.passes[0].taken.number)
        if found.flip is not None and found.flip.reason is not None:
            yield FurtherResult("straightness", found, basis_of_line(measured, [name], found.reference))


def _segments(measured: MeasuredLine, name: str) -> FurtherResult:
    whole = whole_line(parts_of(traverses(measured, name)))
    about = whole.covariance_about_end_points_um2()
    spread = None if about is None else np.sqrt(np.diag(about).clip(min=0.0))
    count = len({single.setup.segment for single in measured.passes})
    values = _three(whole.position_mm, whole.value_um)
    result = SegmentsResult(name, count, whole, spread, values)
    return FurtherResult("segments", result, basis_of_line(measured, [name], "end-points"))


def _spatial(measured: MeasuredLine, names: list[str]) -> SpatialResult | None:
    """Both planes at the same stations; None where they were not measured together."""
    first, second = (joined(measured, name) for name in names)
    if not np.array_equal(first.position_mm, second.position_mm):
        return None
    x = first.position_mm
    try:
        found = spatial_straightness(x, first.mean, second.mean)
    except BadInput:
        return None
    off = first.mean - found.horizontal.at(x), second.mean - found.vertical.at(x)
    return SpatialResult(names[0], names[1], len(measured.passes), x, off[0], off[1], found)


def _joints(measured: MeasuredLine, names: list[str]) -> Iterator[FurtherResult]:
    """At every joint of the bed that the line crosses, from the stations next to it: farther ones bend otherwise."""
    for at_mm in joints_within(measured):
        for name in names:
            mean = joined(measured, name)
            seen = Profile(name, mean.passes, mean.position_mm, mean.mean, _variance(measured, name))
            found = joint_in(seen, at_mm, within_mm=_reach_mm(mean.position_mm, at_mm))
            yield FurtherResult("joint", found, basis_of_line(measured, [name]))


def _reach_mm(position_mm: Floats, at_mm: float) -> float:
    """So far that six stations stand on either side, where there are so many."""
    away = np.abs(position_mm - at_mm)
    sides = [np.sort(away[side])[:_BESIDE_A_JOINT] for side in (position_mm < at_mm, position_mm > at_mm)]
    return float(max(side[-1] for side in sides if side.size)) + 1e-6


def _variance(measured: MeasuredLine, name: str) -> float | None:
    """Of one value of the mean of passes, where every reading says how it scattered."""
    spreads = [traverse.standard_deviation for _, traverse in traverses(measured, name)]
    known = [float(np.mean(np.square(np.asarray(each)))) for each in spreads if each is not None]
    usable = len(known) == len(spreads) and all(np.isfinite(known)) and min(known, default=0.0) > 0.0
    return sum(known) / len(known) ** 2 if usable else None


def _angles(measured: MeasuredLine, found: Code) -> AnglesResult:
    directions = [single.taken.direction for single in measured.passes]
    positive = positive_on_screen(measured, found.text).value
    return angles_of(found.text, joined(measured, found.text), directions, measured.machine.axes, positive)


def _twist(measured: MeasuredLine, name: str) -> TwistResult:
    roll, bed = joined(measured, name), measured.machine.bed
    gauge_mm = bed.gauge_mm if bed is not None else None
    found = twist(roll.position_mm, roll.mean, gauge_mm)
    return TwistResult(name, len(measured.passes), roll.position_mm, roll.mean, found)


def _at_functional_point(measured: MeasuredLine, straight: list[str], turning: list[str]) -> Iterator[FurtherResult]:
    """Where the set-up says where detector and functional point lie; figures in the direction that screens use."""
    arm = _arm(measured)
    if arm is None:
        return
    axes = measured.machine.axes
    angles = {name: _iso(measured, name) for name in turning}
    for name in straight:
        seen, sign = _iso(measured, name), to_screen(measured, name)
        same = {other: one.mean for other, one in angles.items() if np.array_equal(one.position_mm, seen.position_mm)}
        found = at_functional_point(name, seen.position_mm, seen.mean, same, arm)
        level = level_places(found.code[-1], seen.position_mm, same, axes) if found.code[-1] != axes.vertical else None
        shown = replace(
            found,
            deviation_um=sign * found.deviation_um,
            share_um={turn: sign * share for turn, share in found.share_um.items()},
        )
        values = _three(seen.position_mm, found.deviation_um), _three(seen.position_mm, seen.mean)
        result = FunctionalPointResult(name, seen.passes, shown, *values, level)
        yield FurtherResult("functional-point", result, basis_of_line(measured, [name, *same]))


def _arm(measured: MeasuredLine) -> tuple[float, float, float] | None:
    """From the detector to the functional point along +X, +Y, +Z; None where one is not recorded, or they are one."""
    places = {(one.setup.detector_offset_mm, one.setup.functional_point_mm) for one in measured.passes}
    detector, point = next(iter(places))
    if len(places) > 1 or detector is None or point is None or detector == point:
        return None
    right, up, towards = (there - here for here, there in zip(detector, point, strict=True))
    return offset_along_axes(right, up, towards, measured.machine.axes)


def _iso(measured: MeasuredLine, name: str) -> JoinedPasses:
    """The mean of the passes with the ISO sign."""
    seen = joined(measured, name)
    return replace(seen, mean=to_screen(measured, name) * seen.mean)


def _three(x: Floats, y: Floats) -> dict[str, float]:
    return {name: one.value_um for name, one in straightness_by_reference(x, y).items()}
