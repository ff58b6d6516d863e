"""The figures of each result as numbers with a name and a unit, for the workbook and for programs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import singledispatch

import numpy as np

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
from waywright.jobs.judge_parts import (
    FunctionalPointResult,
    RamResult,
    RollResult,
    SpindleResult,
    StraightedgeResult,
    WaysResult,
)
from waywright.jobs.judge_surfaces import FlatnessResult, LevelResult, PositioningResult
from waywright.jobs.passes_compared import PassesResult
from waywright.report import FigureRow

UM, UM_PER_M, MM_PER_M = "µm", "µm/m", "mm/m"
Rows = Iterator[FigureRow]


def rows_of(result: object) -> tuple[FigureRow, ...]:
    """The figures of a result, the main one first; a figure that was not judged has no value."""
    return tuple(_rows(result))


@singledispatch
def _rows(result: object) -> Rows:
    raise TypeError(type(result).__name__)


def _row(key: str, value: object, unit: str = UM, decimals: int = 1, **facts: object) -> FigureRow:
    return FigureRow(key, None if value is None else float(value), unit, decimals, facts)  # type: ignore[arg-type]


def _lines(values: Mapping[str, float]) -> Rows:
    for name, value in values.items():
        yield _row(f"rows.straight_{name}", value)


@_rows.register
def _straight(result: StraightnessResult) -> Rows:
    yield from _lines({name: one.value_um for name, one in result.by_reference.items()})


@_rows.register
def _passes(result: PassesResult) -> Rows:
    yield from _lines(result.by_reference)
    yield _row("rows.reversal", result.largest_reversal_um)
    yield _row("rows.repeatability", result.pooled_repeatability_um, decimals=2)
    yield _row("rows.noise", result.noise_um, decimals=2)
    if result.drift is not None and result.drift.bow_um:
        yield _row("rows.drift_bow", max(result.drift.bow_um, key=abs))


@_rows.register
def _spatial(result: SpatialResult) -> Rows:
    yield _row("rows.diameter", result.result.diameter_um)


@_rows.register
def _twist(result: TwistResult) -> Rows:
    found = result.result
    yield _row("rows.twist", found.total_um_per_m, UM_PER_M)
    yield _row("rows.twist_rate", found.rate_um_per_m_per_m, "µm/m per m", 2)
    yield _row("rows.twist_height", found.height_difference_um)


@_rows.register
def _angles(result: AnglesResult) -> Rows:
    found = result.result
    yield _row("rows.angle", found.value_um_per_m, UM_PER_M, code=result.code)
    yield _row("rows.largest", found.largest_um_per_m, UM_PER_M, at_mm=found.largest_at_mm)
    yield _row("rows.smallest", found.smallest_um_per_m, UM_PER_M, at_mm=found.smallest_at_mm)
    yield _row("rows.reversal", result.largest_reversal_um_per_m, UM_PER_M)


@_rows.register
def _squareness(result: SquarenessResult) -> Rows:
    yield _row("rows.squareness", result.result.value_um_per_m, UM_PER_M, code=result.result.code)
    yield _row("rows.opening", result.result.opening_um_per_m, UM_PER_M)
    if result.artefact_found_um_per_m is not None:
        yield _row("rows.square_own", result.artefact_found_um_per_m, UM_PER_M)


@_rows.register
def _squares(result: SquaresResult) -> Rows:
    for number, error in enumerate(result.result.error_um_per_m, start=1):
        yield _row("rows.square", error, UM_PER_M, number=number)
    yield _row("rows.standard_uncertainty", result.result.uncertainty_um_per_m, UM_PER_M)


@_rows.register
def _parallelism(result: ParallelismResult) -> Rows:
    linked = result.linked
    yield _row("rows.parallelism", result.result.angle_um_per_m if linked is None else linked.value_um_per_m, UM_PER_M)
    if linked is not None:
        yield _row("rows.standard_uncertainty", linked.standard_uncertainty_um_per_m, UM_PER_M)
        yield _row("rows.link_share", linked.link_share * 100.0, "%", 0)


@_rows.register
def _segments(result: SegmentsResult) -> Rows:
    yield from _lines(result.by_reference)
    spread = result.uncertainty_about_end_points_um
    yield _row("rows.joining", None if spread is None else spread.max(), decimals=2)


@_rows.register
def _guideway(result: GuidewayResult) -> Rows:
    yield from _lines(result.by_reference)


@_rows.register
def _flatness(result: FlatnessResult) -> Rows:
    yield _row("rows.flatness", result.result.value_um)
    if result.network is not None:
        yield _row("rows.closure", result.network.closure_um[int(np.abs(result.network.closure_um).argmax())])


@_rows.register
def _level(result: LevelResult) -> Rows:
    yield from _lines(result.by_reference)
    yield _row("rows.level_along", result.along_mm_per_m.mean(), MM_PER_M, 4)
    across = result.across_mm_per_m
    if across is not None:
        yield _row("rows.level_across", across.mean(), MM_PER_M, 4)
        yield _row("rows.level_across_change", np.ptp(across), MM_PER_M, 4)


@_rows.register
def _positioning(result: PositioningResult) -> Rows:
    found = result.result
    yield _row("rows.accuracy", found.accuracy_um)
    yield _row("rows.repeatability_r", found.repeatability_um)
    yield _row("rows.reversal_b", found.reversal_um)
    yield _row("rows.systematic_e", found.systematic_um)
    yield _row("rows.mean_m", found.mean_deviation_um)


@_rows.register
def _functional_point(result: FunctionalPointResult) -> Rows:
    yield from _lines(result.by_reference)


@_rows.register
def _ram(result: RamResult) -> Rows:
    yield _row("rows.ram_off", result.result.off_lowest_um)
    yield _row("rows.ram_on", result.result.on_lowest_um)


@_rows.register
def _roll(result: RollResult) -> Rows:
    yield _row("rows.roll", result.total_um_per_m, UM_PER_M)


@_rows.register
def _joint(result: JointResult) -> Rows:
    found = result.result
    yield _row("rows.step", found.step_um, at_mm=found.at_mm)
    yield _row("rows.kink", found.kink_um_per_m, UM_PER_M, at_mm=found.at_mm)


@_rows.register
def _ways(result: WaysResult) -> Rows:
    found = result.result
    yield _row("rows.ways_twist", found.twist_um_per_m, UM_PER_M)
    yield _row("rows.ways_rise", found.height_angle_um_per_m, UM_PER_M)
    yield _row("rows.flatness", found.as_one_surface.value_um)
    if found.gauge_deviation_um is not None:
        yield _row("rows.gauge", np.ptp(found.gauge_deviation_um))


@_rows.register
def _spindle(result: SpindleResult) -> Rows:
    found = result.result
    yield _row("rows.spindle", found.angle_um_per_m, UM_PER_M)
    yield _row("rows.spindle_over", found.over_length_um, length_mm=found.length_mm)
    yield _row("rows.standard_uncertainty", found.angle_uncertainty_um_per_m, UM_PER_M)


@_rows.register
def _straightedge(result: StraightedgeResult) -> Rows:
    yield from _lines(result.by_reference)
    yield _row("rows.straightedge_own", result.straightedge_by_reference["end-points"])
