"""What the tool sees: a rigid carriage is turned in space, readings are simulated at one point, another comes back."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import at_functional_point, level_places, offset_along_axes, ram_droop, roll_from_lines
from waywright.quantities import Axes, Direction, code, iso_sign

FRONT_LATHE = Axes(up="-Y", operator="+X")
REAR_LATHE = Axes(up="+Y", operator="-X")
MILL = Axes(up="+Z", operator="-Y")
MACHINES = [(FRONT_LATHE, "Z"), (REAR_LATHE, "Z"), (MILL, "X"), (MILL, "Z"), (MILL, "Y")]
X_MM = np.linspace(0.0, 4000.0, 21)


def in_space(axes: Axes, along_axes: np.ndarray) -> np.ndarray:
    """Components along X, Y, Z as vectors (right, up, towards); (n, 3) -> (n, 3)."""
    return along_axes @ np.array([axes.vector(axis) for axis in "XYZ"], dtype=float)


@pytest.mark.parametrize("work_moves", [False, True])
@pytest.mark.parametrize(("axes", "axis"), MACHINES)
def test_a_turned_body_is_seen_from_another_point(axes: Axes, axis: str, work_moves: bool) -> None:
    """Random motion in space; ISO readings at one point and the rotations give the displacement at the other.

    The truth is made without a table of signs: a vector product in (right, up, towards), tool relative to work.
    """
    rng = np.random.default_rng(11)
    moved, turned = rng.normal(0, 10, (21, 3)), rng.normal(0, 20, (21, 3))
    offset = np.array([120.0, -340.0, 75.0])  # right, up, towards
    side = -1.0 if work_moves else 1.0
    truth = side * (moved + np.cross(turned, offset / 1000.0))
    frame = np.array([axes.vector(one) for one in "XYZ"], dtype=float)
    iso, iso_turn = side * moved @ frame.T, side * turned @ frame.T
    rotations = {f"E{letter}{axis}": iso_turn[:, k] for k, letter in enumerate("ABC")}
    arm = offset_along_axes(*offset, axes)
    for k, direction in enumerate("XYZ"):
        found = at_functional_point(f"E{direction}{axis}", X_MM, iso[:, k], rotations, arm)
        assert found.deviation_um == pytest.approx((truth @ frame.T)[:, k])
        assert found.missing == ()
        assert found.deviation_um == pytest.approx(iso[:, k] + sum(found.share_um.values()))
    assert in_space(axes, np.array([arm]))[0] == pytest.approx(offset)


def test_going_there_and_back_changes_nothing_and_arms_add() -> None:
    rng = np.random.default_rng(3)
    y, turns = rng.normal(0, 5, (21, 4)), {f"E{letter}Z": rng.normal(0, 20, (21, 4)) for letter in "ABC"}
    a, b = np.array([10.0, 250.0, -30.0]), np.array([-400.0, 60.0, 90.0])
    there = at_functional_point("EYZ", X_MM, y, turns, a).deviation_um
    assert at_functional_point("EYZ", X_MM, there, turns, -a).deviation_um == pytest.approx(y)
    on = at_functional_point("EYZ", X_MM, there, turns, b).deviation_um
    assert on == pytest.approx(at_functional_point("EYZ", X_MM, y, turns, a + b).deviation_um)
    assert on.shape == (21, 4)


def test_a_point_on_the_side_that_stands_has_an_arm_that_changes() -> None:
    """A constant pitch under a growing arm is a slope."""
    arm = np.column_stack([X_MM * 0, X_MM * 0, -X_MM])
    found = at_functional_point("EYZ", X_MM, X_MM * 0, {"EAZ": X_MM * 0 + 10.0}, arm)
    assert found.deviation_um == pytest.approx(10.0 * X_MM / 1000.0)
    assert found.missing == ()


def test_a_rotation_that_was_not_measured_is_named() -> None:
    found = at_functional_point("EYZ", X_MM, X_MM * 0, {"ECZ": X_MM * 0 + 5.0}, (200.0, 0.0, 300.0))
    assert found.missing == ("EAZ",)
    assert found.reason is not None
    assert found.deviation_um == pytest.approx(1.0)
    assert at_functional_point("EYZ", X_MM, X_MM, {}, (0.0, 300.0, 0.0)).reason is None


@pytest.mark.parametrize(("name", "turn", "offset"), [("EAZ", "EAZ", (0, 0, 0)), ("EYZ", "EAX", (0, 0, 0)), ("EYZ", "EYZ", (0, 0, 0)), ("EYZ", "EAZ", (0, 0))])  # fmt: skip # noqa: E501
def test_functional_point_refusals(name: str, turn: str, offset: tuple[float, ...]) -> None:
    with pytest.raises(BadInput):
        at_functional_point(name, X_MM, X_MM, {turn: X_MM}, offset)


@pytest.mark.parametrize(("axes", "axis"), [(FRONT_LATHE, "Z"), (REAR_LATHE, "Z"), (MILL, "X"), (MILL, "Y")])
def test_level_along_and_across_are_those_of_two_levels_on_the_body(axes: Axes, axis: str) -> None:
    """A level along and one across, simulated as the rise of a turned arm of one metre."""
    rng = np.random.default_rng(8)
    turned = rng.normal(0, 50, (21, 3))
    frame = np.array([axes.vector(one) for one in "XYZ"], dtype=float)
    rotations = {f"E{letter}{axis}": (turned @ frame.T)[:, k] for k, letter in enumerate("ABC")}
    found = level_places(axis, X_MM, rotations, axes)
    arm = {Direction.RIGHT_SIDE_UP: (1.0, 0, 0), Direction.OPERATOR_SIDE_UP: (0, 0, 1.0)}
    for value, side in ((found.along_mm_per_m, found.along_up), (found.across_mm_per_m, found.across_up)):
        assert value == pytest.approx(np.cross(turned, arm[side])[:, 1] / 1000.0)
    along_x = abs(axes.vector(axis)[0]) == 1
    assert (found.along_up is Direction.RIGHT_SIDE_UP) is along_x
    roll_only = level_places(axis, X_MM, {f"E{'ABC'['XYZ'.index(axis)]}{axis}": X_MM}, axes)
    assert roll_only.along_mm_per_m is None
    assert roll_only.across_mm_per_m is not None


def test_no_level_on_a_vertical_axis() -> None:
    with pytest.raises(BadInput, match="offset arms"):
        level_places("Z", X_MM, {}, MILL)


@pytest.mark.parametrize("name", ["EXZ", "EYZ", "EXY", "EZY", "EYX", "EZX"])
def test_roll_comes_back_from_two_lines_on_offset_arms(name: str) -> None:
    """The lines are simulated by carrying one point's motion to both arms."""
    rng = np.random.default_rng(21)
    axis, direction = name[2], name[1]
    about = "ABC"["XYZ".index(axis)]
    roll = 15 * np.sin(X_MM / 900) + rng.normal(0, 1, 21)
    third = next(k for k, one in enumerate("XYZ") if one not in (axis, direction))
    lines = []
    for place in (-150.0, 450.0):
        arm = np.zeros(3)
        arm[third] = place
        turns = {f"E{about}{axis}": roll, **{f"E{c}{axis}": rng.normal(0, 9, 21) for c in "ABC" if c != about}}
        lines.append(at_functional_point(name, X_MM, 8 * np.cos(X_MM / 500), turns, arm).deviation_um)
    found = roll_from_lines(name, X_MM, *lines, 600.0, same_reference=True)
    assert found.code == f"E{about}{axis}"
    assert found.roll_um_per_m == pytest.approx(roll - roll.mean())
    assert found.reason is None
    tilted = roll_from_lines(name, X_MM, lines[0], lines[1] + 3 + 0.02 * X_MM, 600.0)
    straight = np.polyval(np.polyfit(X_MM, roll, 1), X_MM)
    assert tilted.roll_um_per_m == pytest.approx(roll - straight, abs=1e-9)
    assert tilted.reason is not None


