"""The book that the sheets are written into: its formats, and text and numbers as they are allowed in."""

from __future__ import annotations

import math
from typing import Any

from waywright.drawing import FAMILY
from waywright.report.content import ReportContent
from waywright.report.facts import Pairs
from waywright.report.saying import Saying

INK, MUTE, HAIR = "#1d2a33", "#5f686e", "#c9c2b0"
Cell = tuple[float, Any]


class Book:
    """Text goes in only through ``strings``, which never makes a formula or a link of it."""

    def __init__(self, book: Any, content: ReportContent) -> None:
        self.book, self.content, self.say = book, content, Saying(content)
        number = {"font_name": FAMILY, "font_size": 10, "font_color": INK}
        self.plain = book.add_format(number)
        self.bold = book.add_format({"font_name": FAMILY, "font_size": 12, "bold": True, "font_color": INK})
        self.head = book.add_format(
            {**number, "font_color": MUTE, "bottom": 1, "bottom_color": HAIR, "text_wrap": True}
        )
        self.signed = book.add_format({**number, "num_format": "+0.00;\N{MINUS SIGN}0.00;0.00"})
        self.figure = book.add_format({**number, "num_format": "0.00"})
        self.fine = book.add_format({**number, "num_format": "0.0000"})
        self.position = book.add_format({**number, "num_format": "0.0"})
        self._names: set[str] = set()

    def sheet(self, key: str, suffix: str = "") -> Any:
        """A sheet named in words; at most 31 signs, none of those that a sheet's name must not have, each name once."""
        words = f"{self.say.of(key)} {suffix}".strip()
        name = "".join(sign for sign in words if sign not in "[]:*?/\\'")[:31]
        number = 2
        while name.lower() in self._names:
            name = f"{name[:27]} {number}"
            number += 1
        self._names.add(name.lower())
        return self.book.add_worksheet(name)

    def title(self, sheet: Any) -> int:
        """The heading of a sheet; the row after it."""
        sheet.hide_gridlines(2)
        sheet.write_string(0, 0, self.say.heading(), self.bold)
        if self.content.machine.invented:
            sheet.write_string(1, 0, self.say.of("report.invented"), self.plain)
        return 3

    def pairs(self, sheet: Any, row: int, heading: str, pairs: Pairs) -> int:
        """Label and value in two columns under a heading; the row after them."""
        sheet.write_string(row, 0, self.say.of(heading), self.head)
        for offset, pair in enumerate(pairs, start=1):
            self.strings(sheet, row + offset, list(pair))
        return row + len(pairs) + 2

    def strings(self, sheet: Any, row: int, cells: list[str], style: Any = None, column: int = 0) -> None:
        """Texts side by side, as text."""
        for offset, cell in enumerate(cells):
            sheet.write_string(row, column + offset, cell, style or self.plain)

    def numbers(self, sheet: Any, row: int, column: int, cells: list[Cell]) -> None:
        """Numbers side by side; a cell stays empty where there is none."""
        for offset, (value, style) in enumerate(cells):
            if math.isfinite(value):
                sheet.write_number(row, column + offset, value, style)

    def formula(self, sheet: Any, row: int, column: int, formula: str, style: Any, value: float) -> None:
        """A live formula; ``value`` is what it gives, for programs that do not calculate."""
        sheet.write_formula(row, column, formula, style, value)
