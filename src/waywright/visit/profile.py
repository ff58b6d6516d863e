"""Columns of quantities over position: what evaluation, tables and drawings work on."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.quantities import Code, Direction
from waywright.readings.records import Floats


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """One quantity at every position, ISO sign, in the inside unit of its kind; all arrays (n,).

    ``iso`` times ``to_screen`` is positive in the physical direction ``on_screen``.
    """

    code: Code
    iso: Floats
    standard_deviation: Floats
    samples: Floats
    on_screen: Direction
    to_screen: int

    @property
    def screen(self) -> Floats:
        """The values as screens and reports show them: positive in ``on_screen``."""
        return self.to_screen * self.iso


@dataclass(frozen=True, slots=True, eq=False)
class Profile:
    """Positions (n,) in mm and the quantities measured there; ``direction`` is how each station was reached."""

    position_mm: Floats
    columns: tuple[Column, ...]
    direction: tuple[str | None, ...] = ()

    def column(self, code_text: str) -> Column | None:
        """The column of a code, or None where it was not measured."""
        return next((column for column in self.columns if column.code.text == code_text), None)
