"""The work of every kind of row. One table; see :mod:`waywright.evaluate.sheet_kinds` for what its columns mean."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.flatness import flatness
from waywright.evaluate.joint import Joint, joint
from waywright.evaluate.plain_rows import (
    difference,
    half_difference,
    largest_size,
    mean_difference,
    once_per_turn,
    reading_range,
    rise_over_length,
)
from waywright.evaluate.sheet_kinds import RESULT, Figure, RowKind
from waywright.evaluate.sheet_places import (
    DISC,
    ENDS,
    HALF_TURN,
    LEVEL,
    MANDREL,
    NEAR_FAR,
    RAM,
    TWO_LINES,
    Layout,
)
from waywright.evaluate.spindle import SpindleToAxis, spindle_to_axis
from waywright.evaluate.steps import heights_from_steps
from waywright.evaluate.straightness import straightness
from waywright.evaluate.twist import twist
from waywright.evaluate.vertical import RamDroop, ram_droop, roll_from_lines
from waywright.quantities import Kind
from waywright.visit.sheet import SheetRow

UM, ANGLE = Kind.DISPLACEMENT, Kind.ANGLE


def _at_own_places(y: FloatArray, row: SheetRow) -> PerDraw:
    return rise_over_length(row.at_mm, y) if row.at_mm else difference(y)


def _spindle(y: FloatArray, row: SheetRow) -> SpindleToAxis:
    n = len(row.at_mm)
    sags = (np.array(sag) if sag else 0.0 for sag in (row.mandrel_sag_um, row.holder_sag_um))
    mandrel, holder = sags
    return spindle_to_axis(row.at_mm, y[:n], y[n:], mandrel_sag_um=mandrel, holder_sag_um=holder)


def _spindle_figures(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    found = _spindle(y, row)
    return (
        ("angle", float(found.angle_um_per_m), "um/m"),
        ("mandrel_run_out", float(2.0 * np.abs(found.mandrel_um).max()), "um"),
        ("sag", float(found.angle_by_sag_um_per_m * found.length_mm / 1000.0), "um"),
    )


def _disc(y: FloatArray, row: SheetRow) -> PerDraw:
    n = y.shape[0] // 2
    return rise_over_length(row.at_mm, (y[:n] + y[n:]) / 2.0)


def _over_diameter(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    return _angle_over(float(difference(y)), row.diameter_mm)


def _angle_over(value_um: float, length_mm: float | None) -> tuple[Figure, ...]:
    return (("angle", value_um / length_mm * 1000.0, "um/m"),) if length_mm else ()


def _column(y: FloatArray, row: SheetRow) -> PerDraw:
    return mean_difference(y, y.shape[0] // 2)


def _roll(y: FloatArray, row: SheetRow) -> PerDraw:
    n = len(row.at_mm)
    assert row.arm_mm is not None
    roll = roll_from_lines(row.quantity or "", row.at_mm, y[:n], y[n:], row.arm_mm).roll_um_per_m
    return (roll.max(axis=0) - roll.min(axis=0))[()]


def _ram(y: FloatArray, row: SheetRow) -> RamDroop:
    n = len(row.at_mm)
    return ram_droop(row.at_mm, y[:n], y[n:])


def _ram_worst(y: FloatArray, row: SheetRow) -> PerDraw:
    found = _ram(y, row)
    return np.maximum(-found.on_lowest_um, found.on_highest_um)[()]


def _ram_figures(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    found = _ram(y, row)
    return (("off_lowest", float(found.off_lowest_um), "um"), ("on_lowest", float(found.on_lowest_um), "um"))


def _wobble_figures(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    whole = ("whole_travel", float(reading_range(y)), "um")
    return (*_angle_over(float(2.0 * once_per_turn(y)), row.diameter_mm), whole)


def _joint(y: FloatArray, row: SheetRow) -> Joint:
    assert row.joint_mm is not None
    return joint(row.at_mm, y, row.joint_mm, bow=False)


def _each_draw(y: FloatArray, row: SheetRow, name: str) -> PerDraw:
    if y.ndim == 1:
        return getattr(_joint(y, row), name)
    return np.array([getattr(_joint(y[:, k], row), name) for k in range(y.shape[1])])


def _joint_figures(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    found = _joint(y, row)
    return (
        ("step", float(found.step_um or 0.0), "um"), ("kink", float(found.kink_um_per_m or 0.0), "um/m"),
        ("noise", float(found.noise_um or 0.0), "um"),
    )  # fmt: skip


def _straight(y: FloatArray, row: SheetRow) -> PerDraw:
    return straightness(row.at_mm, y, row.reference).value_um


def _straight_by_level(y: FloatArray, row: SheetRow) -> PerDraw:
    assert row.base_mm is not None
    height = heights_from_steps(y, row.base_mm)
    return straightness(np.arange(height.shape[0]) * row.base_mm, height, row.reference).value_um


def _by_level_figures(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    return (("mean_inclination", float(y.mean()), "um/m"),)


def _by_level_length(row: SheetRow) -> float | None:
    return None if row.base_mm is None else row.base_mm * max(len(row.places), len(row.at_mm))


def _flat(y: FloatArray, row: SheetRow) -> PerDraw:
    """About the least-squares plane, which can be carried through with every draw while values are typed."""
    return flatness(row.at_mm, row.across_mm, y, "least-squares").value_um


def _twist(y: FloatArray, row: SheetRow) -> PerDraw:
    return (y.max(axis=0) - y.min(axis=0))[()]


def _twist_figures(y: FloatArray, row: SheetRow) -> tuple[Figure, ...]:
    mean: Figure = ("mean_inclination", float(y.mean()), "um/m")
    if len(row.at_mm) < 3:
        return (mean,)
    found = twist(row.at_mm, y, row.gauge_mm)
    ends: Figure = ("end_to_end", float(found.end_to_end_um_per_m), "um/m")
    over = () if found.height_difference_um is None else (("over_gauge", float(found.height_difference_um), "um"),)
    return (ends, mean, *over)


def _two_slopes(y: FloatArray, row: SheetRow) -> PerDraw:
    n = len(row.at_mm)
    return (rise_over_length(row.at_mm, y[n:]) - rise_over_length(row.at_mm, y[:n]))[()]


def _diameter(row: SheetRow) -> float | None:
    return row.diameter_mm


_SINGLE = Layout(exactly=1, usual=("value",))
_FEELER = Layout(usual=("gap",))
_TURN = Layout(usual=("needle",))
_COLUMN = Layout(pairs=True, usual=("table", "column"))
_TWO = Layout(means=True, usual=("first", "second"), exactly=2)

_EVERY = (
    RowKind("value", UM, UM, lambda y, row: y[0], _SINGLE, signed=True, linear=True, drawing="indicator"),
    RowKind("angle", ANGLE, ANGLE, lambda y, row: y[0], Layout(pairs=True, usual=("value",), exactly=1), signed=True,
            linear=True, budget="level", drawing="level", turns=True),
    RowKind("level", ANGLE, ANGLE, lambda y, row: largest_size(y), LEVEL, budget="level", drawing="level", turns=True,
            figures=_by_level_figures),
    RowKind("twist", ANGLE, ANGLE, _twist, LEVEL, fewest=2, budget="level", drawing="level-across", turns=True,
            figures=_twist_figures),
    RowKind("range", UM, UM, lambda y, row: reading_range(y), _TURN),
    RowKind("run-out", UM, UM, lambda y, row: reading_range(y), _TURN, drawing="run-out"),
    RowKind("axial-slip", UM, UM, lambda y, row: reading_range(y), _TURN, drawing="axial-slip"),
    RowKind("face", UM, UM, lambda y, row: reading_range(y), _TURN, drawing="face", length=_diameter),
    RowKind("difference", UM, UM, lambda y, row: difference(y), _TWO, signed=True, linear=True, turns=True),
    RowKind("height", UM, UM, lambda y, row: difference(y), _TWO, signed=True, linear=True, turns=True,
            drawing="two-places"),
    RowKind("offset", UM, UM, lambda y, row: half_difference(y), HALF_TURN, signed=True, linear=True,
            drawing="half-turn"),
    RowKind("gap", UM, UM, lambda y, row: largest_size(y), _FEELER, budget="feeler", drawing="feeler"),
    RowKind("parallel", UM, UM, _at_own_places, NEAR_FAR, signed=True, linear=True, fewest=2, drawing="mandrel",
            turns=True, budget="mandrel"),
    RowKind("spindle", UM, UM, lambda y, row: _spindle(y, row).over_length_um, MANDREL, signed=True, linear=True,
            fewest=2, needs=("at_mm",), budget="mandrel", drawing="mandrel", figures=_spindle_figures),
    RowKind("head-to-tail", UM, UM, lambda y, row: difference(y), ENDS, signed=True, linear=True, budget="test-bar",
            drawing="test-bar", turns=True),
    RowKind("square", UM, UM, _at_own_places, NEAR_FAR, signed=True, linear=True, fewest=2, needs=("at_mm",),
            budget="square", drawing="square", turns=True,
            figures=lambda y, row: _angle_over(float(_at_own_places(y, row)), float(np.ptp(row.at_mm)))),
    RowKind("square-disc", UM, UM, _disc, DISC, signed=True, linear=True, fewest=2, needs=("at_mm",),
            budget="disc", drawing="disc",
            figures=lambda y, row: _angle_over(float(_disc(y, row)), float(np.ptp(row.at_mm)))),
    RowKind("square-sweep", UM, UM, lambda y, row: difference(y), HALF_TURN, signed=True, linear=True,
            needs=("diameter_mm",), budget="sweep", drawing="sweep", figures=_over_diameter, length=_diameter),
    RowKind("column", ANGLE, ANGLE, _column, _COLUMN, signed=True, linear=True, fewest=2, budget="level",
            drawing="column", turns=True),
    RowKind("vertical-roll", UM, ANGLE, _roll, TWO_LINES, fewest=3, needs=("at_mm", "arm_mm", "quantity"),
            budget="straightedge", drawing="two-lines"),
    RowKind("ram", UM, UM, _ram_worst, RAM, fewest=3, needs=("at_mm",), drawing="ram", figures=_ram_figures),
    RowKind("wobble", UM, UM, lambda y, row: 2.0 * once_per_turn(y), Layout(), fewest=3, drawing="face",
            figures=_wobble_figures, length=_diameter),
    RowKind("axis-by-level", ANGLE, ANGLE, lambda y, row: once_per_turn(y), Layout(), fewest=3, budget="level",
            drawing="level"),
    RowKind("joint-step", UM, UM, lambda y, row: _each_draw(y, row, "step_um"), Layout(), signed=True, linear=True,
            fewest=6, needs=("at_mm", "joint_mm"), drawing="joint", figures=_joint_figures, length=lambda row: None),
    RowKind("joint-kink", UM, ANGLE, lambda y, row: _each_draw(y, row, "kink_um_per_m"), Layout(), signed=True,
            linear=True, fewest=6, needs=("at_mm", "joint_mm"), drawing="joint", figures=_joint_figures),
    RowKind("straightness", UM, UM, _straight, Layout(), fewest=3, needs=("at_mm",), budget="straightedge",
            drawing="straightedge"),
    RowKind("straightness-by-level", ANGLE, UM, _straight_by_level, LEVEL, fewest=2, needs=("base_mm",),
            budget="level", drawing="level", turns=True, figures=_by_level_figures, length=_by_level_length),
    RowKind("flatness", UM, UM, _flat, Layout(), fewest=4, needs=("at_mm", "across_mm"), drawing="plate",
            length=lambda row: None),
    RowKind("parallel-lines", UM, UM, _two_slopes, TWO_LINES, signed=True, linear=True, fewest=2, needs=("at_mm",),
            drawing="two-lines"),
    RowKind(RESULT, UM, UM, lambda y, row: float("nan"), Layout(), drawing="result", needs=("of",)),
)  # fmt: skip
KINDS: Mapping[str, RowKind] = {kind.name: kind for kind in _EVERY}
