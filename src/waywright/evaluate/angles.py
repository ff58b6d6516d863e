"""From angles to the shape of a way, and what can go wrong on the way: base and step, zero error, earth, sign, noise.

A carriage that follows a way turns with its tangent. For a rotation vector (A, B, C) and travel along an axis d the
tangent changes by (A, B, C) x d, so the slope of EYX is +ECX, of EZX -EBX, of EXY -ECY, of EZY +EAY, of EXZ +EBZ, of
EYZ -EAZ (right-hand system, ISO 841). This holds over the place of the moving part in space, counted along the
positive direction of the axis, whichever side moves: where the work moves, both signs turn over. Where positions run
the other way (a moving table read by its axis coordinate, a line counted from the far end) the slope turns over once.

What the sum of the angles gives is the shape of the guideway averaged over the length of the carriage. It is not the
straightness of the axis at the functional point, to which the angles times their arms add.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.results import Reason
from waywright.evaluate.steps import heights_from_slopes
from waywright.quantities import Axes, Direction, code

STEP_WARNING = 0.02
EARTH_RADIUS_MM = 6.371e9
"""Mean radius of the earth, 6371 km (IUGG); the local radius differs by at most 0.6 %."""

GUIDEWAY_AVERAGED = "guideway-averaged-over-the-carriage"

# Straightness -> (rotation, sign of the slope): rotation vector x direction of travel.
_PAIRS = {"EYX": ("ECX", 1), "EZX": ("EBX", -1), "EXY": ("ECY", -1), "EZY": ("EAY", 1), "EXZ": ("EBZ", 1), "EYZ": ("EAZ", -1)}  # fmt: skip # noqa: E501

_ALONG = {
    Direction.RIGHT: (1, 0, 0), Direction.LEFT: (-1, 0, 0), Direction.UP: (0, 1, 0), Direction.DOWN: (0, -1, 0),
    Direction.TOWARDS: (0, 0, 1), Direction.AWAY: (0, 0, -1),
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class GuidewayShape:
    """Heights (n,) or (n, draws) in um, the first 0, from a rotation; ``subject`` names what they are a shape of."""

    code: str
    from_rotation: str
    position_mm: FloatArray
    height_um: FloatArray
    subject: str = GUIDEWAY_AVERAGED

    @property
    def reason(self) -> Reason:
        """What a reader must know of it."""
        return Reason("angles.guideway_averaged", {"code": self.code, "rotation": self.from_rotation})


@dataclass(frozen=True, slots=True)
class BaseCheck:
    """Base length against step: ``largest_share`` is the largest |step - base| / base, ``at_step`` (from 1) where.

    Beyond two percent ``reason`` says so: steps leave gaps or overlap, and the heights no longer join.
    """

    base_mm: float
    largest_share: float
    at_step: int
    reason: Reason | None


@dataclass(frozen=True, slots=True, eq=False)
class LevelZero:
    """From two readings at one place, the level turned round in between: its zero error and the true tilt, um/m."""

    zero_um_per_m: PerDraw
    tilt_um_per_m: PerDraw


def slope_source(straightness: str) -> tuple[str, int]:
    """The rotation whose integral a straightness is, and the sign of its slope: EYZ -> ("EAZ", -1).

    Raises BadInput for a code that is no straightness.
    """
    wanted = code(straightness).text
    if wanted not in _PAIRS:
        raise BadInput("angles.no_straightness", code=wanted)
    return _PAIRS[wanted]


def travel_sense(axis: str, grows: Direction, axes: Axes) -> int:
    """+1 if positions of the moving part grow in the positive direction of ``axis``, -1 if against it.

    ``grows`` is where the moving part goes in space as positions grow. Raises BadInput for a direction across the axis.
    """
    along = sum(a * b for a, b in zip(axes.vector(axis), _ALONG.get(grows, (0, 0, 0)), strict=True))
    if along == 0:
        raise BadInput("angles.across", axis=axis, direction=grows.value)
    return along


def heights_from_rotation(
    straightness: str, position_mm: npt.ArrayLike, rotation_um_per_m: npt.ArrayLike, *, sense: int = 1
) -> GuidewayShape:
    """Shape of the guideway, averaged over the carriage, from an angular error motion in its ISO sign.

    ``straightness`` is the code of the direction wanted (EYZ on a flat-bed lathe's carriage); ``rotation_um_per_m``
    (n,) or (n, draws) is the rotation that :func:`slope_source` names; ``sense`` from :func:`travel_sense`.
    By the trapezoid rule. Raises BadInput like ``heights_from_slopes`` and for a code that is no straightness.
    """
    rotation, sign = slope_source(straightness)
    x = positions(position_mm, fewest=2)
    slope = sense * sign * values(rotation_um_per_m, x, name="rotation")
    return GuidewayShape(code(straightness).text, rotation, x, heights_from_slopes(x, slope))


def check_base(step_mm: npt.ArrayLike, base_mm: float) -> BaseCheck:
    """Compare steps, one number or (steps,), with the base length of bridge, level or reflector carriage.

    Raises BadInput for a base or a step that is not above zero.
    """
    step = np.atleast_1d(np.asarray(step_mm, dtype=np.float64))
    for number, length in enumerate([base_mm, *step.tolist()]):
        if not (np.isfinite(length) and length > 0.0):
            raise BadInput("evaluate.base_not_positive", base_mm=float(length), step=max(number, 1))
    share = np.abs(step - base_mm) / base_mm
    worst = int(share.argmax())
    largest = float(share[worst])
    facts = {"step_mm": float(step[worst]), "base_mm": base_mm, "share": largest, "step": worst + 1}
    reason = Reason("angles.step_differs", facts) if largest > STEP_WARNING * (1 + 1e-9) else None
    return BaseCheck(base_mm, largest, worst + 1, reason)


def level_zero(first_um_per_m: PerDraw, turned_um_per_m: PerDraw) -> LevelZero:
    """Zero error (A + B) / 2 and tilt (A - B) / 2 of a level read at one place and again turned by 180 degrees.

    The reversal finds the zero; which end is up it does not say.
    """
    first, turned = np.asarray(first_um_per_m, dtype=np.float64), np.asarray(turned_um_per_m, dtype=np.float64)
    return LevelZero(((first + turned) / 2)[()], ((first - turned) / 2)[()])


def without_earth_curvature(position_mm: npt.ArrayLike, height_um: npt.ArrayLike) -> FloatArray:
    """Heights from a level, (n,) or (n, draws), as a beam would see them.

    A level follows the surface of still water, which falls below its tangent by x^2 / 2R: a way that is level all
    along is a bow of L^2 / 8R for a beam, 7.8 um over 20 m. Taken about the first position, so that the first height
    stays; heights are positive upwards.
    """
    x = positions(position_mm, fewest=1)
    height = values(height_um, x, name="height")
    fall_um = (x - x[0]) ** 2 / (2.0 * EARTH_RADIUS_MM) * 1000.0
    return np.asarray(height - fall_um.reshape(-1, *[1] * (height.ndim - 1)))


def summed_noise_um(tilt_sd_um_per_m: float, base_mm: float, steps: int) -> FloatArray:
    """Standard deviation (steps + 1,) in um of summed steps about their end line, for independent tilts.

    ``sigma b sqrt(k (n - k) / n)`` after k of n steps: largest in the middle, ``sigma b sqrt(n) / 2``.
    """
    k = np.arange(steps + 1, dtype=np.float64)
    return np.asarray(tilt_sd_um_per_m * base_mm / 1000.0 * np.sqrt(k * (steps - k) / steps))
