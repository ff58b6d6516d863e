"""Arrays in: what the evaluation accepts, checked once at the door.

Station axis first: ``(n,)`` is one profile, ``(n, draws)`` many at the same positions.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput

FloatArray: TypeAlias = npt.NDArray[np.float64]
IntArray: TypeAlias = npt.NDArray[np.int64]

PerDraw: TypeAlias = Any
"""A float for one profile, an array of shape (draws,) for many."""

FEWEST_STATIONS = 3


@dataclass(frozen=True, slots=True)
class Places:
    """Positions (n,), read-only, whether they increase throughout, and the first and last along the axis."""

    x: FloatArray
    increasing: bool
    low: float
    high: float

    @property
    def middle(self) -> float:
        """Half-way between the ends."""
        return self.low + (self.high - self.low) / 2


def places(position_mm: npt.ArrayLike, fewest: int = FEWEST_STATIONS) -> Places:
    """A read-only copy of the positions, shape (n,), finite, with at least ``fewest`` different ones."""
    x = np.array(position_mm, dtype=np.float64)
    if x.ndim != 1:
        raise BadInput("evaluate.positions_shape", shape=x.shape)
    if not np.isfinite(x).all():
        station = int(np.flatnonzero(~np.isfinite(x))[0])
        raise BadInput("evaluate.position_not_a_number", station=station + 1)
    increasing = bool((x[1:] > x[:-1]).all())
    if x.size < fewest or (not increasing and np.unique(x).size < fewest):
        raise BadInput("evaluate.too_few_stations", needed=fewest, stations=int(np.unique(x).size))
    x.flags.writeable = False
    if increasing:
        return Places(x, True, float(x[0]), float(x[-1]))
    return Places(x, False, float(x.min()), float(x.max()))


def positions(position_mm: npt.ArrayLike, fewest: int = FEWEST_STATIONS) -> FloatArray:
    """The checked positions alone."""
    return places(position_mm, fewest).x


def values(value: npt.ArrayLike, position_mm: FloatArray, *, name: str = "deviation") -> FloatArray:
    """A read-only copy of values at the positions, shape (n,) or (n, draws), finite."""
    y = np.array(value, dtype=np.float64)
    if y.ndim not in (1, 2) or (y.ndim == 2 and y.shape[1] == 0):
        raise BadInput("evaluate.values_shape", name=name, shape=y.shape)
    if y.shape[0] != position_mm.size:
        raise BadInput("evaluate.lengths_differ", name=name, positions=int(position_mm.size), values=y.shape[0])
    if not np.isfinite(y).all():
        station = int(np.argwhere(~np.isfinite(y))[0][0])
        raise BadInput("evaluate.not_a_number", name=name, station=station + 1, position_mm=float(position_mm[station]))
    y.flags.writeable = False
    return y
