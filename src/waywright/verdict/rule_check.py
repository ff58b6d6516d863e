"""Checking one part of a rule against a result: value, limit, and whether it holds, or why it is not judged."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np

from waywright.evaluate import local_straightness
from waywright.verdict.rule_records import Lean, Limit, Part, Shape, Slope, Steps

_OPPOSITES = {
    "up": "down",
    "right": "left",
    "towards operator": "away from operator",
    "operator": "far side",
    "headstock": "tailstock",
}
_OPPOSITE = _OPPOSITES | {b: a for a, b in _OPPOSITES.items()}


def _plain(name: str) -> str:
    """A place or direction without its article, as Direction codes write it too: ``towards-operator``."""
    return " ".join(word for word in name.lower().replace("-", " ").split() if word not in ("the", "to"))


def _names(given: str | tuple[str, ...]) -> frozenset[str]:
    return frozenset(_plain(name) for name in ((given,) if isinstance(given, str) else given))


@dataclass(frozen=True, slots=True)
class Sight:
    """Where positive deviations point, and what lies ahead of and behind the line."""

    positive: frozenset[str]
    ahead: frozenset[str]
    behind: frozenset[str]

    @classmethod
    def of(cls, positive: str | tuple[str, ...], ahead: str | tuple[str, ...], behind: str | tuple[str, ...]) -> Sight:
        """From names as people and Direction codes write them."""
        return cls(_names(positive), _names(ahead), _names(behind))

    def sign_of_direction(self, direction: str) -> int:
        """+1 if positive deviations point there, -1 if away from it, 0 if that is not known."""
        return _sign(_plain(direction), self.positive, frozenset())

    def sign_of_place(self, place: str) -> int:
        """+1 if positions grow towards the place, -1 if away from it, 0 if that is not known."""
        return _sign(_plain(place), self.ahead, self.behind)


def _sign(name: str, there: frozenset[str], opposite: frozenset[str]) -> int:
    if name in there:
        return 1
    return -1 if name in opposite or _OPPOSITE.get(name) in there else 0


@dataclass(frozen=True, slots=True)
class PartCheck:
    """One part of the rule checked: ``value`` against ``limit`` in ``unit`` ("um" or "um/m").

    For many draws at once ``value`` and ``holds`` have shape (draws,). ``start_mm`` is where a local window begins.
    ``holds`` is None where the part is not judged; ``key`` and ``facts`` then say why.
    """

    part: str
    value: Any = None
    limit: float | None = None
    unit: str = "um"
    holds: Any = None
    start_mm: Any = None
    key: str | None = None
    facts: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RuleCheck:
    """A whole rule checked."""

    rule: str
    parts: tuple[PartCheck, ...]

    @property
    def holds(self) -> Any:
        """Whether all parts hold, per draw where there are several; None where a part is not judged and none fails."""
        judged = [part.holds for part in self.parts if part.holds is not None]
        together: Any = True
        for holds in judged:
            together = together & holds
        if len(judged) == len(self.parts) or together is False:
            return together
        return None

    @property
    def worst(self) -> PartCheck | None:
        """The judged part that uses most of its limit (for many draws: on average)."""
        judged = [part for part in self.parts if part.holds is not None and part.limit is not None]
        return max(judged, key=_use, default=None)


def _use(part: PartCheck) -> float:
    value = float(part.value.mean()) if hasattr(part.value, "mean") else float(part.value)
    limit = float(part.limit or 0.0)
    return value / limit if limit > 0.0 else (float("inf") if value > 0.0 else 0.0)


def check_part(part: Part, result: Any, sight: Sight, length_mm: float | None) -> PartCheck:
    """One part against a result."""
    if isinstance(part, Shape):
        return _check_shape(part, result, sight)
    if isinstance(part, (Slope, Lean)):
        return _check_slope(part, result, sight)
    if part.window_mm is not None:
        return _check_local(part, result)
    return _check_limit(part, result, length_mm)


def _unjudged(part: Part, reason: str, **facts: object) -> PartCheck:
    return PartCheck(str(part), key=f"verdict.not_judged_{reason}", facts={"part": str(part), **facts})


def _judged(part: Part, value: Any, limit: float, unit: str = "um", start_mm: Any = None) -> PartCheck:
    return PartCheck(str(part), value, limit, unit, _at_most(value, limit), start_mm)


def _at_most(value: Any, limit: float) -> Any:
    holds = value <= limit
    return holds if getattr(holds, "ndim", 0) else bool(holds)


def _value_of(result: Any) -> Any:
    for name in ("value_um", "diameter_um"):
        if hasattr(result, name):
            return getattr(result, name)
    return result if isinstance(result, (int, float)) or hasattr(result, "dtype") else None


def _angle_of(result: Any) -> Any:
    for name in ("angle_um_per_m", "total_um_per_m"):
        if hasattr(result, name):
            return getattr(result, name)
    return None


def _length_of(result: Any) -> float | None:
    position = getattr(result, "position_mm", None)
    return None if position is None else float(position.max() - position.min())


def _is_curve(result: Any) -> bool:
    return all(hasattr(result, name) for name in ("position_mm", "deviation_um", "line"))


def _check_limit(part: Limit, result: Any, length_mm: float | None) -> PartCheck:
    angle = _angle_of(result)
    if angle is not None:
        limit = part.limit_um_per_m()
        return _unjudged(part, "needs_angle") if limit is None else _judged(part, abs(angle), limit, "um/m")
    length = length_mm if length_mm is not None else _length_of(result)
    if length is None:
        if isinstance(part.base, Steps) or part.limit_um_per_m() is not None:
            return _unjudged(part, "needs_length")
        length = 1.0  # a fixed limit does not look at it
    if isinstance(part.base, Steps) and part.base.further is None and length > part.base.steps[-1].up_to_mm:
        return _unjudged(part, "length", length_mm=length, up_to_mm=part.base.steps[-1].up_to_mm)
    value = _value_of(result)
    return _unjudged(part, "needs_curve") if value is None else _judged(part, value, part.limit_um(length))


def _check_local(part: Limit, result: Any) -> PartCheck:
    if not _is_curve(result):
        return _unjudged(part, "needs_curve")
    window_mm = float(part.window_mm or 0.0)
    limit = part.limit_um(window_mm)
    if window_mm >= float(_length_of(result) or 0.0):  # the whole line lies within one window
        return _judged(part, result.value_um, limit, start_mm=float(result.position_mm.min()))
    local = local_straightness(result.position_mm, result.deviation_um, window_mm)
    if local.value_um is None:
        return _unjudged(part, "stations", window_mm=window_mm, spacing_mm=local.spacing_mm)
    return _judged(part, local.value_um, limit, start_mm=local.start_mm)


def _check_shape(part: Shape, result: Any, sight: Sight) -> PartCheck:
    """How far the curve lies on the wrong side of the line through its ends; the limit is zero."""
    if not _is_curve(result):
        return _unjudged(part, "needs_curve")
    up = sight.sign_of_direction("up")
    if up == 0:
        return _unjudged(part, "needs_direction")
    order = np.argsort(result.position_mm, kind="stable")
    x, y = result.position_mm[order], result.deviation_um[order] * (up if part.convex else -up)
    share = (x - x[0]) / (x[-1] - x[0])
    chord = (y[0] + np.multiply.outer(share, y[-1] - y[0])) if y.ndim > 1 else y[0] + share * (y[-1] - y[0])
    return _judged(part, (chord - y)[1:-1].max(axis=0).clip(min=0.0), 0.0)


def _check_slope(part: Slope | Lean, result: Any, sight: Sight) -> PartCheck:
    """How far the line (or the angle) goes the wrong way, in um/m; the limit is zero."""
    angle = _angle_of(result)
    if angle is None:
        if not _is_curve(result):
            return _unjudged(part, "needs_curve")
        angle = result.line.slope_um_per_m
    if isinstance(part, Lean):
        sign = sight.sign_of_direction(part.direction)
    else:
        along = sight.sign_of_place(part.place)
        if along == 0:
            return _unjudged(part, "needs_place", place=part.place)
        sign = sight.sign_of_direction("up") * along * (1 if part.rising else -1)
    if sign == 0:
        return _unjudged(part, "needs_direction")
    wrong_way = -sign * angle
    return _judged(part, wrong_way.clip(min=0.0) if hasattr(wrong_way, "clip") else max(0.0, wrong_way), 0.0, "um/m")
