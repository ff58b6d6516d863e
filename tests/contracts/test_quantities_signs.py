"""Signs: the ISO sign follows the machine's axes and who carries the detector; the screen says physical directions."""

import pytest

from waywright.errors import BadInput
from waywright.quantities import (
    Axes,
    Direction,
    code,
    code_along,
    iso_sign,
    plain_name,
    positive_direction,
    screen_direction,
)

FRONT_TOOL_LATHE = Axes(up="-Y", operator="+X")
REAR_TOOL_LATHE = Axes(up="+Y", operator="-X")
VERTICAL_MILL = Axes(up="+Z", operator="-Y")


def test_on_a_front_tool_lathe_positive_y_points_down() -> None:
    assert positive_direction(code("EYZ"), FRONT_TOOL_LATHE) is Direction.DOWN
    assert screen_direction(code("EYZ"), FRONT_TOOL_LATHE) is Direction.UP
    assert iso_sign(code("EYZ"), Direction.UP, FRONT_TOOL_LATHE) == -1
    assert iso_sign(code("EXZ"), Direction.TOWARDS, FRONT_TOOL_LATHE) == 1


def test_on_a_rear_tool_lathe_positive_y_points_up() -> None:
    assert iso_sign(code("EYZ"), Direction.UP, REAR_TOOL_LATHE) == 1
    assert iso_sign(code("EXZ"), Direction.TOWARDS, REAR_TOOL_LATHE) == -1


@pytest.mark.parametrize("text", ["EYX", "EZX", "EAX", "EBX", "ECX", "EXY", "EZY"])
def test_the_iso_sign_turns_over_where_the_table_carries_the_detector(text: str) -> None:
    quantity = code(text)
    direction = screen_direction(quantity, VERTICAL_MILL)
    tool = iso_sign(quantity, direction, VERTICAL_MILL, "tool")
    assert iso_sign(quantity, direction, VERTICAL_MILL, "work") == -tool


@pytest.mark.parametrize("axes", [FRONT_TOOL_LATHE, REAR_TOOL_LATHE, VERTICAL_MILL])
def test_axes_are_right_handed(axes: Axes) -> None:
    x, y, z = (axes.vector(axis) for axis in "XYZ")
    cross = (x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0])
    assert cross == z


@pytest.mark.parametrize(
    ("axes", "straightness", "rotation", "sign"),
    [
        (axes, straightness, rotation, sign)
        for axes in (FRONT_TOOL_LATHE, REAR_TOOL_LATHE, VERTICAL_MILL)
        for straightness, rotation, sign in [
            ("EZX", "EBX", -1),
            ("EYX", "ECX", 1),
            ("EZY", "EAY", 1),
            ("EXY", "ECY", -1),
            ("EYZ", "EAZ", -1),
            ("EXZ", "EBZ", 1),
        ]
    ],
)
def test_a_rotation_is_the_slope_of_its_straightness(axes: Axes, straightness: str, rotation: str, sign: int) -> None:
    """Rigid-body kinematics: a point further along the axis moves by rotation vector x axis vector."""
    moving, across = code(straightness).axis, code(straightness).direction
    w, r, d = axes.vector(code(rotation).direction), axes.vector(moving), axes.vector(across)
    moved = (w[1] * r[2] - w[2] * r[1], w[2] * r[0] - w[0] * r[2], w[0] * r[1] - w[1] * r[0])
    assert sum(a * b for a, b in zip(moved, d, strict=True)) == sign


def test_plain_words_follow_how_the_machine_stands() -> None:
    def word(text: str, axes: Axes) -> str:
        return plain_name(code(text), axes).key.split(".")[1]

    lathe = {text: word(text, FRONT_TOOL_LATHE) for text in ("EYZ", "EXZ", "ECZ", "EAZ", "EBZ", "EZZ")}
    assert lathe == {
        "EYZ": "height", "EXZ": "side", "ECZ": "roll", "EAZ": "pitch", "EBZ": "yaw", "EZZ": "position",
    }  # fmt: skip
    assert word("EXZ", VERTICAL_MILL) == "towards"
    assert plain_name(code("EYZ"), VERTICAL_MILL).facts == {"direction": "Y"}
    assert word("ECZ", VERTICAL_MILL) == "roll"


def test_operator_side_up_is_a_negative_roll_of_a_lathe_carriage() -> None:
    """+Z points right, so the right-hand roll about it takes the operator's side down."""
    assert positive_direction(code("ECZ"), FRONT_TOOL_LATHE) is Direction.OPERATOR_SIDE_DOWN


def test_a_direction_across_the_code_is_refused_in_words() -> None:
    with pytest.raises(BadInput, match="EYZ has no part in the direction towards-operator"):
        iso_sign(code("EYZ"), Direction.TOWARDS, FRONT_TOOL_LATHE)
    with pytest.raises(BadInput, match="is not an ISO 230-1 code"):
        code("EYW")
    with pytest.raises(BadInput, match="cannot point up"):
        Axes(up="+Y", operator="-Y")


def test_the_code_of_a_physical_direction() -> None:
    assert code_along(Direction.UP, "Z", FRONT_TOOL_LATHE).text == "EYZ"
    assert code_along(Direction.AWAY, "Z", FRONT_TOOL_LATHE).text == "EXZ"
    assert code_along(Direction.OPERATOR_SIDE_UP, "Z", FRONT_TOOL_LATHE).text == "ECZ"
    assert code_along(Direction.RIGHT_SIDE_UP, "Z", FRONT_TOOL_LATHE).text == "EAZ"
    assert code_along(Direction.UP, "X", VERTICAL_MILL).text == "EZX"
    assert code_along(Direction.OPERATOR_SIDE_DOWN, "X", VERTICAL_MILL).text == "EAX"
