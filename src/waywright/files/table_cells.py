"""Cells to values. A bad cell raises BadInput with file, line, column, what was found and what was expected."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from waywright.errors import BadInput
from waywright.files.table_text import shown

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?", re.ASCII)
_WHOLE = re.compile(r"[0-9]{1,9}", re.ASCII)
DIRECTIONS = ("forward", "backward")
NOT_RECORDED = 0
"""Number of samples where a cell is empty."""


@dataclass(slots=True)
class Cells:
    """Reads cells of one file; remembers which decimal mark the file uses, so that 1.234 is never misread."""

    file: str
    comma_allowed: bool
    _mark: str = field(default="", init=False)
    _mark_line: int = field(default=0, init=False)

    def number(self, line: int, column: str, cell: str) -> float:
        """A finite number; the decimal mark must be the same in the whole file."""
        text = cell.replace("\N{MINUS SIGN}", "-")
        if not _NUMBER.fullmatch(text) or ("," in text and not self.comma_allowed):
            raise self._bad("files.cell_number", line, column, cell, "number")
        mark = "," if "," in text else "." if "." in text else ""
        if mark and self._differs(mark, line):
            raise BadInput(
                "files.cell_decimal_mark", file=self.file, line=line, column=column, found=shown(cell),
                expected=self._mark, first_line=self._mark_line,
            )  # fmt: skip
        value = float(text.replace(",", "."))
        if not math.isfinite(value):
            raise self._bad("files.cell_number", line, column, cell, "number")
        return value

    def number_or_missing(self, line: int, column: str, cell: str) -> float:
        """A number; NaN where the cell is empty."""
        return self.number(line, column, cell) if cell else math.nan

    def spread(self, line: int, column: str, cell: str) -> float:
        """A standard deviation: not negative; NaN where the cell is empty."""
        if not cell:
            return math.nan
        value = self.number(line, column, cell)
        if value < 0:
            raise self._bad("files.cell_spread", line, column, cell, "number from 0")
        return value

    def count(self, line: int, column: str, cell: str) -> int:
        """A number of samples from 1; 0 where the cell is empty."""
        return self._whole("files.cell_count", line, column, cell) if cell else NOT_RECORDED

    def pass_number(self, line: int, column: str, cell: str) -> int:
        """The number of a pass, from 1."""
        return self._whole("files.cell_pass", line, column, cell)

    def direction(self, line: int, column: str, cell: str) -> str | None:
        """``forward``, ``backward``, or None where the cell is empty."""
        if not cell:
            return None
        if cell.lower() not in DIRECTIONS:
            raise self._bad("files.cell_direction", line, column, cell, " or ".join(DIRECTIONS))
        return cell.lower()

    def _whole(self, key: str, line: int, column: str, cell: str) -> int:
        if not _WHOLE.fullmatch(cell) or int(cell) < 1:
            raise self._bad(key, line, column, cell, "whole number from 1")
        return int(cell)

    def _differs(self, mark: str, line: int) -> bool:
        if not self._mark:
            self._mark, self._mark_line = mark, line
        return mark != self._mark

    def _bad(self, key: str, line: int, column: str, cell: str, expected: str) -> BadInput:
        key = key if cell else "files.cell_empty"
        return BadInput(key, file=self.file, line=line, column=column, found=shown(cell), expected=expected)
