"""Results of single parts in sentences, and what a result rests on; registers with ``told``."""

from __future__ import annotations

import numpy as np

from waywright.evaluate.results import Reason
from waywright.jobs.basis import Basis
from waywright.jobs.judge_joints import JointResult
from waywright.jobs.judge_more import AnglesResult, SquaresResult
from waywright.jobs.judge_parts import (
    FunctionalPointResult,
    RamResult,
    RollResult,
    SpindleResult,
    StraightedgeResult,
    WaysResult,
)
from waywright.jobs.told import Told, level_places_told, told
from waywright.quantities import Name

__all__ = ["basis_told", "told"]

_MOST_PLACES = 40


def basis_told(basis: Basis) -> Told:
    """What a result rests on; what nobody stated is said to be so."""
    return (
        *_sources(basis),
        *([] if basis.reference is None else [Reason("results.rests_reference", _line_key(basis.reference))]),
        *([] if len(basis.segments) < 2 else [_say("results.rests_segments", segments=_numbers(basis.segments))]),
        *_point(basis),
        *_left_out(basis),
        *(
            _say("results.rests_positive", code=code, direction_key=f"quantities.{direction}")
            for code, direction in basis.positive.items()
        ),
        *_unstated(basis),
    )


def _unstated(basis: Basis) -> Told:
    point = basis.functional_point is None and basis.functional_point_mm is None
    open_ones = {
        "results.unstated_point": point,
        "results.unstated_left_out": basis.excluded is None,
        "results.unstated_axes": not basis.positive,
    }
    keys = tuple(key for key, unstated in open_ones.items() if unstated)
    return (Reason("results.rests_unstated", {"what_keys": keys}),) if keys else ()


def _sources(basis: Basis) -> Told:
    if not basis.files:
        return (_say("results.rests_passes", passes=_numbers(basis.passes)),)
    passes = basis.passes_of or {basis.files[0]: basis.passes}
    return tuple(
        _say("results.rests_table", file=name, passes=_numbers(passes.get(name, ())))
        if passes.get(name)
        else _say("results.rests_file", file=name)
        for name in basis.files
    )


def _line_key(reference: str) -> dict[str, str]:
    return {"reference_key": f"results.line.{reference}"}


def _point(basis: Basis) -> Told:
    if basis.functional_point_mm is not None:
        along, up, towards = basis.functional_point_mm
        return (_say("results.rests_point_mm", along=along, up=up, towards=towards),)
    return () if basis.functional_point is None else (_say("results.rests_point", point=basis.functional_point),)


def _left_out(basis: Basis) -> Told:
    if basis.excluded is None:
        return ()
    if basis.excluded == 0:
        return (_say("results.rests_excluded_none"),)
    return (_say("results.rests_excluded", count=basis.excluded, why="; ".join(basis.excluded_why)),)


def _numbers(numbers: tuple[int, ...]) -> str:
    return ", ".join(str(one) for one in numbers)


@told.register
def _angles(result: AnglesResult) -> Told:
    found = result.result
    name = Name("results.rotation") if result.name is None else result.name
    said = [
        _say("results.angle", code=result.code, value=found.value_um_per_m, largest=found.largest_um_per_m,
             largest_mm=found.largest_at_mm, smallest=found.smallest_um_per_m, smallest_mm=found.smallest_at_mm,
             stations=found.stations, passes=result.passes, name_key=name.key, **name.facts)
    ]  # fmt: skip
    if result.positive is not None:
        said.append(_say("results.positive", direction_key=f"quantities.{result.positive}"))
    if result.largest_reversal_um_per_m is not None:
        said.append(
            _say("results.angle_reversal", value=result.largest_reversal_um_per_m, at_mm=result.largest_reversal_at_mm)
        )
    return tuple(said)


@told.register
def _squares(result: SquaresResult) -> Told:
    found = result.result
    one, two, three = found.error_um_per_m
    return (
        _say("results.squares", first=one, second=two, third=three, uncertainty=found.uncertainty_um_per_m),
        _say(f"results.squares_{found.faces}"),
    )


@told.register
def _functional_point(result: FunctionalPointResult) -> Told:
    found = result.result
    three = {name.replace("-", "_"): value for name, value in result.by_reference.items()}
    said = [
        _say("results.at_point", code=result.code, as_read=result.as_read_by_reference["end-points"], **three),
        *(
            _say("results.at_point_share", rotation=name, largest_um=float(np.ptp(share)))
            for name, share in found.share_um.items()
        ),
    ]
    if found.reason is not None:
        said.append(found.reason)
    level = result.level
    if level is not None and (level.along_mm_per_m is not None or level.across_mm_per_m is not None):
        keys = {"along_key": f"quantities.{level.along_up}", "across_key": f"quantities.{level.across_up}"}
        said.append(Reason("results.level_up", keys))
        said += level_places_told(level.position_mm, level.along_mm_per_m, level.across_mm_per_m)
    return tuple(said)


