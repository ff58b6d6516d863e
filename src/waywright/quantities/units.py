"""Units at the border; inside there is one unit a kind.

Displacement in um, angle in um/m (1 um/m = 1 urad), position in mm, temperature in degC, interval in s.
The inch is 25.4 mm exactly; 1 arcsec = pi/648000 rad, so 0.48481 um per 100 mm (the classroom 0.5 is 3 % high).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from waywright.errors import BadInput


class Kind(StrEnum):
    """A kind of quantity; its value is the suffix that names of numbers carry."""

    DISPLACEMENT = "um"
    ANGLE = "um_per_m"
    POSITION = "mm"
    TEMPERATURE = "degc"
    TIME = "s"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as people write it: ``inside = outside * factor + offset``."""

    name: str
    kind: Kind
    factor: float
    offset: float = 0.0

    def inside(self, value: float) -> float:
        """The value in the inside unit of its kind."""
        return value * self.factor + self.offset

    def outside(self, value: float) -> float:
        """The inside value in this unit."""
        return (value - self.offset) / self.factor


_ARCSEC_UM_PER_M = math.pi / 648_000 * 1e6

_UNITS = {
    (item.kind, item.name): item
    for item in (
        Unit("um", Kind.DISPLACEMENT, 1.0),
        Unit("mm", Kind.DISPLACEMENT, 1e3),
        Unit("nm", Kind.DISPLACEMENT, 1e-3),
        Unit("inch", Kind.DISPLACEMENT, 25.4e3),
        Unit("um/m", Kind.ANGLE, 1.0),
        Unit("urad", Kind.ANGLE, 1.0),
        Unit("mm/m", Kind.ANGLE, 1e3),
        Unit("mrad", Kind.ANGLE, 1e3),
        Unit("arcsec", Kind.ANGLE, _ARCSEC_UM_PER_M),
        Unit("deg", Kind.ANGLE, _ARCSEC_UM_PER_M * 3600),
        Unit("mm", Kind.POSITION, 1.0),
        Unit("um", Kind.POSITION, 1e-3),
        Unit("m", Kind.POSITION, 1e3),
        Unit("inch", Kind.POSITION, 25.4),
        Unit("degC", Kind.TEMPERATURE, 1.0),
        Unit("K", Kind.TEMPERATURE, 1.0, -273.15),
        Unit("s", Kind.TIME, 1.0),
        Unit("ms", Kind.TIME, 1e-3),
        Unit("us", Kind.TIME, 1e-6),
    )
}


def unit(kind: Kind, name: str) -> Unit:
    """The unit ``name`` of a kind. Raises BadInput naming the allowed ones."""
    found = _UNITS.get((kind, name))
    if found is None:
        allowed = ", ".join(item.name for item in _UNITS.values() if item.kind is kind)
        raise BadInput("quantities.unknown_unit", unit=name, allowed=allowed)
    return found
