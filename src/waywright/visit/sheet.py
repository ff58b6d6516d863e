"""A sheet of tests: rows that are filled one after the other, mostly by somebody who reads a dial and types."""

from __future__ import annotations

from dataclasses import dataclass, field
from uuid import UUID

from waywright.visit.lines import InstrumentUse


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One test of a sheet.

    ``kind`` says what is read and how the value follows (see ``waywright.evaluate.sheet_work``). ``places`` name where
    it is read, as on the machine ("foot 4"); ``at_mm`` where they lie along the line, ``across_mm`` across it.
    ``turned`` reads every place again with level, square, bar or mandrel turned by 180 degrees. ``unit`` is what is
    typed ("um", "mm", "inch", "um/m", "mm/m", "arcsec", or "div" with the worth of one ``division``). ``tolerance`` is
    a tolerance rule; None is "not agreed". ``positive`` names where positive readings point, ``ahead`` what lies where
    places grow. ``length_mm`` is the length a tolerance by length holds for, where places do not say it. ``means`` ties
    the row to a cause ("spindle-side", "tailstock-side", "twist" ...). Rows of kind "result" take a value of the
    evaluation suite: ``of`` names it, ``files`` or ``line`` where the readings lie, ``settings`` its options and
    ``take`` the figure. ``uncertainty_um`` is a stated expanded uncertainty (k = 2), in the unit of the value.
    """

    number: str
    what: str
    kind: str
    places: tuple[str, ...] = ()
    at_mm: tuple[float, ...] = ()
    across_mm: tuple[float, ...] = ()
    turned: bool = False
    unit: str | None = None
    division: float | None = None
    division_unit: str | None = None
    tolerance: str | None = None
    drawing: str | None = None
    remark: str = ""
    budget: str | None = None
    positive: str | None = None
    ahead: str | None = None
    length_mm: float | None = None
    base_mm: float | None = None
    diameter_mm: float | None = None
    gauge_mm: float | None = None
    arm_mm: float | None = None
    joint_mm: float | None = None
    guideway: str | None = None
    quantity: str | None = None
    reference: str = "least-squares"
    mandrel_sag_um: tuple[float, ...] = ()
    holder_sag_um: tuple[float, ...] = ()
    means: str | None = None
    of: str | None = None
    files: tuple[str, ...] = ()
    line: str | None = None
    settings: dict[str, bool | float | str | tuple[float, ...]] = field(default_factory=dict)
    take: str | None = None
    uncertainty_um: float | None = None


@dataclass(frozen=True, slots=True)
class MeasuringSheet:
    """The sheet of one visit and the instruments that it is read with. ``example``: nobody has agreed on its rows."""

    id: UUID
    visit_id: UUID
    title: str
    rows: tuple[SheetRow, ...]
    note: str = ""
    example: bool = False
    burden: str = "supplier"
    instruments: tuple[InstrumentUse, ...] = ()

    def row(self, number: str) -> SheetRow | None:
        """The row of a number."""
        return next((row for row in self.rows if row.number == number), None)
