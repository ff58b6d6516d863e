"""What the contributions of a budget do to readings at places of a surface or along an axis, and to tilts between them.

The same contributions as on a line (see ``effects``); what bends a line bends a surface about its middle.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty.contribution import Acts, Budget, Contribution
from waywright.uncertainty.effects import AIR_UM, IRON_UM, Effect, wave

_MILLI = 1e-3
_NEEDED = {Acts.ABBE: "angle_um_per_m", Acts.ROLL: "cross_um"}


@dataclass(frozen=True, slots=True, eq=False)
class Points:
    """Readings (n,) at ``place_mm`` (n, 2), in the order in which they were read unless ``time`` (n,), 0 to 1, says."""

    place_mm: FloatArray
    reading: FloatArray
    time: FloatArray | None = None

    @property
    def share(self) -> FloatArray:
        """Share of the time."""
        return np.linspace(0.0, 1.0, self.reading.size) if self.time is None else self.time

    @property
    def along_m(self) -> FloatArray:
        """Distance from the first place."""
        return np.asarray(np.linalg.norm(self.place_mm - self.place_mm[0], axis=1) * _MILLI)

    @property
    def off_middle_m(self) -> FloatArray:
        """Distance from the middle."""
        return np.asarray(np.linalg.norm(self.place_mm - _middle(self.place_mm), axis=1) * _MILLI)


@dataclass(frozen=True, slots=True, eq=False)
class Tilts:
    """Tilts (n,) in um/m, each over a base (n,) from one place (n, 2) to another, in the order read."""

    start_mm: FloatArray
    end_mm: FloatArray
    reading: FloatArray

    @property
    def base_m(self) -> FloatArray:
        """Length of each base."""
        return np.asarray(np.linalg.norm(self.end_mm - self.start_mm, axis=1) * _MILLI)

    @property
    def bent(self) -> FloatArray:
        """Tilt by a curvature of one um/m2: how far the middle of each base lies from the surface's, along it."""
        along = (self.end_mm - self.start_mm) * _MILLI / self.base_m[:, np.newaxis]
        centre = (self.start_mm + self.end_mm) / 2.0
        return np.asarray(((centre - _middle(centre)) * _MILLI * along).sum(axis=1))


def _middle(place_mm: FloatArray) -> FloatArray:
    return np.asarray((place_mm.max(axis=0) + place_mm.min(axis=0)) / 2.0)


def _bowl(points: Points) -> FloatArray:
    size = float(points.off_middle_m.max()) or 1.0
    return np.asarray(1.0 - (points.off_middle_m / size) ** 2)


_RANDOM: dict[Acts, Callable[[Points], FloatArray]] = {
    Acts.READING: lambda p: np.eye(p.reading.size),
    Acts.STEP: lambda p: np.eye(p.reading.size),
    Acts.TURBULENCE: lambda p: np.diag((p.along_m / 10.0) ** 1.5),
}
_ALIKE: dict[Acts, Callable[[Points], FloatArray]] = {
    Acts.DRIFT_OFFSET: lambda p: p.share,
    Acts.DRIFT_ANGLE: lambda p: p.share * p.along_m,
    Acts.AIR_GRADIENT: lambda p: AIR_UM * p.along_m**2 / 2.0,
    Acts.BED_GRADIENT: lambda p: IRON_UM * p.off_middle_m**2 / 2.0,
    Acts.BOW: _bowl,
    Acts.TILT: lambda p: p.along_m,
}


def effects_on_points(budget: Budget, points: Points) -> tuple[Effect, ...]:
    """The action of every contribution on readings at places; tilts and joins do nothing to them.

    Raises BadInput for a contribution that needs the carriage's angle or a second deviation.
    """
    return tuple(_on_points(one, points) for one in budget.contribution)


def _on_points(one: Contribution, points: Points) -> Effect:
    if one.acts in _RANDOM:
        return Effect(one, random=_RANDOM[one.acts](points))
    if one.acts in _ALIKE:
        return Effect(one, column=_ALIKE[one.acts](points))
    if one.acts is Acts.SCALE:
        return Effect(one, column=points.reading - points.reading.mean(), on_reading=True)
    if one.acts is Acts.NONLINEARITY:
        return Effect(one, random=wave(points.reading), on_reading=True)
    return _nothing(one, points.reading.size)


_TILTED: dict[Acts, Callable[[Tilts], FloatArray]] = {
    Acts.TILT: lambda t: np.ones(t.reading.size),
    Acts.DRIFT_ANGLE: lambda t: np.linspace(0.0, 1.0, t.reading.size),
    Acts.BED_GRADIENT: lambda t: IRON_UM * t.bent,
}


def effects_on_tilts(budget: Budget, tilts: Tilts) -> tuple[Effect, ...]:
    """The action of every contribution on tilts, in um/m; a foot a little off its place tilts by that over its base."""
    return tuple(_on_tilts(one, tilts, budget.reads) for one in budget.contribution)


def _on_tilts(one: Contribution, tilts: Tilts, reads: str) -> Effect:
    angle = one.acts is Acts.STEP_ANGLE or (one.acts is Acts.READING and reads == "um/m")
    if angle or one.acts is Acts.STEP:
        return Effect(one, random=np.diag(1.0 / (1.0 if angle else tilts.base_m) * np.ones(tilts.reading.size)))
    if one.acts in _TILTED:
        return Effect(one, column=_TILTED[one.acts](tilts))
    if one.acts is Acts.SCALE:
        return Effect(one, column=tilts.reading, on_reading=True)
    return _nothing(one, tilts.reading.size)


def _nothing(one: Contribution, size: int) -> Effect:
    missing = _NEEDED.get(one.acts)
    if missing is not None and one.value > 0.0:
        raise BadInput("uncertainty.contribution_needs", name=one.name, missing=missing)
    return Effect(one, column=np.zeros(size))
