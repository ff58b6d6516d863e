"""From a table of another program to a readings table: a mapping file says what its columns are.

The mapping is TOML, made by :func:`proposed` to be looked over, and used again for every file of that program::

    format = 1
    header_row = 3                 # the row with the headings, counted from 1; readings follow below
    decimal = ","                  # or "."
    up = "-Y"                      # how the machine's axes lie: needed where a value says "positive"
    operator = "+X"

    [position]
    column = "Weg"                 # the heading, or the letter of the column: "B"
    unit = "mm"

    [[value]]
    column = "Höhe"
    code = "EYZ"
    unit = "mm"
    positive = "up"                # or sign = -1 where the sign against ISO 230-1 is known
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from waywright.errors import BadInput
from waywright.files.foreign_grid import Cell, Grid, read_grid
from waywright.files.readings_table import ReadingsTable
from waywright.files.table_text import shown
from waywright.files.toml_record import read_record
from waywright.quantities import Axes, Direction, Kind, Unit, code, iso_sign, unit

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]{1,3})?", re.ASCII)
FEWEST, LARGEST_NUMBER = 3, 1e9


@dataclass(frozen=True, slots=True, kw_only=True)
class PositionColumn:
    """Where positions stand; ``offset_mm`` is taken off, ``sense`` -1 turns them."""

    column: str
    unit: str = "mm"
    offset_mm: float = 0.0
    sense: Literal[1, -1] = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueColumn:
    """Where values of a quantity stand: ``positive`` is their physical direction, or ``sign`` theirs against ISO."""

    column: str
    code: str
    unit: str
    positive: Direction | None = None
    sign: Literal[1, -1] = 1
    sd: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DirectionColumn:
    """Where the direction of motion stands, and the words for it."""

    column: str
    forward: str
    backward: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ForeignMapping:
    """What the columns of a foreign table are."""

    position: PositionColumn
    value: tuple[ValueColumn, ...]
    format: Literal[1] = 1
    sheet: str | None = None
    header_row: int = 1
    decimal: Literal[".", ","] = "."
    up: str | None = None
    operator: str | None = None
    detector_side: Literal["tool", "work"] = "tool"
    pass_column: str | None = None
    direction: DirectionColumn | None = None


def read_mapping(path: Path) -> ForeignMapping:
    """A mapping file. Raises BadInput naming the file, the key and what is allowed there."""
    return read_record(path, ForeignMapping)


def read_foreign(path: Path, mapping: ForeignMapping) -> ReadingsTable:
    """The readings of a foreign table, ISO signs, inside units. Rows without a position are passed over.

    Raises BadInput naming file, row and column of whatever cannot be used.
    """
    return _Reader(read_grid(path, mapping.sheet), mapping).table()


class _Reader:
    """One grid with its mapping."""

    def __init__(self, grid: Grid, mapping: ForeignMapping) -> None:
        self._grid, self._mapping = grid, mapping
        if not 1 <= mapping.header_row <= len(grid.rows):
            raise BadInput("foreign.no_header", file=grid.file, row=mapping.header_row, rows=len(grid.rows))
        self._heads = [str(cell or "").strip() for cell in grid.rows[mapping.header_row - 1]]
        self._at = self._place(mapping.position.column)
        below = enumerate(grid.rows[mapping.header_row :], start=mapping.header_row + 1)
        self._rows = [(number, row) for number, row in below if self._cell(row, self._at) is not None]

    def table(self) -> ReadingsTable:
        """All of it."""
        if len(self._rows) < FEWEST:
            raise BadInput("foreign.few_rows", file=self._grid.file, rows=len(self._rows), needed=FEWEST)
        place, mapping = self._mapping.position, self._mapping
        measure = self._unit(Kind.POSITION, place.unit)
        position = place.sense * (self._numbers(self._at) * measure.factor - place.offset_mm)
        values = {code(each.code).text: self._values(each) for each in mapping.value}
        if not values:
            raise BadInput("foreign.no_values", file=self._grid.file)
        spread = {code(each.code).text: self._spread(each) for each in mapping.value if each.sd}
        return ReadingsTable(
            position_mm=position,
            columns=values,
            pass_number=None if mapping.pass_column is None else self._passes(mapping.pass_column),
            direction=None if mapping.direction is None else self._directions(mapping.direction),
            standard_deviation=spread,
            metadata={"converted from": " ".join(self._grid.file.split())},
        )

    def _values(self, each: ValueColumn) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        motion = code(each.code)
        factor = self._unit(motion.kind, each.unit).factor
        return self._numbers(self._place(each.column)) * factor * self._sign(each)

    def _sign(self, each: ValueColumn) -> int:
        if each.positive is None:
            return each.sign
        if self._mapping.up is None or self._mapping.operator is None:
            raise BadInput("foreign.no_axes", column=each.column)
        return each.sign * iso_sign(
            code(each.code), each.positive, Axes(self._mapping.up, self._mapping.operator), self._mapping.detector_side
        )

    def _spread(self, each: ValueColumn) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        factor = self._unit(code(each.code).kind, each.unit).factor
        return np.abs(self._numbers(self._place(each.sd or "")) * factor)

    def _passes(self, column: str) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
        numbers = self._numbers(self._place(column))
        if not np.all((numbers == np.round(numbers)) & (numbers >= 0) & (numbers < 1e6)):
            raise BadInput("foreign.bad_pass", file=self._grid.file, column=column)
        return numbers.astype(np.int64)

    def _directions(self, each: DirectionColumn) -> tuple[str | None, ...]:
        at = self._place(each.column)
        words = {each.forward: "forward", each.backward: "backward", "": None}
        found = []
        for number, row in self._rows:
            said = str(self._cell(row, at) or "").strip()
            if said not in words:
                facts = {
                    "column": each.column,
                    "found": shown(said),
                    "forward": each.forward,
                    "backward": each.backward,
                }
                raise BadInput("foreign.bad_direction", file=self._grid.file, row=number, **facts)
            found.append(words[said])
        return tuple(found)

    def _numbers(self, at: int) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.array([self._number(number, row, at) for number, row in self._rows], dtype=np.float64)

    def _number(self, number: int, row: tuple[Cell, ...], at: int) -> float:
        cell = self._cell(row, at)
        value = cell if isinstance(cell, float) else self._parsed(cell)
        if value is None or not math.isfinite(value) or abs(value) > LARGEST_NUMBER:
            facts = {"found": shown(str(cell or "")), "decimal": self._mapping.decimal}
            column = self._heads[at] if at < len(self._heads) and self._heads[at] else str(at + 1)
            raise BadInput("foreign.bad_number", file=self._grid.file, row=number, column=column, **facts)
        return value

    def _parsed(self, cell: Cell) -> float | None:
        text = str(cell or "").replace("\N{MINUS SIGN}", "-").replace("\N{NO-BREAK SPACE}", "").replace(" ", "")
        other = "," if self._mapping.decimal == "." else "."
        if not _NUMBER.fullmatch(text) or other in text:
            return None
        return float(text.replace(",", "."))

    def _cell(self, row: tuple[Cell, ...], at: int) -> Cell:
        return row[at] if at < len(row) else None

    def _place(self, column: str) -> int:
        """By heading first, then by letter."""
        wanted = column.strip()
        if wanted in self._heads:
            return self._heads.index(wanted)
        if re.fullmatch(r"[A-Za-z]{1,2}", wanted):
            at = 0
            for sign in wanted.upper():
                at = at * 26 + ord(sign) - ord("A") + 1
            if at <= max(len(row) for row in self._grid.rows):
                return at - 1
        known = ", ".join(shown(head) for head in self._heads if head)
        raise BadInput("foreign.no_column", file=self._grid.file, column=shown(column), known=known or "-")

    def _unit(self, kind: Kind, name: str) -> Unit:
        return unit(kind, name.replace("µ", "u").replace("μ", "u"))
