"""Records of the evaluation. Frozen; figures are floats for one profile and arrays (draws,) for many."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray, PerDraw


@dataclass(frozen=True, slots=True, eq=False)
class ReferenceLine:
    """A straight line that deviations are taken from.

    ``offset_um`` is its height at position 0 mm, ``slope_um_per_m`` its direction.
    """

    offset_um: PerDraw
    slope_um_per_m: PerDraw

    def at(self, position_mm: npt.ArrayLike) -> FloatArray:
        """Height in um at positions (n,): (n,) or (n, draws)."""
        x = np.asarray(position_mm, dtype=np.float64)
        slope = np.asarray(self.slope_um_per_m) / 1000.0
        return np.asarray(self.offset_um + (np.multiply.outer(x, slope)))


@dataclass(frozen=True, slots=True, eq=False)
class Straightness:
    """Straightness about one reference line (ISO 230-1): ``value_um`` = ``largest_um`` - ``smallest_um``.

    Positive deviations lie above the line, in the sign of the deviations that came in. ``stations`` readings stood
    between ``start_mm`` and ``end_mm``.
    """

    reference: str
    value_um: PerDraw
    largest_um: PerDraw
    smallest_um: PerDraw
    line: ReferenceLine
    stations: int
    start_mm: float
    end_mm: float
    _position_mm: FloatArray = field(repr=False)
    _measured_um: FloatArray = field(repr=False)
    _pivot_mm: float = field(repr=False)
    _level_um: PerDraw = field(repr=False)
    _slope_um_per_mm: PerDraw = field(repr=False)

    @property
    def position_mm(self) -> FloatArray:
        """Positions of the stations, in the order of the input."""
        return self._position_mm

    @property
    def deviation_um(self) -> FloatArray:
        """Deviations from the line, in the order and shape of the input; computed when asked."""
        from_pivot = np.multiply.outer(self._position_mm - self._pivot_mm, self._slope_um_per_mm)
        return np.asarray((self._measured_um - from_pivot) - self._level_um)


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something was not judged: a wording key and its facts."""

    key: str
    facts: Mapping[str, object]


@dataclass(frozen=True, slots=True, eq=False)
class LocalStraightness:
    """The largest straightness in a window that slides along the line, or the reason why it was not judged.

    ``start_mm`` is where the worst window begins; ``interpolated_start``, ``interpolated_end`` tell whether its ends
    stood between stations (the reading there is interpolated). ``spacing_mm`` is the largest distance between
    neighbours, ``fewest_stations`` the smallest number of real stations in any of the ``windows`` looked at.
    """

    reference: str
    window_mm: float
    value_um: PerDraw | None
    start_mm: PerDraw | None
    interpolated_start: PerDraw | None
    interpolated_end: PerDraw | None
    windows: int
    spacing_mm: float
    fewest_stations: int
    reason: Reason | None = None

    @property
    def judged(self) -> bool:
        """Whether there is a value."""
        return self.reason is None
