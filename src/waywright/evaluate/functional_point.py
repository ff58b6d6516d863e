"""What the tool sees: deviations carried from where they were read to the functional point, by all three rotations.

A rigid body that moves by (X, Y, Z) at one point and turns by (A, B, C) moves at another, r away, by

    X + B rz - C ry,   Y + C rx - A rz,   Z + A ry - B rx

with r = (rx, ry, rz) along the machine's positive axes (right-hand system, ISO 841). ISO error motions are those of
the tool side relative to the work side, so the same holds whichever side moves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions, values
from waywright.evaluate.results import Reason
from waywright.quantities import Axes, Direction, code, iso_sign

# Direction of the motion -> ((letter of the rotation, its sign, component of the arm), ...): the vector product.
_ARMS = {"X": (("B", 1, 2), ("C", -1, 1)), "Y": (("C", 1, 0), ("A", -1, 2)), "Z": (("A", 1, 1), ("B", -1, 0))}
_SIDES = (Direction.RIGHT, Direction.UP, Direction.TOWARDS)

Offset = tuple[float, float, float]


@dataclass(frozen=True, slots=True, eq=False)
class AtFunctionalPoint:
    """Deviations (n,) or (n, draws) in um at the functional point, ISO sign of ``code``.

    ``offset_mm`` (X, Y, Z) or (n, 3) from where the deviations were read to that point. ``share_um`` holds what each
    rotation brought. ``missing`` names rotations that have an arm and were not measured; ``reason`` says so.
    """

    code: str
    position_mm: FloatArray
    deviation_um: FloatArray
    offset_mm: FloatArray
    share_um: Mapping[str, FloatArray]
    missing: tuple[str, ...]
    reason: Reason | None


@dataclass(frozen=True, slots=True, eq=False)
class LevelPlaces:
    """Inclination in mm/m at each position (n,): along the motion and across it; None where it was not measured.

    Positive: the side that ``along_up`` or ``across_up`` names is higher.
    """

    position_mm: FloatArray
    along_mm_per_m: FloatArray | None
    across_mm_per_m: FloatArray | None
    along_up: Direction
    across_up: Direction


def at_functional_point(
    name: str,
    position_mm: npt.ArrayLike,
    deviation_um: npt.ArrayLike,
    rotations_um_per_m: Mapping[str, npt.ArrayLike],
    offset_mm: npt.ArrayLike,
) -> AtFunctionalPoint:
    """Carry a straightness or positioning (n,) or (n, draws) to the functional point.

    ``rotations_um_per_m`` by code (EAZ, EBZ, ECZ for an axis Z), same shape, ISO signs. ``offset_mm`` along the
    machine's X, Y, Z: (3,), or (n, 3) where the arm changes with the position (a point fixed to the side that stands).
    Raises BadInput for a rotation as ``name``, a rotation of another axis and an offset of another shape.
    """
    wanted = code(name)
    if wanted.is_rotation:
        raise BadInput("geometry.no_displacement", code=wanted.text)
    x = positions(position_mm, fewest=1)
    seen = values(deviation_um, x)
    given = {_rotation(each, wanted.axis): values(turn, x, name=each) for each, turn in rotations_um_per_m.items()}
    arm = _offset(offset_mm, x)
    share, missing = {}, []
    for letter, sign, component in _ARMS[wanted.direction]:
        turn = f"E{letter}{wanted.axis}"
        if turn in given:
            share[turn] = sign * given[turn] * (arm[:, component] / 1000.0).reshape(-1, *[1] * (seen.ndim - 1))
        elif np.any(arm[:, component] != 0.0):
            missing.append(turn)
    total = sum(share.values(), np.array(seen))
    reason = Reason("geometry.rotation_missing", {"code": wanted.text, "rotations": ", ".join(missing)})
    return AtFunctionalPoint(
        wanted.text, x, total, arm[0] if _constant(arm) else arm, share, tuple(missing), reason if missing else None
    )


def offset_along_axes(right_mm: float, up_mm: float, towards_mm: float, axes: Axes) -> Offset:
    """An offset as seen by the operator (right, up, towards) along the machine's positive X, Y, Z."""
    seen = (right_mm, up_mm, towards_mm)
    x, y, z = (float(np.dot(axes.vector(axis), seen)) for axis in "XYZ")
    return x, y, z


def level_places(
    axis: str, position_mm: npt.ArrayLike, rotations_um_per_m: Mapping[str, npt.ArrayLike], axes: Axes
) -> LevelPlaces:
    """Level along and across at each place, from the pitch and the roll (ISO signs) of a horizontal axis.

    A rotation that is missing gives None. Raises BadInput for a vertical axis: no level works there.
    """
    if axis == axes.vertical:
        raise BadInput("geometry.no_level_on_vertical", axis=axis)
    x = positions(position_mm, fewest=1)
    right = abs(axes.vector(axis)[0]) == 1
    along = Direction.RIGHT_SIDE_UP if right else Direction.OPERATOR_SIDE_UP
    across = Direction.OPERATOR_SIDE_UP if right else Direction.RIGHT_SIDE_UP
    level_axis = next(one for one in "XYZ" if one not in (axis, axes.vertical))
    names = f"E{'ABC'['XYZ'.index(level_axis)]}{axis}", f"E{'ABC'['XYZ'.index(axis)]}{axis}"
    found = []
    for name, up in zip(names, (along, across), strict=True):
        turn = rotations_um_per_m.get(name)
        sign = iso_sign(code(name), up, axes)
        found.append(None if turn is None else sign * values(turn, x, name=name) / 1000.0)
    return LevelPlaces(x, found[0], found[1], along, across)


def _rotation(name: str, axis: str) -> str:
    found = code(name)
    if not found.is_rotation or found.axis != axis:
        raise BadInput("geometry.rotation_of_another", code=found.text, axis=axis)
    return found.text


def _offset(offset_mm: npt.ArrayLike, x: FloatArray) -> FloatArray:
    arm = np.asarray(offset_mm, dtype=np.float64)
    if arm.shape not in ((3,), (x.size, 3)) or not np.isfinite(arm).all():
        raise BadInput("geometry.offset_shape", shape=arm.shape, stations=x.size)
    return np.broadcast_to(arm, (x.size, 3))


def _constant(arm: FloatArray) -> bool:
    return bool((arm == arm[0]).all())
