"""Kinds of rows of a sheet: what is read at which places, and how the value follows from the readings.

Every kind is a function of the readings (n,) or (n, draws) in the order of its entries, so that the same function gives
the value and carries the uncertainty. Angles in um/m, everything else in um.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from waywright.evaluate.arrays import FloatArray, PerDraw
from waywright.evaluate.sheet_places import ALONE, Layout
from waywright.quantities import Kind
from waywright.visit.sheet import SheetRow

Figure: TypeAlias = tuple[str, float, str]
"""A figure shown beside the value: its name (``sheet.figure.<name>``), its number, its unit."""
Work: TypeAlias = Callable[[FloatArray, SheetRow], PerDraw]
RESULT = "result"
"""The kind of rows that take a value of the evaluation suite; it has no entries."""


@dataclass(frozen=True, slots=True)
class RowKind:
    """``reads`` and ``gives`` are the kinds of quantity typed and of the value.

    ``signed`` values may be negative, and a tolerance holds on both sides. ``linear`` values are linear in the
    readings. ``needs`` names the fields of the row without which it cannot be worked out, ``fewest`` the fewest
    places. ``budget`` is the ready budget, ``figures`` are shown beside the value, ``length`` says what a tolerance by
    length goes by, ``turns`` whether places may be read again turned. ``drawing`` is the picture.
    """

    name: str
    reads: Kind
    gives: Kind
    work: Work
    layout: Layout = ALONE
    signed: bool = False
    linear: bool = False
    fewest: int = 1
    needs: tuple[str, ...] = ()
    budget: str = "indicator"
    drawing: str = "indicator"
    figures: Callable[[FloatArray, SheetRow], tuple[Figure, ...]] | None = None
    length: Callable[[SheetRow], float | None] | None = None
    turns: bool = False

    def length_mm(self, row: SheetRow) -> float | None:
        """The length a tolerance by length holds for: the one stated, otherwise the one measured."""
        if row.length_mm is not None:
            return row.length_mm
        if self.length is not None:
            return self.length(row)
        return float(np.ptp(row.at_mm)) if len(row.at_mm) > 1 else None