def test_noise_of_a_roll_from_lines_is_that_of_a_simulation() -> None:
    rng = np.random.default_rng(4)
    first, second = rng.normal(0, 0.6, (21, 4000)), rng.normal(0, 0.8, (21, 4000))
    found = roll_from_lines("EXZ", X_MM, first, second, -500.0, same_reference=True, first_sd_um=0.6, second_sd_um=0.8)
    assert found.noise_um_per_m == pytest.approx(2.0)
    # taking the mean of 21 out leaves a share of 20/21 of the variance
    assert found.roll_um_per_m.std() == pytest.approx(2.0 * np.sqrt(20 / 21), rel=0.01)


def test_ram_droop_with_and_without_compensation() -> None:
    """A droop that grows with the square, of which the compensation lifts a part that grows evenly."""
    e = np.array([0.0, 200.0, 400.0, 600.0, 800.0])
    off = 7.0 - 60.0 * (e / 800.0) ** 2
    found = ram_droop(e, off, -3.0 + (off - 7.0) + 0.07 * e)
    assert found.difference_um == pytest.approx(0.07 * e)
    assert found.difference_slope_um_per_m == pytest.approx(70.0)
    assert found.off_lowest_um == pytest.approx(-60.0)
    assert found.on_lowest_um == pytest.approx(min(-60.0 + 56.0, 0.0))
    assert found.on_highest_um == pytest.approx(max(-60 * (s / 800) ** 2 + 0.07 * s for s in e))
    assert found.on_slope_um_per_m - found.off_slope_um_per_m == pytest.approx(70.0)
    turned = ram_droop(e[::-1], off[::-1], off[::-1])
    assert turned.off_um == pytest.approx(found.off_um[::-1])
    with pytest.raises(BadInput):
        ram_droop([0, 0, 100], [0, 0, 0], [0, 0, 0])
    with pytest.raises(BadInput):
        ram_droop(e, off, np.stack([off, off], axis=1))


def test_signs_of_the_arm_are_those_of_the_direction_table() -> None:
    """On a front-tool lathe a carriage whose operator side rises lifts a tool on the operator's side: +Y is down."""
    roll = iso_sign(code("ECZ"), Direction.OPERATOR_SIDE_UP, FRONT_LATHE) * np.full(21, 10.0)
    arm = offset_along_axes(0.0, 0.0, 300.0, FRONT_LATHE)
    found = at_functional_point("EYZ", X_MM, X_MM * 0, {"ECZ": roll}, arm)
    assert found.deviation_um * iso_sign(code("EYZ"), Direction.UP, FRONT_LATHE) == pytest.approx(3.0)
