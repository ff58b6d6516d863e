"""Three kinds of sign that are never mixed: the ISO sign, the physical direction, the detector's own sign.

Physical directions are those a person standing at the machine sees, in the right-handed frame (right, up, towards):
right and left as seen by the operator, up and down, towards and away from the operator. Rotations are named by the
side that rises (a level's view), or as seen from above.

ISO sign (ISO 841, ISO 230-1): positive is the positive direction of the machine axis, tool side relative to work side.
On a flat-bed lathe with the tool on the operator's side +Y points down; where the work side carries the detector the
sign turns over.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waywright.errors import BadInput
from waywright.quantities.codes import Code, code

Vector = tuple[int, int, int]


class Direction(StrEnum):
    """A physical direction of a displacement or of a rotation."""

    UP = "up"
    DOWN = "down"
    TOWARDS = "towards-operator"
    AWAY = "away-from-operator"
    RIGHT = "right"
    LEFT = "left"
    OPERATOR_SIDE_UP = "operator-side-up"
    OPERATOR_SIDE_DOWN = "operator-side-down"
    RIGHT_SIDE_UP = "right-side-up"
    RIGHT_SIDE_DOWN = "right-side-down"
    ANTICLOCKWISE = "anticlockwise-from-above"
    CLOCKWISE = "clockwise-from-above"


# Displacements as unit vectors, rotations as right-hand rotation vectors, in (right, up, towards the operator).
_DISPLACEMENT: dict[Direction, Vector] = {
    Direction.UP: (0, 1, 0),
    Direction.DOWN: (0, -1, 0),
    Direction.TOWARDS: (0, 0, 1),
    Direction.AWAY: (0, 0, -1),
    Direction.RIGHT: (1, 0, 0),
    Direction.LEFT: (-1, 0, 0),
}
# A rotation w lifts the side r when w x r = up: w = -right lifts the operator's side, w = towards lifts the right.
_ROTATION: dict[Direction, Vector] = {
    Direction.OPERATOR_SIDE_UP: (-1, 0, 0),
    Direction.OPERATOR_SIDE_DOWN: (1, 0, 0),
    Direction.RIGHT_SIDE_UP: (0, 0, 1),
    Direction.RIGHT_SIDE_DOWN: (0, 0, -1),
    Direction.ANTICLOCKWISE: (0, 1, 0),
    Direction.CLOCKWISE: (0, -1, 0),
}
# What screens and reports call positive, whatever the ISO sign is.
_ON_SCREEN = (
    Direction.UP,
    Direction.TOWARDS,
    Direction.RIGHT,
    Direction.OPERATOR_SIDE_UP,
    Direction.RIGHT_SIDE_UP,
    Direction.ANTICLOCKWISE,
)


@dataclass(frozen=True, slots=True)
class Axes:
    """How a machine's ISO 841 axes lie: which signed axis points up, which towards the operator.

    ``up="-Y", operator="+X"`` is a flat-bed lathe with the tool on the operator's side. The third axis follows from
    the right-hand rule. Raises BadInput for anything that is not two different signed axes.
    """

    up: str
    operator: str

    def __post_init__(self) -> None:
        for value in (self.up, self.operator):
            if len(value) != 2 or value[0] not in "+-" or value[1] not in "XYZ":
                raise BadInput("quantities.bad_axis", value=value)
        if self.up[1] == self.operator[1]:
            raise BadInput("quantities.same_axis", up=self.up, operator=self.operator)

    def vector(self, axis: str) -> Vector:
        """Where the positive direction of ``axis`` (X, Y or Z) points in (right, up, towards)."""
        for signed, physical in ((self.up, Direction.UP), (self.operator, Direction.TOWARDS)):
            if signed[1] == axis:
                return _scaled(_DISPLACEMENT[physical], -1 if signed[0] == "-" else 1)
        following = "XYZXY"["XYZ".index(axis) + 1 :]
        return _cross(self.vector(following[0]), self.vector(following[1]))

    @property
    def vertical(self) -> str:
        """The letter of the vertical axis."""
        return self.up[1]


def iso_sign(quantity: Code, direction: Direction, axes: Axes, detector_side: str = "tool") -> int:
    """Factor from a value that is positive in ``direction`` to the ISO sign of ``quantity``: +1 or -1.

    ``detector_side`` is what carries the detector, "tool" or "work". Raises BadInput if the direction does not lie
    along the code's own axis.
    """
    table = _ROTATION if quantity.is_rotation else _DISPLACEMENT
    along = _dot(table[direction], axes.vector(quantity.direction)) if direction in table else 0
    if along == 0:
        raise BadInput("quantities.direction_across", code=quantity.text, direction=direction.value)
    return along if detector_side == "tool" else -along


def positive_direction(quantity: Code, axes: Axes) -> Direction:
    """The physical direction in which the ISO sign of ``quantity`` is positive (tool side relative to work side)."""
    table = _ROTATION if quantity.is_rotation else _DISPLACEMENT
    wanted = axes.vector(quantity.direction)
    return next(direction for direction, vector in table.items() if vector == wanted)


def code_along(direction: Direction, moving_axis: str, axes: Axes) -> Code:
    """The ISO 230-1 code of a motion in (or a rotation named by) a physical direction, for a moving axis.

    On a flat-bed lathe's carriage (Z), UP gives EYZ and OPERATOR_SIDE_UP gives ECZ.
    """
    rotation = direction in _ROTATION
    wanted = (_ROTATION if rotation else _DISPLACEMENT)[direction]
    letter = next(axis for axis in "XYZ" if _dot(axes.vector(axis), wanted) != 0)
    return code("E" + ("ABC"["XYZ".index(letter)] if rotation else letter) + moving_axis)


def screen_direction(quantity: Code, axes: Axes) -> Direction:
    """The direction that screens, tolerance phrases and reports call positive: up, towards, right, side up."""
    table = _ROTATION if quantity.is_rotation else _DISPLACEMENT
    wanted = axes.vector(quantity.direction)
    return next(d for d in _ON_SCREEN if d in table and _dot(table[d], wanted) != 0)


def _scaled(vector: Vector, factor: int) -> Vector:
    return (vector[0] * factor, vector[1] * factor, vector[2] * factor)


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _dot(a: Vector, b: Vector) -> int:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
