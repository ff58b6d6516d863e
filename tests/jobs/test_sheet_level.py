"""A bed read with one level only: heights, twist, rough level on three points, then which supports to turn."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from bed_by_level import FEET_MM, GAUGE_MM, machine_file, type_bed
from made_sheet import CLOCK, enter, filling
from waywright.errors import BadInput
from waywright.files.machine_file import read_machine
from waywright.files.sheet_file import template
from waywright.jobs.correct import CorrectionOrder, correction_of_line
from waywright.jobs.measured import measured_line
from waywright.jobs.sheet_level import level_plan, three_points
from waywright.jobs.sheet_line import line_of_level
from waywright.visit.sheet import SheetRow


def test_a_twisted_and_hollow_bed_is_planned_from_one_level(tmp_path: Path) -> None:
    share = FEET_MM / 6000.0
    bow, twist = 60.0 * 4 * share * (1 - share), 50.0 * share
    front, rear = -bow + twist, -bow - twist
    rows = template("bed-by-level").row
    assert [row.means for row in rows] == ["bed-across", "bed-along", "bed-along"]  # twist first
    assert all(row.turned for row in rows)  # reversal is part of it
    with filling(tmp_path, *rows) as (archive, sheet, fill):
        type_bed(fill, front, rear, rows)
        found = level_plan(archive, sheet, machine_file(tmp_path), goal_um=20.0)
    assert found.bed.front_um - found.bed.front_um[0] == pytest.approx(front, abs=0.01)
    assert found.twist_um_per_m == pytest.approx(100.0 / GAUGE_MM * 1000.0, abs=0.01)
    assert found.bed.closure_um_per_m == pytest.approx(0.0, abs=1e-3)
    assert found.height_um == pytest.approx(60.0, abs=0.1)
    assert found.rough == ()
    assert found.correction is not None
    plan = found.correction.plan
    assert plan.value_um < 0.5 * plan.value_now_um
    middle = plan.moves_um[plan.supports.index("4")] + plan.moves_um[plan.supports.index("11")]
    ends = plan.moves_um[plan.supports.index("1")] + plan.moves_um[plan.supports.index("14")]
    assert middle > ends  # the hollow middle goes up against the ends
    assert [stage.name for stage in found.stages][:4] == ["rough", "contact", "twist", "height"]
    states = {stage.name: stage.state for stage in found.stages}
    assert (states["rough"], states["twist"]) == ("done", "now")


def test_a_bed_that_leans_is_first_brought_level_on_three_points(tmp_path: Path) -> None:
    front = 0.4 * FEET_MM  # 400 um/m uphill to the right
    rear = front - 150.0 / 1000.0 * GAUGE_MM
    rows = template("bed-by-level").row
    with filling(tmp_path, *rows) as (archive, sheet, fill):
        type_bed(fill, front, rear, rows)
        path = machine_file(tmp_path)
        found = level_plan(archive, sheet, path, goal_um=20.0)
    bed = read_machine(path).bed
    assert bed is not None
    points = three_points(bed)
    assert [point.row for point in points] == ["front", "front", "rear"]
    assert found.correction is None
    assert [move.support for move in found.rough] == [point.name for point in points]
    assert min(move.raise_um for move in found.rough) == pytest.approx(0.0)
    # after these moves the plane through the three points is level
    left = []
    for point, move in zip(points, found.rough, strict=True):
        across = bed.support_across_mm(point)
        left.append(0.4 * point.bed_mm + 0.15 * across + move.raise_um)
    assert np.ptp(left) == pytest.approx(0.0, abs=0.5)
    assert {stage.name: stage.state for stage in found.stages}["rough"] == "now"


def test_the_level_makes_a_line_that_is_corrected_like_any_other(tmp_path: Path) -> None:
    share = FEET_MM / 6000.0
    front = -80.0 * 4 * share * (1 - share)
    rows = template("bed-by-level").row
    with filling(tmp_path, *rows) as (archive, sheet, fill):
        type_bed(fill, front, front + 30.0 * share, rows)
        found = level_plan(archive, sheet, machine_file(tmp_path), goal_um=20.0)
        line = line_of_level(archive, sheet, found, CLOCK)  # type: ignore[arg-type]
        assert line_of_level(archive, sheet, found, CLOCK).id == line.id  # type: ignore[arg-type]
        measured = measured_line(archive, line)
        planned = correction_of_line(measured, CorrectionOrder(goal_um=20.0))
    assert found.correction is not None
    assert planned.plan.value_now_um == pytest.approx(found.correction.plan.value_now_um, abs=0.1)
    assert planned.plan.measured.roll_um_per_m is not None
    assert np.ptp(planned.plan.measured.roll_um_per_m) == pytest.approx(found.twist_um_per_m, abs=0.1)


def test_a_step_at_a_joint_is_taken_out_and_never_levelled_away(tmp_path: Path) -> None:
    step = SheetRow("9", "step", "joint-step", at_mm=(3150.0, 3300.0, 3450.0, 3550.0, 3700.0, 3850.0), joint_mm=3500.0,
                    positive="up")  # fmt: skip
    rows = (*template("bed-by-level").row, step)
    raised = np.where(FEET_MM > 3500.0, 80.0, 0.0)  # a straight bed whose right part stands 80 um higher at the joint
    with filling(tmp_path, *rows) as (archive, sheet, fill):
        type_bed(fill, raised, raised, rows)
        before = level_plan(archive, sheet, machine_file(tmp_path), goal_um=10.0)
        fill.go_to("9")
        enter(fill, 0.0, 0.0, 0.0, 80.0, 80.0, 80.0)
        found = level_plan(archive, sheet, machine_file(tmp_path), goal_um=10.0)
    assert before.height_um > 30.0
    assert found.steps_taken_out == ((3500.0, pytest.approx(80.0)),)
    assert found.height_um == pytest.approx(0.0, abs=0.1)
    assert found.correction is not None
    assert found.correction.plan.moves_um == pytest.approx(0.0)


def test_what_is_missing_is_said(tmp_path: Path) -> None:
    rows = template("bed-by-level").row
    with filling(tmp_path, *rows) as (archive, sheet, _), pytest.raises(BadInput, match="twist comes before"):
        level_plan(archive, sheet, machine_file(tmp_path), 20.0)
    (tmp_path / "b").mkdir()
    with filling(tmp_path / "b", rows[1]) as (archive, sheet, _), pytest.raises(BadInput, match="no row across"):
        level_plan(archive, sheet, machine_file(tmp_path), 20.0)
