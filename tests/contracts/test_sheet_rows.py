"""What each kind of row makes of its readings, from machines whose faults are known."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate.plain_rows import bed_by_level, once_per_turn
from waywright.evaluate.sheet_rows import entries_of, figures_of, places_of, value_of
from waywright.evaluate.sheet_work import KINDS
from waywright.evaluate.taper import CENTRES, CHUCK, TaperSeen, taper_causes
from waywright.visit.sheet import SheetRow


def row(kind: str, **given: object) -> SheetRow:
    return SheetRow("1", "test", kind, **given)  # type: ignore[arg-type]


def value(made: SheetRow, *read: float) -> float:
    assert len(read) == len(entries_of(made))
    return float(value_of(made, np.array(read, dtype=float)))


def figure(made: SheetRow, name: str, *read: float) -> float:
    return {each: number for each, number, _ in figures_of(made, np.array(read, dtype=float))}[name]


def test_needle_travel_of_one_reading_or_several() -> None:
    for kind in ("run-out", "axial-slip", "face", "range"):
        assert value(row(kind), -7.0) == 7.0
        assert value(row(kind, places=("0°", "120°", "240°")), 3.0, -2.0, 1.0) == 5.0


def test_plain_differences() -> None:
    assert value(row("difference"), 3.0, 10.0) == 7.0
    assert value(row("height"), 10.0, 4.0) == -6.0
    assert value(row("offset"), 20.0, -20.0) == 20.0  # the dial turns about the axis: twice the offset
    assert value(row("gap", places=("top", "side")), 30.0, 50.0) == 50.0
    assert value(row("value"), -4.0) == -4.0


def test_level_turned_round_loses_its_zero_and_says_it() -> None:
    made = row("level", places=("foot 1", "foot 2"), turned=True)
    tilt, zero = np.array([14.0, -28.0]), 6.0
    read = [tilt[0] + zero, zero - tilt[0], tilt[1] + zero, zero - tilt[1]]
    assert entries_of(made)[:2] == (("foot 1", ""), ("foot 1", "turned"))
    assert value(made, *read) == 28.0
    assert figure(made, "zero", *read) == 6.0
    assert figure(made, "zero_moved", *read) == 0.0


def test_twist_is_the_range_across_and_a_constant_slope_is_none() -> None:
    made = row("twist", at_mm=(0.0, 500.0, 1000.0), gauge_mm=400.0)
    assert value(made, 30.0, 30.0, 30.0) == 0.0
    assert value(made, 0.0, 20.0, 50.0) == 50.0
    assert figure(made, "over_gauge", 0.0, 20.0, 50.0) == 20.0


def test_spindle_by_a_mandrel_that_runs_out_and_sags() -> None:
    """Axis 40 um/m up; a mandrel bent by 9 um at its end; sag of 3 um at the end and of the holder of 1 um."""
    made = row("spindle", at_mm=(0.0, 300.0), mandrel_sag_um=(0.0, -3.0), holder_sag_um=(0.0, -1.0))
    axis, bent = np.array([0.0, 12.0]), np.array([0.0, 9.0])
    sag = np.array([0.0, -4.0])
    read = [*(axis + bent + sag), *(axis - bent + sag)]
    assert value(made, *read) == pytest.approx(12.0)
    assert figure(made, "angle", *read) == pytest.approx(40.0)
    assert figure(made, "mandrel_run_out", *read) == pytest.approx(18.0)
    assert figure(made, "sag", *read) == pytest.approx(-4.0)


def test_head_to_tail_with_a_bar_that_is_turned() -> None:
    made = row("head-to-tail", turned=True)
    read = [2.0 + 5.0, 20.0 - 1.0, 2.0 - 5.0, 20.0 + 1.0]
    assert places_of(made) == ("headstock", "tailstock")
    assert value(made, *read) == pytest.approx(18.0)


def test_square_turned_over_loses_the_squares_own_angle() -> None:
    made = row("square", at_mm=(0.0, 500.0), turned=True)
    machine_um, square_um = 15.0, 8.0
    read = [0.0, machine_um + square_um, 0.0, machine_um - square_um]
    assert value(made, *read) == pytest.approx(15.0)
    assert figure(made, "own", *read) == pytest.approx(8.0)
    assert figure(made, "angle", *read) == pytest.approx(30.0)


def test_disc_turned_by_180_degrees_loses_its_own_angle() -> None:
    made = row("square-disc", at_mm=(0.0, 150.0))
    cross_um, disc_um = -6.0, 11.0
    assert value(made, 0.0, cross_um + disc_um, 0.0, cross_um - disc_um) == pytest.approx(-6.0)


def test_sweep_over_the_table() -> None:
    made = row("square-sweep", diameter_mm=300.0)
    assert value(made, 2.0, 14.0) == 12.0
    assert figure(made, "angle", 2.0, 14.0) == pytest.approx(40.0)


def test_column_to_table_by_level() -> None:
    made = row("column", places=("table left", "table right", "column low", "column high"), turned=True)
    zero, table, column = 5.0, (10.0, 14.0), (40.0, 44.0)
    read = [reading for tilt in (*table, *column) for reading in (tilt + zero, zero - tilt)]
    assert value(made, *read) == pytest.approx(30.0)


def test_roll_of_a_vertical_axis_by_two_lines() -> None:
    made = row("vertical-roll", at_mm=(0.0, 200.0, 400.0), arm_mm=500.0, quantity="EYZ")
    roll = np.array([0.0, 20.0, 0.0])  # um/m; an even part cannot be seen this way
    first = np.array([1.0, -2.0, 4.0])
    assert value(made, *first, *(first + roll * 0.5)) == pytest.approx(20.0)


def test_ram_droop_with_compensation() -> None:
    made = row("ram", at_mm=(0.0, 300.0, 600.0))
    off, on = (0.0, -15.0, -60.0), (0.0, 4.0, -9.0)
    assert value(made, *off, *on) == pytest.approx(9.0)
    assert figure(made, "off_lowest", *off, *on) == pytest.approx(-60.0)


def test_wobble_is_what_comes_once_in_a_turn() -> None:
    angle = np.arange(8) * np.pi / 4
    face = 3.0 + 10.0 * np.cos(angle - 0.7) + 4.0 * np.cos(3 * angle)
    made = row("wobble", places=tuple(f"{45 * k}°" for k in range(8)), diameter_mm=800.0)
    assert value(made, *face) == pytest.approx(20.0)
    assert figure(made, "angle", *face) == pytest.approx(25.0)
    assert once_per_turn(np.column_stack([face, 2 * face])) == pytest.approx([10.0, 20.0])


def test_step_and_kink_at_a_joint() -> None:
    at = np.array([-350.0, -200.0, -50.0, 50.0, 200.0, 350.0])
    heights = 0.02 * at + np.where(at > 0, 7.0 + 0.05 * at, 0.0)
    step = row("joint-step", at_mm=tuple(at), joint_mm=0.0)
    kink = row("joint-kink", at_mm=tuple(at), joint_mm=0.0)
    assert value(step, *heights) == pytest.approx(7.0)
    assert value(kink, *heights) == pytest.approx(50.0)


@pytest.mark.parametrize(
    "at_mm", [(-300.0, -200.0, 50.0, 100.0, 200.0, 300.0), (-300.0, -200.0, 0.0, 50.0, 200.0, 300.0)]
)
def test_a_joint_needs_places_on_both_sides_and_none_on_it(at_mm: tuple[float, ...]) -> None:
    with pytest.raises(BadInput, match="on each side of the joint"):
        entries_of(row("joint-step", at_mm=at_mm, joint_mm=0.0))


def test_straightness_rows_and_flatness() -> None:
    assert value(row("straightness", at_mm=(0, 500, 1000), reference="end-points"), 0.0, 8.0, 0.0) == pytest.approx(8.0)
    plane = [0.0, 3.0, 6.0, 2.0, 5.0, 8.0, 4.0, 7.0, 10.0]
    made = row("flatness", at_mm=(0, 100, 200) * 3, across_mm=(0, 0, 0, 50, 50, 50, 100, 100, 100))
    assert value(made, *plane) == pytest.approx(0.0, abs=1e-9)
    assert value(row("parallel-lines", at_mm=(0.0, 1000.0)), 0.0, 2.0, 1.0, 9.0) == pytest.approx(6.0)


def test_every_kind_says_what_it_lacks() -> None:
    for kind in KINDS.values():
        if kind.needs:
            with pytest.raises(BadInput, match=r"needs"):
                places_of(
                    SheetRow("7", "test", kind.name, places=tuple("abcdefgh"[: kind.layout.exactly or kind.fewest]))
                )
    with pytest.raises(BadInput, match="Known kinds"):
        entries_of(row("guess"))
    with pytest.raises(BadInput, match="leave out `turned`"):
        entries_of(row("run-out", turned=True))


def test_bed_by_level_finds_both_ways_and_shows_a_wrong_reading() -> None:
    x = np.array([0.0, 1000.0, 2000.0, 3000.0])
    front, rear, gauge = np.array([0.0, 30.0, -10.0, 20.0]), np.array([12.0, 5.0, -20.0, 40.0]), 800.0
    across = (front - rear) / gauge * 1000.0
    along = np.diff(front), np.diff(rear)
    found = bed_by_level(x, gauge, across, *along)
    assert found.front_um == pytest.approx(front)
    assert found.rear_um == pytest.approx(rear)
    assert found.closure_um_per_m == pytest.approx(0.0, abs=1e-9)
    one_way = bed_by_level(x, gauge, across, along[0])
    assert one_way.rear_um == pytest.approx(rear)
    wrong = along[0].copy()
    wrong[1] += 100.0
    assert bed_by_level(x, gauge, across, wrong, along[1]).closure_um_per_m > 20.0


def test_bed_by_level_refuses_what_gives_no_heights() -> None:
    with pytest.raises(BadInput, match="along"):
        bed_by_level([0.0, 1.0], 800.0, [0.0, 0.0])


def test_taper_in_the_chuck_is_traced_to_the_spindle_or_to_the_twist() -> None:
    """Spindle 50 um/m towards the tool over 200 mm: 20 um less at the free end."""
    found = taper_causes(TaperSeen(-20.0, 200.0, CHUCK, spindle_side_um_per_m=50.0))
    assert found.likely is not None
    assert (found.likely.name, found.likely.taper_um) == ("spindle-side", pytest.approx(-20.0))
    assert "twist" in found.not_measured
    # the same reading, but a twist of 40 um/m under the cut at 250 mm above the ways is all of it
    twisted = taper_causes(
        TaperSeen(-20.0, 200.0, CHUCK, spindle_side_um_per_m=50.0, twist_um_per_m=40.0, tool_height_mm=250.0)
    )
    assert twisted.likely is not None
    assert twisted.likely.name == "twist"
    assert sum(cause.taper_um for cause in twisted.causes) == pytest.approx(-20.0)


def test_height_alone_makes_little_taper_and_nothing_is_blamed_without_reason() -> None:
    found = taper_causes(
        TaperSeen(30.0, 300.0, CENTRES, tailstock_height_um=40.0, between_mm=600.0, tailstock_side_um=1.0)
    )
    assert found.likely is None
    height = next(cause for cause in found.causes if cause.name == "tailstock-height")
    assert height.taper_um == pytest.approx(20.0**2 / 25_000.0)
