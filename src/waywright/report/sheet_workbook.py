"""A sheet of tests as a workbook: the rows, every reading, and the budgets."""

from __future__ import annotations

import io
from datetime import datetime
from typing import Any

from waywright.report.sheet_content import SheetContent, SheetRowContent
from waywright.wording import text

_ROW_HEADS = ("number", "what", "permissible", "measured", "expanded", "unit", "verdict", "why", "remark", "method")
_READING_HEADS = ("number", "what", "places", "value", "unit")
_BUDGET_HEADS = ("number", "contribution", "value", "distribution", "source", "adds")


def sheet_workbook(content: SheetContent) -> bytes:
    """The workbook as bytes; the same content gives the same bytes."""
    import xlsxwriter

    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"title": content.heading, "created": _naive(content.made_utc)})
    _Book(content, book).write()
    book.close()
    return out.getvalue()


def _naive(moment: datetime) -> datetime:
    return moment.replace(tzinfo=None, microsecond=0)


class _Book:
    """The pages of the workbook."""

    def __init__(self, content: SheetContent, book: Any) -> None:
        self.content, self.book = content, book
        self.head = book.add_format({"bold": True, "bottom": 1, "valign": "top"})
        self.plain = book.add_format({"valign": "top", "text_wrap": True})
        self.figure = book.add_format({"num_format": "0.00", "valign": "top"})
        self.bold = book.add_format({"bold": True, "font_size": 14})

    def write(self) -> None:
        """Every page."""
        self._rows(self.book.add_worksheet(self._of("page_rows")))
        self._readings(self.book.add_worksheet(self._of("page_readings")))
        self._budgets(self.book.add_worksheet(self._of("page_uncertainty")))

    def _of(self, name: str) -> str:
        return text(f"sheet.print.{name}", self.content.language)

    def _rows(self, page: Any) -> None:
        page.hide_gridlines(2)
        for at, width in enumerate((8, 42, 24, 12, 12, 8, 20, 46, 40, 30)):
            page.set_column(at, at, width)
        page.write_string(0, 0, self.content.heading, self.bold)
        row = 1
        for line in (self.content.invented, self.content.note, self.content.summary):
            if line:
                page.write_string(row, 0, line)
                row += 1
        for label, value in self.content.facts:
            page.write_string(row, 0, label)
            page.write_string(row, 1, value)
            row += 1
        self._heads(page, row + 1, _ROW_HEADS)
        for at, each in enumerate(self.content.rows, start=row + 2):
            self._row(page, at, each)
        last = row + 3 + len(self.content.rows)
        for at, line in enumerate((*self.content.undecided, *self.content.causes), start=last):
            page.write_string(at, 0, line)

    def _row(self, page: Any, at: int, row: SheetRowContent) -> None:
        cells: tuple[str | float | None, ...] = (
            row.number, row.what, row.permissible, row.value_number, row.expanded_number, row.unit, row.verdict,
            " ".join(row.why), row.remark, row.method,
        )  # fmt: skip
        self._cells(page, at, cells)

    def _readings(self, page: Any) -> None:
        page.set_column(1, 2, 36)
        self._heads(page, 0, _READING_HEADS)
        at = 1
        for row in self.content.rows:
            for place in row.places:
                shown, _, unit = place.value.rpartition(" ")
                number = place.number
                self._cells(page, at, (row.number, row.what, place.place, number, unit if shown else ""))
                at += 1

    def _budgets(self, page: Any) -> None:
        page.set_column(1, 1, 36)
        page.set_column(2, 5, 16)
        self._heads(page, 0, _BUDGET_HEADS)
        at = 1
        for row in self.content.rows:
            for part in row.budget:
                self._cells(page, at, (row.number, *part))
                at += 1

    def _heads(self, page: Any, at: int, names: tuple[str, ...]) -> None:
        for column, name in enumerate(names):
            page.write_string(at, column, self._of(name), self.head)

    def _cells(self, page: Any, at: int, cells: tuple[str | float | None, ...]) -> None:
        for column, cell in enumerate(cells):
            if isinstance(cell, str):
                page.write_string(at, column, cell, self.plain)
            elif cell is not None:
                page.write_number(at, column, cell, self.figure)
