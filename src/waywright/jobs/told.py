"""Results in sentences: keys and facts, the same for the terminal and the report."""

from __future__ import annotations

from functools import singledispatch

import numpy as np

from waywright.evaluate.angles import EARTH_RADIUS_MM
from waywright.evaluate.results import Reason
from waywright.jobs.judge_lines import (
    GuidewayResult,
    ParallelismResult,
    SegmentsResult,
    SpatialResult,
    SquarenessResult,
    TwistResult,
)
from waywright.jobs.judge_surfaces import FlatnessResult, LevelResult, PositioningResult
from waywright.jobs.passes_compared import DriftResult, PassesResult
from waywright.readings import Floats
from waywright.wording import ENGLISH
from waywright.wording.said import sentence as worded

Told = tuple[Reason, ...]
_WORTH_SAYING_UM = 0.2
_MOST_PLACES = 40


@singledispatch
def told(result: object) -> Told:
    """What a result says, the main thing first. Raises TypeError for what is no result."""
    raise TypeError(type(result).__name__)


def sentence(said: Reason, language: str = ENGLISH) -> str:
    """The sentence of a reason."""
    return worded(said.key, said.facts, language)


def _say(key: str, **facts: object) -> Reason:
    return Reason(key, facts)


@told.register
def _passes(result: PassesResult) -> Told:
    said = [_say("results.passes", code=result.code, passes=result.passes, stations=result.stations)]
    if result.left_out:
        said.append(_say("results.passes_left_out", count=result.left_out))
    if result.positive is not None:
        said.append(_say("results.positive", direction_key=f"quantities.{result.positive}"))
    said.append(_say("results.passes_mean", **_three(dict(result.by_reference))))
    without = result.by_reference_without_drift
    if without is not None:
        said.append(_say("results.passes_without_drift", **_three(dict(without))))
    if result.largest_reversal_um is not None:
        said.append(_say("results.reversal", value_um=result.largest_reversal_um, at_mm=result.largest_reversal_at_mm))
    if result.pooled_repeatability_um is not None:
        said.append(_say("results.repeatability", value_um=result.pooled_repeatability_um))
    if result.not_compared is not None:
        said.append(result.not_compared)
    else:
        said.append(
            _say("results.noticeable", noise_um=result.noise_um, spike_um=result.noticeable_spike_um,
                 step_um=result.noticeable_step_um, rate=result.false_alarm)
        )  # fmt: skip
        said += [one.reason for one in result.findings] or [_say("results.nothing_found")]
    if result.drift is not None:
        said += _drift(result.drift, result.noise_um or 0.0)
        if result.findings and result.drift.bow_um:
            said.append(_say("results.drift_doubtful"))
    return (*said, *([result.flip] if result.flip is not None else []))


def _drift(drift: DriftResult, noise_um: float) -> list[Reason]:
    said = [] if drift.reason is None else [drift.reason]
    visible = bool(drift.bow_um) and max(map(abs, drift.bow_um)) > max(noise_um, _WORTH_SAYING_UM)
    if drift.bow_um and (drift.separable or visible):
        key = "results.drift" if drift.separable else "results.drift_assumed"
        facts = {
            "offset": drift.offset_um_per_h, "offset_u": drift.offset_uncertainty_um_per_h,
            "angle": drift.angle_um_per_m_per_h, "angle_u": drift.angle_uncertainty_um_per_m_per_h,
            "bow_um": max(drift.bow_um, key=abs),
        }  # fmt: skip
        said.append(Reason("results.drift_removed" if drift.removed else key, facts))
    return said


@told.register
def _spatial(result: SpatialResult) -> Told:
    off = np.hypot(result.first_deviation_um, result.second_deviation_um)
    return (
        _say("results.spatial", first=result.first_code, second=result.second_code, value_um=result.result.diameter_um,
             from_mm=float(result.position_mm.min()), to_mm=float(result.position_mm.max()),
             stations=result.position_mm.size, at_mm=float(result.position_mm[int(off.argmax())])),
    )  # fmt: skip


@told.register
def _twist(result: TwistResult) -> Told:
    found = result.result
    said = [
        _say("results.twist", code=result.code, total=found.total_um_per_m, ends=found.end_to_end_um_per_m,
             rate=found.rate_um_per_m_per_m, length_mm=found.length_mm)
    ]  # fmt: skip
    if found.height_difference_um is not None:
        said.append(_say("results.twist_height", value_um=found.height_difference_um, gauge_mm=found.gauge_mm))
    return tuple(said)


@told.register
def _squareness(result: SquarenessResult) -> Told:
    found = result.result
    key = "results.square_open" if found.opening_um_per_m >= 0 else "results.square_closed"
    said = [
        _say("results.squareness", code=found.code, value=found.value_um_per_m, reference=result.reference),
        _say(key, first=found.first_axis, second=found.second_axis, size=abs(found.opening_um_per_m)),
    ]
    if result.artefact_found_um_per_m is not None:
        said.append(_say("results.square_own", value=result.artefact_found_um_per_m))
    return tuple(said)


