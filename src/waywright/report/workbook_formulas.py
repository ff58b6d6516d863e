"""Live formulas: the mean of the passes, the lines through it, deviations, and the values they give."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from waywright.drawing import FAMILY
from waywright.report.content_line import LineContent, LineValue, QuantityContent
from waywright.report.saying import UNITS
from waywright.report.workbook_book import HAIR, INK, MUTE, Book

FIRST = 9
"""The first row of stations on a sheet of formulas (counted from 0)."""

LIVE = ("end-points", "least-squares")
"""Reference lines that are formulas; the minimum zone is not, it needs a search."""

_COLUMNS = {"end-points": "C", "least-squares": "D"}


@dataclass(frozen=True, slots=True)
class FormulaSheet:
    """Where the formulas of one quantity stand."""

    line: LineContent
    quantity: QuantityContent
    sheet: Any
    last: int

    def cell(self, name: str) -> str:
        """A cell of this sheet as another sheet names it."""
        return f"'{self.sheet.get_name()}'!{name}"

    def span(self, column: str) -> str:
        """The stations in a column, absolute."""
        return f"${column}${FIRST + 1}:${column}${self.last + 1}"


def formula_sheets(book: Book) -> list[FormulaSheet]:
    """One sheet a quantity of every line."""
    found = []
    for number, line in enumerate(book.content.lines, start=1):
        for quantity in line.quantities:
            name = f"{number} {quantity.code.text}"
            sheet = book.sheet("report.sheet_formulas", name)
            found.append(FormulaSheet(line, quantity, sheet, FIRST + len(quantity.position_mm) - 1))
            _write(book, found[-1])
    return found


def results_sheet(book: Book, sheet: Any, found: list[FormulaSheet]) -> None:
    """Every value about every line; what is live points to the sheet of formulas."""
    row = book.title(sheet)
    sheet.set_column(0, 2, 24)
    sheet.set_column(3, 9, 13)
    keys = ("what", "quantity", "line", "value", "unit", "largest", "at_mm", "smallest", "at_mm", "positive")
    book.strings(sheet, row, [book.say.of(f"report.column_{key}") for key in keys], book.head)
    chart_row = row + 2 + sum(len(each.quantity.values) for each in found)
    for each in found:
        for item in each.quantity.values:
            row += 1
            _result(book, sheet, row, each, item)
    row = _uncertainties(book, sheet, row + 2)
    for index, each in enumerate(found):
        sheet.insert_chart(max(chart_row, row) + 1 + 17 * index, 0, _chart(book, each))


def _result(book: Book, sheet: Any, row: int, each: FormulaSheet, item: LineValue) -> None:
    say, quantity = book.say, each.quantity
    book.strings(sheet, row, [say.line_name(each.line), say.named(quantity.code), say.reference(item.reference)])
    book.strings(sheet, row, [UNITS[quantity.code.kind]], None, 4)
    book.strings(sheet, row, [say.direction(quantity.on_screen)], None, 9)
    column = _column(item.reference)
    if column is None:
        book.numbers(sheet, row, 3, [(item.value, book.figure)])
        book.numbers(sheet, row, 5, [
            (item.largest, book.signed), (item.largest_mm, book.position),
            (item.smallest, book.signed), (item.smallest_mm, book.position),
        ])  # fmt: skip
        return
    for offset, source, style, value in (
        (3, 5, book.figure, item.value), (5, 3, book.signed, item.largest), (6, 6, book.position, item.largest_mm),
        (7, 4, book.signed, item.smallest), (8, 7, book.position, item.smallest_mm),
    ):  # fmt: skip
        book.formula(sheet, row, offset, f"={each.cell(f'{column}{source}')}", style, value)


def _column(reference: str) -> str | None:
    """The column of deviations about a line; values as read stand in the column of the mean."""
    return "B" if reference == "none" else _COLUMNS.get(reference)


def _uncertainties(book: Book, sheet: Any, row: int) -> int:
    stated = [
        (line, each)
        for line in book.content.lines
        for each in line.quantities
        if each.uncertainty is not None or each.verdict is not None
    ]
    if not stated:
        return row
    keys = ("what", "quantity", "value", "expanded", "unit", "allowed", "verdict")
    book.strings(sheet, row, [book.say.of(f"report.column_{key}") for key in keys], book.head)
    for line, each in stated:
        row += 1
        book.strings(sheet, row, [book.say.line_name(line), book.say.named(each.code)])
        book.numbers(sheet, row, 2, [(each.chosen.value, book.figure)])
        if each.uncertainty is not None:
            book.numbers(sheet, row, 3, [(each.uncertainty.expanded, book.figure)])
        book.strings(sheet, row, [UNITS[each.code.kind]], None, 4)
        if each.verdict is not None and each.verdict.limit is not None:
            book.numbers(sheet, row, 5, [(each.verdict.limit, book.figure)])
        if each.verdict is not None and each.verdict.verdict is not None:
            book.strings(sheet, row, [book.say.of(f"report.verdict.{each.verdict.verdict}")], None, 6)
    return row + 1


def _write(book: Book, each: FormulaSheet) -> None:
    sheet, quantity, say = each.sheet, each.quantity, book.say
    sheet.set_column(0, 0, 22)
    sheet.set_column(1, 3, 20)
    sheet.freeze_panes(FIRST, 1)
    unit = UNITS[quantity.code.kind]
    sheet.write_string(0, 0, f"{say.named(quantity.code)}, {say.line_name(each.line)}", book.bold)
    values = {item.reference: item for item in quantity.values}
    labels = ("report.line_slope", "report.column_largest", "report.column_smallest", "report.column_value")
    for row, key in zip((1, 2, 3, 4), labels, strict=True):
        book.strings(sheet, row, [say.of(key)])
    book.strings(sheet, 5, [f"{say.of('report.column_largest')} {say.of('report.column_at_mm')}"])
    book.strings(sheet, 6, [f"{say.of('report.column_smallest')} {say.of('report.column_at_mm')}"])
    head = [say.of("report.column_position"), f"{say.of('report.mean')}, {unit}"]
    if quantity.code.is_straightness and quantity.chosen.reference != "none":
        head += [f"{say.of(f'drawing.about.{name}')}, {unit}" for name in LIVE]
    book.strings(sheet, FIRST - 1, head, book.head)
    _stations(book, each)
    live = [name for name in LIVE if name in values]
    for name in live:
        _line(book, each, name, values[name])
    if "none" in values:
        _extremes(book, each, "B", values["none"])


def _stations(book: Book, each: FormulaSheet) -> None:
    quantity = each.quantity
    values = quantity.mean or quantity.deviation
    for offset, (place, value) in enumerate(zip(quantity.position_mm, values, strict=True)):
        book.numbers(each.sheet, FIRST + offset, 0, [(place, book.position), (value, book.signed)])


def _line(book: Book, each: FormulaSheet, name: str, item: LineValue) -> None:
    """Slope, deviations about the line, and what they give; cached values are those of the program."""
    column, x, y = _COLUMNS[name], each.span("A"), each.span("B")
    first, last = FIRST + 1, each.last + 1
    slope, deviation = _fit(each.quantity, name)
    if name == "end-points":
        formula = f"=($B${last}-$B${first})/($A${last}-$A${first})"
        start = f"($B${first}-{column}$2*$A${first})"
    else:
        formula, start = f"=SLOPE({y},{x})", f"INTERCEPT({y},{x})"
    index = "ABCD".index(column)
    book.formula(each.sheet, 1, index, formula, book.fine, slope)
    for row, value in enumerate(deviation, start=FIRST):
        taken = f"=$B{row + 1}-({start}+{column}$2*$A{row + 1})"
        book.formula(each.sheet, row, index, taken, book.signed, value)
    _extremes(book, each, column, item)


def _extremes(book: Book, each: FormulaSheet, column: str, item: LineValue) -> None:
    index, x, y = "ABCD".index(column), each.span("A"), each.span(column)
    made = (
        (2, f"=MAX({y})", book.signed, item.largest),
        (3, f"=MIN({y})", book.signed, item.smallest),
        (4, f"={column}3-{column}4", book.figure, item.value),
        (5, f"=INDEX({x},MATCH({column}3,{y},0))", book.position, item.largest_mm),
        (6, f"=INDEX({x},MATCH({column}4,{y},0))", book.position, item.smallest_mm),
    )
    for row, formula, style, value in made:
        book.formula(each.sheet, row, index, formula, style, value)


def _fit(quantity: QuantityContent, name: str) -> tuple[float, tuple[float, ...]]:
    """Slope (unit per mm) and deviations, for programs that do not calculate."""
    import numpy as np

    x, y = np.array(quantity.position_mm), np.array(quantity.mean or quantity.deviation)
    if name == "end-points":
        slope = float((y[-1] - y[0]) / (x[-1] - x[0]))
        offset = float(y[0] - slope * x[0])
    else:
        centred = x - x.mean()
        slope = float(centred @ y / (centred @ centred))
        offset = float(y.mean() - slope * x.mean())
    return slope, tuple((y - offset - slope * x).tolist())


def _chart(book: Book, each: FormulaSheet) -> Any:
    """Deviations about the chosen line where it is live, otherwise about least squares or as read."""
    quantity, say = each.quantity, book.say
    wanted = quantity.chosen.reference
    column = _column(wanted) or _COLUMNS["least-squares"]
    index, name = "ABCD".index(column), each.sheet.get_name()
    chart = book.book.add_chart({"type": "scatter", "subtype": "straight_with_markers"})
    title = f"{say.named(quantity.code)}, {say.line_name(each.line)}"
    chart.add_series(
        {
            "name": title,
            "categories": [name, FIRST, 0, each.last, 0],
            "values": [name, FIRST, index, each.last, index],
            "line": {"color": INK, "width": 1.5},
            "marker": {"type": "circle", "size": 5, "fill": {"color": INK}, "border": {"color": INK}},
        }
    )
    zero = each.line.setup.zero
    font = {"name": FAMILY, "color": MUTE, "size": 9, "bold": False}
    chart.set_title({"name": title, "name_font": {**font, "color": INK, "size": 11}})
    chart.set_x_axis(
        {"name": say.of("report.column_position"), "reverse": zero is not None and zero.sense < 0,
         "label_position": "low", "name_font": font, "num_font": font, "num_format": "0"}
    )  # fmt: skip
    direction = say.of("drawing.positive", direction=say.direction(quantity.on_screen))
    chart.set_y_axis(
        {"name": f"{UNITS[quantity.code.kind]}, {direction}", "name_font": font, "num_font": font,
         "num_format": "+0;\N{MINUS SIGN}0;0", "major_gridlines": {"visible": True, "line": {"color": HAIR}}}
    )  # fmt: skip
    chart.set_legend({"none": True})
    chart.set_size({"width": 720, "height": 320})
    chart.set_chartarea({"border": {"none": True}})
    return chart
