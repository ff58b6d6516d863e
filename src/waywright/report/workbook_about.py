"""Readings of every pass, and everything that the figures rest on, as text."""

from __future__ import annotations

import math
from typing import Any

from waywright.report.content_line import FurtherContent, LineContent, PassContent, QuantityContent
from waywright.report.facts import (
    condition_facts,
    event_sentences,
    instrument_rows,
    job_facts,
    line_facts,
    origin_facts,
    setup_facts,
)
from waywright.report.facts_job import evidence_rows, issue_facts, note_parts, plan_facts, plan_rows, round_parts
from waywright.report.saying import UNITS
from waywright.report.verdict_words import stated_sentences
from waywright.report.workbook_book import Book


def readings_sheet(book: Book, sheet: Any) -> None:
    """One row a reading, all lines below one another under one header of all quantities."""
    sheet.freeze_panes(1, 0)
    sheet.set_column(0, 0, 24)
    sheet.set_column(1, 24, 13)
    quantities = _quantities(book)
    keys = ("what", "pass", "position", "direction")
    heads = [book.say.of(f"report.column_{key}") for key in keys]
    for quantity in quantities:
        heads += [_heading(book, quantity), book.say.of("report.column_sd"), "n"]
    book.strings(sheet, 0, heads, book.head)
    row = 1
    for line in book.content.lines:
        for each in line.passes:
            for station in range(each.profile.position_mm.size):
                _reading(book, sheet, row, line, each, station, quantities)
                row += 1


def about_sheet(book: Book, sheet: Any) -> None:
    """Job, plan, set-ups, conditions, evidence, rounds, notes, instruments, origin."""
    sheet.set_column(0, 0, 34)
    sheet.set_column(1, 5, 40)
    content, row = book.content, book.title(sheet)
    row = book.pairs(sheet, row, "report.heading_summary", job_facts(content))
    row = book.pairs(sheet, row, "report.heading_issue", issue_facts(content))
    row = book.pairs(sheet, row, "report.heading_plan", plan_facts(content))
    row = _table(book, sheet, row, *plan_rows(content))
    for line in content.lines:
        row = _line(book, sheet, row, line)
    sheet.write_string(row, 0, book.say.of("report.heading_evidence"), book.head)
    row = _table(book, sheet, row + 1, *evidence_rows(content))
    for part in round_parts(content):
        row = book.pairs(sheet, row, "report.heading_rounds", [("", words) for words in part["said"]])
        row = _table(book, sheet, row - 1, part["head"], part["rows"])
    for part in note_parts(content):
        row = book.pairs(sheet, row, "report.heading_notes", [(part["title"], words) for words in part["said"]])
    row = book.pairs(sheet, row, "report.heading_events", [("", words) for words in event_sentences(content)])
    sheet.write_string(row, 0, book.say.of("report.heading_instruments"), book.head)
    for cells in instrument_rows(content):
        row += 1
        book.strings(sheet, row, list(cells))
    book.pairs(sheet, row + 2, "report.heading_origin", origin_facts(content))


def _line(book: Book, sheet: Any, row: int, line: LineContent) -> int:
    content, say = book.content, book.say
    sheet.write_string(row, 0, say.line_name(line), book.bold)
    row = book.pairs(sheet, row + 1, "report.heading_setup", [*line_facts(content, line), *setup_facts(content, line)])
    for result in line.further:
        sheet.write_string(row, 0, say.of(f"report.further.{result.kind}"), book.bold)
        said = [*map(say.said, result.said), *stated_sentences(say, result), *map(say.said, result.basis)]
        words = [("", found) for found in said]
        row = book.pairs(sheet, row + 1, "report.heading_further", words)
        row = _figures(book, sheet, row - 1, result)
    for each in line.passes:
        sheet.write_string(row, 0, say.pass_name(each.number, each.direction), book.bold)
        row = book.pairs(sheet, row + 1, "report.heading_conditions", condition_facts(content, each))
    return row


def _figures(book: Book, sheet: Any, row: int, result: FurtherContent) -> int:
    """Figures of a further result: name, number, unit; the row after them."""
    for number, figure in enumerate(result.rows):
        book.strings(sheet, row + number, [book.say.of(figure.key, **figure.facts)])
        book.numbers(sheet, row + number, 1, [(math.nan if figure.value is None else figure.value, book.figure)])
        book.strings(sheet, row + number, [figure.unit], None, 2)
    return row + len(result.rows) + 1


def _table(book: Book, sheet: Any, row: int, head: list[str], rows: list[list[str]]) -> int:
    """A table of text; the row after it and a free one. Nothing for no rows."""
    if not rows:
        return row
    book.strings(sheet, row, head, book.head)
    for offset, cells in enumerate(rows, start=1):
        book.strings(sheet, row + offset, cells)
    return row + len(rows) + 2


def _quantities(book: Book) -> list[QuantityContent]:
    """Every code once that some pass has readings of."""
    present = {c.code.text for line in book.content.lines for each in line.passes for c in each.profile.columns}
    found = {q.code.text: q for line in book.content.lines for q in line.quantities if q.code.text in present}
    return list(found.values())


def _heading(book: Book, quantity: QuantityContent) -> str:
    direction = book.say.of("drawing.positive", direction=book.say.direction(quantity.on_screen))
    return f"{book.say.named(quantity.code)} {UNITS[quantity.code.kind]}, {direction}"


def _reading(
    book: Book, sheet: Any, row: int, line: LineContent, each: PassContent, station: int, known: list[QuantityContent]
) -> None:
    book.strings(sheet, row, [book.say.line_name(line)])
    sheet.write_number(row, 1, each.number, book.plain)
    book.numbers(sheet, row, 2, [(float(each.profile.position_mm[station]), book.position)])
    direction = each.profile.direction[station] if each.profile.direction else None
    book.strings(sheet, row, [book.say.of(f"report.direction.{direction}") if direction else ""], None, 3)
    for index, quantity in enumerate(known):
        column = each.profile.column(quantity.code.text)
        if column is not None:
            book.numbers(sheet, row, 4 + 3 * index, [
                (float(column.screen[station]), book.signed),
                (float(column.standard_deviation[station]), book.figure),
                (float(column.samples[station]) or math.nan, book.plain),
            ])  # fmt: skip
