"""Values that somebody reads off a dial or a spirit level and types: one planned place after the other.

Numbers are in divisions, um, mm/m, arcsec or inch; a value that does not fit its neighbours is asked about before it is
kept; the last one can be taken back; a whole column can be pasted.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.quantities import Kind, unit

DIVISION = "div"
_FEWEST = 4
_FAR = 6.0
_NUMBER = re.compile(r"[-+−]?(?:\d+(?:[.,]\d*)?|[.,]\d+)")


@dataclass(frozen=True, slots=True)
class TypedUnit:
    """What a typed number is worth inside: um or um/m for one of ``name``."""

    name: str
    kind: Kind
    inside_per_unit: float


@dataclass(frozen=True, slots=True)
class Typed:
    """A value as typed and as kept, at its place."""

    position_mm: float
    said: str
    value: float


@dataclass(frozen=True, slots=True)
class Doubt:
    """A value that does not fit: ``expected`` follows from the neighbours, ``likely`` names a slip that would fit.

    Values are in the unit typed. ``likely`` is "sign", "ten-times", "tenth" or None.
    """

    typed: Typed
    number: float
    expected: float
    usual: float
    likely: str | None


def typed_unit(name: str, kind: Kind, division: float | None = None, division_unit: str | None = None) -> TypedUnit:
    """A unit to type in. For "div" one division is worth ``division`` of ``division_unit``. Raises BadInput."""
    if name != DIVISION:
        return TypedUnit(name, kind, unit(kind, name).factor)
    if division is None or division_unit is None or not (math.isfinite(division) and division > 0):
        raise BadInput("typing_in.division")
    return TypedUnit(name, kind, division * unit(kind, division_unit).factor)


class TypedColumn:
    """Planned places, and what has been typed at them so far, in order."""

    def __init__(self, places_mm: Sequence[float], typed_in: TypedUnit) -> None:
        if not places_mm:
            raise BadInput("typing_in.places")
        self.places_mm = tuple(places_mm)
        self._unit = typed_in
        self._typed: list[Typed] = []

    @property
    def typed(self) -> tuple[Typed, ...]:
        """What has been typed, in order."""
        return tuple(self._typed)

    @property
    def next_mm(self) -> float | None:
        """The next place; None when all have their value."""
        return self.places_mm[len(self._typed)] if len(self._typed) < len(self.places_mm) else None

    def enter(self, said: str, sure: bool = False) -> Typed | Doubt:
        """A number for the next place; kept at once unless it does not fit and nobody is ``sure``.

        Raises BadInput for something that is no number, or when there is no place left.
        """
        number = number_typed(said)
        place_mm = self.next_mm
        if place_mm is None:
            raise BadInput("typing_in.full", places=len(self.places_mm))
        typed = Typed(place_mm, said.strip(), number * self._unit.inside_per_unit)
        doubt = None if sure else self._doubt(typed, number)
        if doubt is None:
            self._typed.append(typed)
        return doubt or typed

    def undo(self) -> Typed | None:
        """Take the last value back; its place is the next one again."""
        return self._typed.pop() if self._typed else None

    def paste(self, text: str) -> tuple[Typed, ...]:
        """A column of numbers for the next places, all or nothing; doubts are left to the person who looks at it.

        Raises BadInput for a word that is no number, naming its row, or for more numbers than places.
        """
        rows = [row for row in re.split(r"[\s;]+", text.strip()) if row]
        left = len(self.places_mm) - len(self._typed)
        if len(rows) > left:
            raise BadInput("typing_in.too_many", rows=len(rows), places=left)
        for at, row in enumerate(rows, start=1):
            if _NUMBER.fullmatch(row) is None:
                raise BadInput("typing_in.row", row=at, said=row)
        return tuple(typed for row in rows if isinstance(typed := self.enter(row, sure=True), Typed))

    def _doubt(self, typed: Typed, number: float) -> Doubt | None:
        places = [item.position_mm for item in self._typed]
        return doubt_by_neighbours(places, [item.value for item in self._typed], typed, number, self._unit)


def doubt_by_neighbours(
    places_mm: Sequence[float], before: Sequence[float], typed: Typed, number: float, typed_in: TypedUnit
) -> Doubt | None:
    """Whether a value lies far from the straight line through its last neighbours, measured by how well such lines
    have foretold the values before it. ``before`` (n,) are the values typed at ``places_mm`` (n,), um or um/m."""
    if len(before) < _FEWEST:
        return None
    places, values = np.array(places_mm, dtype=np.float64), np.array(before, dtype=np.float64)
    foretold = [_foretold(places[:at], values[:at], places[at]) for at in range(2, len(values))]
    usual = float(np.median(np.abs(values[2:] - foretold)))
    usual = max(usual, 0.5 * typed_in.inside_per_unit, 0.02 * float(np.ptp(values)))
    return doubt_about(typed, number, _foretold(places, values, typed.position_mm), usual, typed_in)


def doubt_about(
    typed: Typed, number: float, expected: float, usual: float, typed_in: TypedUnit, far: float = _FAR
) -> Doubt | None:
    """A doubt where a value is farther from the expected one than ``far`` times what is usual; a slip that would fit
    is named. ``expected`` and ``usual`` in um or um/m."""
    if abs(typed.value - expected) <= far * usual:
        return None
    slips = {"sign": -typed.value, "tenth": 10.0 * typed.value, "ten-times": typed.value / 10.0}
    fitting = {name: abs(value - expected) for name, value in slips.items() if abs(value - expected) <= far * usual}
    likely = min(fitting, key=lambda name: fitting[name], default=None)
    per_unit = typed_in.inside_per_unit
    return Doubt(typed, number, expected / per_unit, usual / per_unit, likely)


def number_typed(said: str) -> float:
    """A number with a point or a comma. Raises BadInput for anything else."""
    plain = said.strip()
    if _NUMBER.fullmatch(plain) is None:
        raise BadInput("typing_in.no_number", said=plain)
    return float(plain.replace(",", ".").replace("−", "-"))


def _foretold(places: np.ndarray, values: np.ndarray, place: float) -> float:
    """The straight line through the last two values, at ``place``."""
    span = places[-1] - places[-2]
    slope = (values[-1] - values[-2]) / span if span else 0.0
    return float(values[-1] + slope * (place - places[-1]))
