"""What gravity or its direction makes special: ram droop, and the roll of a vertical axis, where no level works."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit
from waywright.evaluate.results import Reason
from waywright.quantities import code

_SIGN = {"XYZ": 1, "YZX": 1, "ZXY": 1}  # (about, arm, motion) in cyclic order


@dataclass(frozen=True, slots=True, eq=False)
class RamDroop:
    """Heights of a ram's end against its extension, weight compensation off and on; figures floats or (draws,).

    All heights (n,) or (n, draws) are taken from the least extension, where both are 0; positive is up.
    ``difference_um`` is on minus off: what the compensation lifts. Slopes are those of the least-squares lines.
    ``off_lowest_um`` and ``on_lowest_um``: the lowest height; ``on_highest_um``: where it lifts too much.
    """

    extension_mm: FloatArray
    off_um: FloatArray
    on_um: FloatArray
    difference_um: FloatArray
    off_slope_um_per_m: PerDraw
    on_slope_um_per_m: PerDraw
    difference_slope_um_per_m: PerDraw
    off_lowest_um: PerDraw
    on_lowest_um: PerDraw
    on_highest_um: PerDraw


@dataclass(frozen=True, slots=True, eq=False)
class RollFromLines:
    """Roll (n,) or (n, draws) in um/m about the axis of motion, ISO sign, from two straightness lines on offset arms.

    The mean roll is never known this way. Without a common reference (``same_reference`` False) each line has a tilt
    of its own: what grows evenly is taken out, and ``reason`` says so. ``noise_um_per_m`` is the standard uncertainty
    of one value, before lines are taken out; None where the noise of the readings is not known.
    """

    code: str
    from_code: str
    arm_mm: float
    position_mm: FloatArray
    roll_um_per_m: FloatArray
    same_reference: bool
    noise_um_per_m: float | None
    reason: Reason | None


def ram_droop(extension_mm: npt.ArrayLike, off_um: npt.ArrayLike, on_um: npt.ArrayLike) -> RamDroop:
    """Droop of a ram from its heights at the same extensions, at least three, compensation off and on.

    Positive is up. Raises BadInput like ``straightness``, for sets of different shape and repeated extensions.
    """
    x = positions(extension_mm)
    off, on = values(off_um, x, name="off"), values(on_um, x, name="on")
    if off.shape != on.shape:
        raise BadInput("geometry.sets_differ", first=off.shape, second=on.shape)
    ordered = np.sort(x)
    for twice in ordered[:-1][np.diff(ordered) == 0.0][:1]:
        raise BadInput("evaluate.position_repeated", position_mm=float(twice))
    first = int(x.argmin())
    off, on = off - off[first], on - on[first]
    return RamDroop(
        x, off, on, on - off, _slope(x, off), _slope(x, on), _slope(x, on - off),
        off.min(axis=0)[()], on.min(axis=0)[()], on.max(axis=0)[()],
    )  # fmt: skip


def roll_from_lines(
    straightness: str,
    position_mm: npt.ArrayLike,
    first_um: npt.ArrayLike,
    second_um: npt.ArrayLike,
    arm_mm: float,
    *,
    same_reference: bool = False,
    first_sd_um: float | None = None,
    second_sd_um: float | None = None,
) -> RollFromLines:
    """Roll of an axis from two lines of one straightness (EYZ or EXZ of a vertical Z), read at two arms.

    ``arm_mm`` is where the second line lies minus where the first does, along the machine axis that is neither the axis
    of motion nor the direction read, sign included. ``same_reference``: both lines were read against one reference
    whose sides are parallel (one beam, one straightedge moved over with a known angle). Raises BadInput like
    ``straightness``, for a code that is no straightness and an arm of zero.
    """
    wanted = code(straightness)
    if not wanted.is_straightness:
        raise BadInput("angles.no_straightness", code=wanted.text)
    if not np.isfinite(arm_mm) or arm_mm == 0.0:
        raise BadInput("geometry.no_arm", arm_mm=arm_mm)
    x = positions(position_mm)
    first, second = values(first_um, x, name="first"), values(second_um, x, name="second")
    if first.shape != second.shape:
        raise BadInput("geometry.sets_differ", first=first.shape, second=second.shape)
    arm_axis = next(one for one in "XYZ" if one not in (wanted.axis, wanted.direction))
    sign = _SIGN.get(wanted.axis + arm_axis + wanted.direction, -1)
    roll = sign * (second - first) / arm_mm * 1000.0
    columns = np.column_stack([np.ones_like(x), *([] if same_reference else [x])])
    rest = fit(columns, roll).residual
    noise = None
    if first_sd_um is not None and second_sd_um is not None:
        noise = float(np.hypot(first_sd_um, second_sd_um)) / abs(arm_mm) * 1000.0
    name = f"E{'ABC'['XYZ'.index(wanted.axis)]}{wanted.axis}"
    reason = None if same_reference else Reason("geometry.even_roll_unknown", {"code": name})
    return RollFromLines(name, wanted.text, arm_mm, x, rest, same_reference, noise, reason)


def _slope(x: FloatArray, y: FloatArray) -> PerDraw:
    return (fit(np.column_stack([np.ones_like(x), x]), y).coefficient[1] * 1000.0)[()]
