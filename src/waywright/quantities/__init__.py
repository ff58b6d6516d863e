"""What is measured: ISO 230-1 codes, units, and the physical directions they have on a machine."""

from waywright.quantities.codes import Code, code
from waywright.quantities.directions import Axes, Direction, code_along, iso_sign, positive_direction, screen_direction
from waywright.quantities.naming import Name, plain_name
from waywright.quantities.units import Kind, Unit, unit

__all__ = [
    "Axes",
    "Code",
    "Direction",
    "Kind",
    "Name",
    "Unit",
    "code",
    "code_along",
    "iso_sign",
    "plain_name",
    "positive_direction",
    "screen_direction",
    "unit",
]
