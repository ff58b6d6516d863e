"""The budgets, contribution by contribution, with live products, sums and square roots."""

from __future__ import annotations

import math
from typing import Any

from waywright.report.content_line import LineContent, QuantityContent, UncertaintyContent
from waywright.report.saying import UNITS
from waywright.report.workbook_book import Book

_KEYS = (
    "contribution",
    "value",
    "unit",
    "distribution",
    "freedom",
    "standard",
    "sensitivity",
    "contributes",
    "budget_source",
)


def budget_sheet(book: Book, sheet: Any) -> None:
    """One block a quantity that has an uncertainty."""
    row = book.title(sheet)
    sheet.set_column(0, 0, 34)
    sheet.set_column(1, 8, 15)
    for line in book.content.lines:
        for quantity in line.quantities:
            if quantity.uncertainty is not None:
                row = _block(book, sheet, row, line, quantity, quantity.uncertainty) + 3


def _block(
    book: Book, sheet: Any, row: int, line: LineContent, quantity: QuantityContent, found: UncertaintyContent
) -> int:
    say, unit = book.say, UNITS[quantity.code.kind]
    sheet.write_string(row, 0, f"{say.named(quantity.code)}, {say.line_name(line)}, {unit}", book.bold)
    book.strings(sheet, row + 1, [say.of(f"report.column_{key}") for key in _KEYS], book.head)
    first = row + 2
    for at, each in enumerate(found.rows, start=first):
        book.strings(sheet, at, [say.contribution(each.name)])
        book.numbers(sheet, at, 1, [(each.value, book.fine)])
        book.strings(sheet, at, [each.unit, say.distribution(each.distribution)], None, 2)
        if math.isfinite(each.degrees_of_freedom):
            book.numbers(sheet, at, 4, [(each.degrees_of_freedom, book.figure)])
        else:
            book.strings(sheet, at, ["∞"], None, 4)
        book.numbers(sheet, at, 5, [(each.standard_uncertainty, book.fine), (each.sensitivity, book.fine)])
        book.formula(sheet, at, 7, f"=ABS(F{at + 1}*G{at + 1})", book.fine, each.contribution)
        book.strings(sheet, at, [say.budget_source(each.source)], None, 8)
    return _sums(book, sheet, first, first + len(found.rows), found)


def _sums(book: Book, sheet: Any, first: int, row: int, found: UncertaintyContent) -> int:
    """The root of the sum of squares is live; with correlations and by the distribution it is a figure."""
    say = book.say
    plain = math.sqrt(sum(each.contribution**2 for each in found.rows))
    book.strings(sheet, row, [say.of("report.root_sum_square")])
    book.formula(sheet, row, 7, f"=SQRT(SUMSQ(H{first + 1}:H{row}))", book.fine, plain)
    figures = (
        ("report.combined", found.combined), ("report.column_expanded", found.expanded),
        ("report.column_k", found.coverage_factor), ("report.interval_from", found.interval[0]),
        ("report.interval_to", found.interval[1]),
    )  # fmt: skip
    for offset, (key, value) in enumerate(figures, start=1):
        book.strings(sheet, row + offset, [say.of(key)])
        book.numbers(sheet, row + offset, 7, [(value, book.fine)])
    return row + len(figures)
