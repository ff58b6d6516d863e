"""A bed with two rows of supports levelled with one level: from the rows of a sheet to what the fitter should do.

Twist first, then rough level on three points, then the rest. A step at a joint was measured by itself and is taken out
of the heights: supports cannot take it away and must not try.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from waywright.archive import Archive
from waywright.correct import instructions, plan_correction
from waywright.correct.stages import BESSEL_PART, ROUGH_UM, Found, Stage, stages
from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.plain_rows import BedByLevel, bed_by_level
from waywright.evaluate.sheet_rows import kind_of_row, value_of
from waywright.files.machine_file import read_machine
from waywright.jobs.correct import Correction, CorrectionOrder
from waywright.jobs.sheet_keep import entries, machine_of, values_of
from waywright.machine import Bed, Machine, Support
from waywright.readings import Floats, Reading
from waywright.visit.sheet import MeasuringSheet, SheetRow

ACROSS, ALONG = "bed-across", "bed-along"
ROUGH_UM_PER_M = 100.0
"""A bed inclined by more than this (0.1 mm/m) is first brought level on three points."""
_LEAST_NOISE_UM = 0.5


@dataclass(frozen=True, slots=True)
class RoughMove:
    """Raise a support by so much; nothing is lowered, so that no support comes to hang."""

    support: str
    raise_um: float


@dataclass(frozen=True, slots=True, eq=False)
class LevelPlan:
    """A bed as the level found it, and what comes next.

    ``twist_um_per_m`` is largest minus smallest across; ``along_um_per_m`` and ``across_um_per_m`` the mean
    inclinations, rising to the right and front up positive. ``steps_taken_out`` are steps at joints (bed place, um).
    ``rough`` are moves on three points, before anything else, empty where that is done; then ``correction`` is None.
    """

    machine: Machine
    bed: BedByLevel
    twist_um_per_m: float
    along_um_per_m: float
    across_um_per_m: float
    height_um: float
    steps_taken_out: tuple[tuple[float, float], ...]
    stages: tuple[Stage, ...]
    rough: tuple[RoughMove, ...]
    correction: Correction | None


def level_plan(
    archive: Archive, sheet: MeasuringSheet, machine_file: Path | None, goal_um: float, locked: Sequence[str] = ()
) -> LevelPlan:
    """Plan from a filled sheet; the supports stand in a machine file, or in the machine that the sheet belongs to.

    Places of the sheet are bed coordinates. Raises BadInput where rows across or along are missing or not filled, and
    for a machine without two rows.
    """
    found = level_seen(archive, sheet, machine_file, goal_um)
    bed = found.machine.bed
    if found.rough or bed is None:
        return found
    return replace(found, correction=_correction(found.machine, bed, found.bed, goal_um, locked))


def level_seen(archive: Archive, sheet: MeasuringSheet, machine_file: Path | None, goal_um: float) -> LevelPlan:
    """The same without the plan itself, which takes its time: the bed, the stages, and the three points."""
    machine = machine_of(archive, sheet)[0] if machine_file is None else read_machine(machine_file)
    bed = machine.bed
    if bed is None or len({support.row for support in bed.supports}) < 2:
        raise BadInput("sheet.no_two_rows", machine=machine.name)
    held = values_of(archive, sheet)
    found = _bed(sheet, held)
    steps = _steps(sheet, held, found.position_mm)
    smooth = _without_steps(found, steps)
    along = float(straightness(found.position_mm, smooth.height_um).line.slope_um_per_m)
    across = float(smooth.across_um_per_m.mean())
    twist = float(np.ptp(smooth.across_um_per_m))
    height = float(straightness(found.position_mm, smooth.height_um, "minimum-zone").value_um)
    rough = _rough(bed, along, across) if _is_rough(bed, along, across, height) else ()
    gauge_m = (bed.gauge_mm or bed.row_distance_mm or 1000.0) / 1000.0
    far = ROUGH_UM + 1.0 if rough else height
    order = stages(bed, Found(far, goal_um, twist_um=twist * gauge_m, twist_goal_um=goal_um))
    return LevelPlan(machine, smooth, twist, along, across, height, steps, order, rough, None)


def _bed(sheet: MeasuringSheet, held: dict[str, Reading]) -> BedByLevel:
    across = next((row for row in sheet.rows if row.means == ACROSS), None)
    if across is None or len(across.at_mm) < 2 or across.gauge_mm is None:
        raise BadInput("sheet.no_row_across")
    tilts = {row.guideway: _readings(sheet, row, held) for row in sheet.rows if row.means == ALONG}
    seen = _readings(sheet, across, held)
    if seen is None:
        raise BadInput("sheet.across_first", number=across.number)
    return bed_by_level(across.at_mm, across.gauge_mm, seen, tilts.get("front"), tilts.get("rear"))


def _readings(sheet: MeasuringSheet, row: SheetRow, held: dict[str, Reading]) -> Floats | None:
    """The tilts of a row with the zero of the level taken out; None unless all are there."""
    wanted = [entry.channel for entry in entries(sheet) if entry.row is row]
    if not all(channel in held for channel in wanted):
        return None
    read = np.array([held[channel].values[0].mean for channel in wanted])
    return kind_of_row(row).layout.joined(read, row.turned)


def _steps(sheet: MeasuringSheet, held: dict[str, Reading], position_mm: Floats) -> tuple[tuple[float, float], ...]:
    """Steps in height at joints between the places, bed place and um, from the rows that measured them."""
    found = []
    for row in sheet.rows:
        inside = row.joint_mm is not None and position_mm[0] < row.joint_mm < position_mm[-1]
        if row.kind == "joint-step" and inside and row.positive in ("up", None):
            read = _readings(sheet, row, held)
            if read is not None:
                found.append((float(row.joint_mm or 0.0), float(value_of(row, read))))
    return tuple(found)


def _without_steps(found: BedByLevel, steps: tuple[tuple[float, float], ...]) -> BedByLevel:
    fall = np.zeros_like(found.position_mm)
    for at_mm, step_um in steps:
        fall += step_um * (found.position_mm > at_mm)
    return replace(found, front_um=found.front_um - fall, rear_um=found.rear_um - fall)


def _is_rough(bed: Bed, along: float, across: float, height_um: float) -> bool:
    return max(abs(along), abs(across)) > ROUGH_UM_PER_M or height_um > ROUGH_UM


def three_points(bed: Bed) -> tuple[Support, Support, Support]:
    """Two supports of the front row near the Bessel points and the one of the rear row nearest to the middle."""
    feet = [support for support in bed.supports if support.kind != "side-jack"]
    front = [support for support in feet if support.row == "front"]
    rear = [support for support in feet if support.row != "front"]

    def nearest(row: Sequence[Support], part: float) -> Support:
        return min(row, key=lambda support: abs(support.bed_mm - part * bed.length_mm))

    return nearest(front, BESSEL_PART), nearest(front, 1.0 - BESSEL_PART), nearest(rear, 0.5)


def _rough(bed: Bed, along_um_per_m: float, across_um_per_m: float) -> tuple[RoughMove, ...]:
    """The bed turned as a whole until it is level: the highest of the three points stays, the others are raised."""
    points = three_points(bed)
    height = [
        along_um_per_m * point.bed_mm / 1000.0 + across_um_per_m * bed.support_across_mm(point) / 1000.0
        for point in points
    ]
    return tuple(RoughMove(point.name, max(height) - at) for point, at in zip(points, height, strict=True))


def _correction(machine: Machine, bed: Bed, found: BedByLevel, goal_um: float, locked: Sequence[str]) -> Correction:
    """Height and roll together: twist and height rest on the same supports."""
    x = found.position_mm
    spread = found.residual_sd_um_per_m * float(np.diff(x).mean()) / 1000.0
    noise = max(_LEAST_NOISE_UM, spread) if np.isfinite(spread) else 1.0
    order = CorrectionOrder(goal_um=goal_um, noise_um=noise, locked=tuple(locked))
    plan = plan_correction(
        bed, x, found.height_um, quantity="guideway", noise_um=noise, goal_um=goal_um,
        roll_um_per_m=found.across_um_per_m, locked=order.locked,
    )  # fmt: skip
    return Correction(machine, plan, instructions(plan, None), order)