@told.register
def _ram(result: RamResult) -> Told:
    found = result.result
    last = int(found.extension_mm.argmax())
    return (
        _say("results.ram", length_mm=float(np.ptp(found.extension_mm)), off=float(found.off_lowest_um),
             off_slope=float(found.off_slope_um_per_m), on=float(found.on_lowest_um),
             on_slope=float(found.on_slope_um_per_m)),
        _say("results.ram_lifted", lift=float(found.difference_um[last]), slope=float(found.difference_slope_um_per_m),
             highest=float(found.on_highest_um)),
    )  # fmt: skip


@told.register
def _roll(result: RollResult) -> Told:
    found = result.result
    said = [
        _say("results.roll_lines", code=found.code, source=found.from_code, arm_mm=found.arm_mm,
             total=result.total_um_per_m)
    ]  # fmt: skip
    if found.noise_um_per_m is not None:
        said.append(_say("results.roll_noise", noise=found.noise_um_per_m))
    return (*said, *([found.reason] if found.reason is not None else []))


@told.register
def _joint(result: JointResult) -> Told:
    found = result.result
    if found.reason is not None:
        return (found.reason,)
    factor = found.coverage_factor or 0.0
    step_u, kink_u = (factor * (one or 0.0) for one in (found.step_uncertainty_um, found.kink_uncertainty_um_per_m))
    seen = {(True, True): "both", (True, False): "step", (False, True): "kink", (False, False): "none"}
    return (
        _say("results.joint", code=result.code, at_mm=found.at_mm, step=found.step_um, kink=found.kink_um_per_m,
             shape_key="results.joint_bow" if found.bow_removed else "results.joint_straight",
             step_u=step_u, kink_u=kink_u, before=found.before, after=found.after, noise_um=found.noise_um),
        _say(f"results.joint_seen_{seen[found.step_seen, found.kink_seen]}"),
    )  # fmt: skip


@told.register
def _ways(result: WaysResult) -> Told:
    found = result.result
    height, cross = found.height_difference_um, found.cross_level_mm_per_m
    said = [
        _say("results.ways", gauge_mm=abs(found.gauge_mm), smallest_um=float(height.min()),
             largest_um=float(height.max()), smallest=float(cross.min()), largest=float(cross.max()),
             twist=float(found.twist_um_per_m), angle=float(found.height_angle_um_per_m))
    ]  # fmt: skip
    if cross.size <= _MOST_PLACES:
        said += [
            _say("results.ways_place", at_mm=float(x), cross=float(one))
            for x, one in zip(found.position_mm, cross, strict=True)
        ]
    said.append(_say("results.ways_surface", value_um=found.as_one_surface.value_um))
    if found.gauge_deviation_um is not None:
        total, angle = float(np.ptp(found.gauge_deviation_um)), float(found.gauge_angle_um_per_m or 0.0)
        said.append(_say("results.ways_gauge", total_um=total, angle=angle))
    if result.link_um_per_m is None:
        return (*said, _say("results.no_link"))
    return (*said, _say("results.ways_link", turn=result.link_um_per_m))


@told.register
def _spindle(result: SpindleResult) -> Told:
    found = result.result
    said = [
        _say("results.spindle", angle=float(found.angle_um_per_m), over_um=float(found.over_length_um),
             length_mm=found.length_mm),
        _say("results.spindle_mandrel", angle=float(found.mandrel_angle_um_per_m),
             run_out_um=float(2 * np.abs(found.mandrel_um).max())),
    ]  # fmt: skip
    if found.angle_uncertainty_um_per_m is not None:
        said.insert(1, _say("results.spindle_uncertainty", uncertainty=found.angle_uncertainty_um_per_m))
    if np.any(found.sag_um != 0.0):
        said.append(_say("results.spindle_sag", angle=found.angle_by_sag_um_per_m))
    return tuple(said)


@told.register
def _straightedge(result: StraightedgeResult) -> Told:
    found = result.result
    three = {name.replace("-", "_"): value for name, value in result.by_reference.items()}
    said = [_say("results.straightedge", own=result.straightedge_by_reference["end-points"], **three)]
    if found.machine_noise_um is not None and found.straightedge_noise_um is not None:
        machine, own = float(found.machine_noise_um.max()), float(found.straightedge_noise_um.max())
        said.append(_say("results.straightedge_noise", machine_um=machine, own_um=own))
    if not result.sag_taken_out:
        return (*said, _say("results.straightedge_no_sag"))
    low, high = float(found.sag_um.min()), float(found.sag_um.max())
    return (*said, _say("results.straightedge_sag", low_um=low, high_um=high, share=result.sag_share))


def _say(key: str, **facts: object) -> Reason:
    return Reason(key, facts)