@told.register
def _parallelism(result: ParallelismResult) -> Told:
    found = result.result
    said = [
        _say("results.parallelism", code=result.code, angle=found.angle_um_per_m, over_um=found.over_length_um,
             length_mm=found.length_mm, reference=result.reference)
    ]  # fmt: skip
    if (result.first_subject, result.second_subject) != ("line", "line"):
        keys = {"first_key": f"results.is_{result.first_subject}", "second_key": f"results.is_{result.second_subject}"}
        said.append(Reason("results.subjects", keys))
    if result.linked is None:
        said.append(_say("results.no_link"))
    else:
        said.append(
            _say(f"results.linked_{result.linked.method}", value=result.linked.value_um_per_m,
                 uncertainty=result.linked.standard_uncertainty_um_per_m, share=result.linked.link_share)
        )  # fmt: skip
    return tuple(said)


@told.register
def _segments(result: SegmentsResult) -> Told:
    joined = result.joined
    said = [
        _say("results.segments", code=result.code, segments=result.segments, stations=joined.position_mm.size,
             value_um=result.by_reference["end-points"])
    ]  # fmt: skip
    if result.uncertainty_about_end_points_um is not None:
        worst = int(result.uncertainty_about_end_points_um.argmax())
        said.append(
            _say("results.segments_uncertainty", value_um=float(result.uncertainty_about_end_points_um[worst]),
                 at_mm=float(joined.position_mm[worst]))
        )  # fmt: skip
    for each in joined.overlaps:
        said.append(
            _say("results.overlap", first=each.first, second=each.second, stations=each.position_mm.size,
                 rms_um=float(each.rms_um))
        )  # fmt: skip
    if joined.agree is not None:
        said.append(_say("results.overlaps_agree" if joined.agree else "results.overlaps_disagree"))
    return tuple(said)


@told.register
def _guideway(result: GuidewayResult) -> Told:
    shape = result.shape
    value = _say("results.guideway", code=shape.code, rotation=shape.from_rotation, **_three(result.by_reference))
    return value, result.note


@told.register
def _flatness(result: FlatnessResult) -> Told:
    found = result.result
    said = [
        _say(f"results.flatness_{found.reference}", value_um=found.value_um, points=found.points,
             largest_um=found.largest_um, smallest_um=found.smallest_um)
    ]  # fmt: skip
    if result.network is not None:
        worst = int(np.abs(result.network.closure_um).argmax())
        said.append(
            _say("results.closures", lines=len(result.line_names), worst_um=float(result.network.closure_um[worst]),
                 name=result.line_names[worst], sd_um=result.network.residual_sd_um)
        )  # fmt: skip
        if len(result.line_names) <= _MOST_PLACES:
            pairs = zip(result.line_names, np.asarray(result.network.closure_um), strict=True)
            said.append(_say("results.closures_each", listed=", ".join(f"{name} {miss:+.1f}" for name, miss in pairs)))
    return tuple(said)


@told.register
def _level(result: LevelResult) -> Told:
    said = [
        _say("results.level", steps=result.tilt_um_per_m.size, base_mm=result.base.base_mm,
             **_three(result.by_reference)),
        _say("results.level_mean", mean_mm_per_m=float(result.tilt_um_per_m.mean()) / 1000,
             largest_mm_per_m=float(result.tilt_um_per_m.max()) / 1000,
             smallest_mm_per_m=float(result.tilt_um_per_m.min()) / 1000),
    ]  # fmt: skip
    if result.reflector:
        return (said[0], _say("results.reflector"), *([] if result.base.reason is None else [result.base.reason]))
    if result.across_um_per_m is not None:
        across = result.across_um_per_m / 1000
        said.append(
            _say("results.level_across", mean_mm_per_m=float(across.mean()), total_mm_per_m=float(np.ptp(across)))
        )
    said += level_places_told(result.middle_mm, result.along_mm_per_m, result.across_mm_per_m)
    if result.zero_um_per_m is not None:
        said.append(_say("results.level_zero", zero=result.zero_um_per_m, noise_um=result.noise_um))
    if result.base.reason is not None:
        said.append(result.base.reason)
    bow_um = float(np.ptp(result.position_mm)) ** 2 / (8.0 * EARTH_RADIUS_MM) * 1000.0
    if result.earth_removed or bow_um > _WORTH_SAYING_UM:
        said.append(_say("results.earth_removed" if result.earth_removed else "results.earth_kept", bow_um=bow_um))
    return tuple(said)


@told.register
def _positioning(result: PositioningResult) -> Told:
    found = result.result
    said = [
        _say("results.positioning", code=result.code, b_um=found.reversal_um, mean_b_um=found.mean_reversal_um,
             e_um=found.systematic_um, m_um=found.mean_deviation_um, runs=found.runs)
    ]  # fmt: skip
    if found.accuracy_um is not None:
        said.append(
            _say("results.accuracy", a_um=found.accuracy_um, r_um=found.repeatability_um,
                 up_um=found.accuracy_up_um, down_um=found.accuracy_down_um)
        )  # fmt: skip
    return (*said, *([result.not_judged] if result.not_judged is not None else []))


def level_places_told(x: Floats, along: Floats | None, across: Floats | None) -> list[Reason]:
    """A sentence for each place; none where there are too many to read."""
    if x.size > _MOST_PLACES:
        return []
    both = along is not None and across is not None
    key = "level_place" if both else "level_place_along" if across is None else "level_place_across"
    return [
        _say(
            f"results.{key}",
            at_mm=float(x[k]),
            along=None if along is None else float(along[k]),
            across=None if across is None else float(across[k]),
        )
        for k in range(x.size)
    ]


def _three(values: dict[str, float]) -> dict[str, float]:
    return {name.replace("-", "_"): value for name, value in values.items()}
