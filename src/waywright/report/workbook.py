"""The report as a workbook: results with a native chart, readings, and what they rest on."""

from __future__ import annotations

import io
import math
from typing import Any

from waywright.drawing import FAMILY
from waywright.report.content import PassContent, QuantityContent, ReportContent
from waywright.report.facts import (
    Pairs,
    condition_facts,
    event_sentences,
    instrument_rows,
    job_facts,
    origin_facts,
    setup_facts,
)
from waywright.report.saying import UNITS, Saying

_INK, _MUTE, _LINE = "#1d2a33", "#5f686e", "#c9c2b0"


def workbook_bytes(content: ReportContent) -> bytes:
    """The workbook as an XLSX file; the same content gives the same bytes. Text stays text, whatever it begins with."""
    import xlsxwriter

    target = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = xlsxwriter.Workbook(target, options)
    say = Saying(content)
    book.set_properties(
        {
            "title": say.heading(),
            "author": content.technician or "",
            "comments": say.of("report.footer", version=content.software_version, made=say.moment(content.made_utc)),
            "created": content.made_utc.replace(tzinfo=None),
        }
    )
    Book(book, content).write()
    book.close()
    return target.getvalue()


class Book:
    """Writes the three sheets; text cells only through ``write_string``."""

    def __init__(self, book: Any, content: ReportContent) -> None:
        self.book, self.content, self.say = book, content, Saying(content)
        self.plain = book.add_format({"font_name": FAMILY, "font_size": 10, "font_color": _INK})
        self.bold = book.add_format({"font_name": FAMILY, "font_size": 12, "bold": True, "font_color": _INK})
        number = {"font_name": FAMILY, "font_size": 10, "font_color": _INK}
        self.head = book.add_format(
            {**number, "font_color": _MUTE, "bottom": 1, "bottom_color": _LINE, "text_wrap": True}
        )
        self.signed = book.add_format({**number, "num_format": "+0.00;\N{MINUS SIGN}0.00;0.00"})
        self.figure = book.add_format({**number, "num_format": "0.00"})
        self.position = book.add_format({**number, "num_format": "0.0"})

    def write(self) -> None:
        """All sheets."""
        self._results(self.book.add_worksheet(self.say.of("report.sheet_results")))
        self._readings(self.book.add_worksheet(self.say.of("report.sheet_readings")))
        self._about(self.book.add_worksheet(self.say.of("report.sheet_about")))

    def _results(self, sheet: Any) -> None:
        sheet.hide_gridlines(2)
        sheet.set_column(0, 1, 24)
        sheet.set_column(2, 8, 13)
        row = self._title(sheet)
        keys = ("quantity", "line", "value", "unit", "largest", "at_mm", "smallest", "at_mm", "positive")
        self._strings(sheet, row, [self.say.of(f"report.column_{key}") for key in keys], self.head)
        for quantity in self.content.quantities:
            for item in quantity.values:
                row += 1
                self._strings(sheet, row, [self.say.named(quantity.code), self.say.reference(item.reference)])
                self._numbers(sheet, row, 2, [(item.value, self.figure)])
                sheet.write_string(row, 3, UNITS[quantity.code.kind], self.plain)
                self._numbers(sheet, row, 4, [
                    (item.largest, self.signed), (item.largest_mm, self.position),
                    (item.smallest, self.signed), (item.smallest_mm, self.position),
                ])  # fmt: skip
                sheet.write_string(row, 8, self.say.direction(quantity.on_screen), self.plain)
        self._curves(sheet, row + 3)

    def _curves(self, sheet: Any, row: int) -> None:
        """Mean deviations of each quantity in two columns and their chart to the right."""
        for index, quantity in enumerate(self.content.quantities):
            unit = UNITS[quantity.code.kind]
            heads = [self.say.of("report.column_position"), f"{self.say.named(quantity.code)} {unit}"]
            self._strings(sheet, row, heads, self.head)
            for offset, (place, value) in enumerate(
                zip(quantity.position_mm, quantity.deviation, strict=True), start=1
            ):
                self._numbers(sheet, row + offset, 0, [(place, self.position), (value, self.signed)])
            last = row + len(quantity.position_mm)
            sheet.insert_chart(row, 3, self._chart(sheet.get_name(), quantity, row + 1, last, index))
            row = max(last, row + 18) + 3

    def _chart(self, sheet: str, quantity: QuantityContent, first: int, last: int, index: int) -> Any:
        chart = self.book.add_chart({"type": "scatter", "subtype": "straight_with_markers"})
        name = self.say.named(quantity.code)
        chart.add_series(
            {
                "name": name,
                "categories": [sheet, first, 0, last, 0],
                "values": [sheet, first, 1, last, 1],
                "line": {"color": _INK, "width": 1.5},
                "marker": {"type": "circle", "size": 5, "fill": {"color": _INK}, "border": {"color": _INK}},
            }
        )
        zero = self.content.setup.zero
        font = {"name": FAMILY, "color": _MUTE, "size": 9, "bold": False}
        chart.set_title({"name": name, "name_font": {**font, "color": _INK, "size": 11}})
        chart.set_x_axis(
            {"name": self.say.of("report.column_position"), "reverse": zero is not None and zero.sense < 0,
             "label_position": "low", "name_font": font, "num_font": font, "num_format": "0"}
        )  # fmt: skip
        direction = self.say.of("drawing.positive", direction=self.say.direction(quantity.on_screen))
        chart.set_y_axis(
            {"name": f"{UNITS[quantity.code.kind]}, {direction}", "name_font": font, "num_font": font,
             "num_format": "+0;\N{MINUS SIGN}0;0", "major_gridlines": {"visible": True, "line": {"color": _LINE}}}
        )  # fmt: skip
        chart.set_legend({"none": True})
        chart.set_size({"width": 720, "height": 320})
        chart.set_chartarea({"border": {"none": True}})
        return chart

    def _readings(self, sheet: Any) -> None:
        sheet.freeze_panes(1, 0)
        sheet.set_column(0, 20, 13)
        columns = self._columns()
        heads = [self.say.of("report.column_pass"), self.say.of("report.column_position"),
                 self.say.of("report.column_direction")]  # fmt: skip
        for quantity in self.content.quantities:
            if quantity.code.text in columns:
                heads += [self._heading(quantity), self.say.of("report.column_sd"), "n"]
        self._strings(sheet, 0, heads, self.head)
        row = 1
        for each in self.content.passes:
            for station in range(each.profile.position_mm.size):
                self._reading(sheet, row, each, station)
                row += 1

    def _columns(self) -> set[str]:
        return {column.code.text for each in self.content.passes for column in each.profile.columns}

    def _heading(self, quantity: QuantityContent) -> str:
        direction = self.say.of("drawing.positive", direction=self.say.direction(quantity.on_screen))
        return f"{self.say.named(quantity.code)} {UNITS[quantity.code.kind]}, {direction}"

    def _reading(self, sheet: Any, row: int, each: PassContent, station: int) -> None:
        sheet.write_number(row, 0, each.number, self.plain)
        self._numbers(sheet, row, 1, [(float(each.profile.position_mm[station]), self.position)])
        direction = each.profile.direction[station] if each.profile.direction else None
        sheet.write_string(row, 2, self.say.of(f"report.direction.{direction}") if direction else "", self.plain)
        at, known = 3, self._columns()
        for quantity in self.content.quantities:
            column = each.profile.column(quantity.code.text)
            if column is not None:
                self._numbers(sheet, row, at, [
                    (float(column.screen[station]), self.signed),
                    (float(column.standard_deviation[station]), self.figure),
                    (float(column.samples[station]) or math.nan, self.plain),
                ])  # fmt: skip
            at += 3 if quantity.code.text in known else 0

    def _about(self, sheet: Any) -> None:
        sheet.hide_gridlines(2)
        sheet.set_column(0, 0, 34)
        sheet.set_column(1, 5, 40)
        row = self._title(sheet)
        row = self._pairs(sheet, row, "report.heading_summary", job_facts(self.content))
        row = self._pairs(sheet, row, "report.heading_setup", setup_facts(self.content))
        for result in self.content.further:
            sheet.write_string(row, 0, self.say.of(f"report.further.{result.kind}"), self.bold)
            pairs = [("", self.say.said(found)) for found in result.said]
            row = self._pairs(sheet, row + 1, "report.heading_further", pairs)
        for each in self.content.passes:
            sheet.write_string(row, 0, self.say.pass_name(each.number, each.direction), self.bold)
            row = self._pairs(sheet, row + 1, "report.heading_conditions", condition_facts(self.content, each))
        row = self._pairs(sheet, row, "report.heading_events", [("", words) for words in event_sentences(self.content)])
        sheet.write_string(row, 0, self.say.of("report.heading_instruments"), self.head)
        for cells in instrument_rows(self.content):
            row += 1
            self._strings(sheet, row, list(cells))
        self._pairs(sheet, row + 2, "report.heading_origin", origin_facts(self.content))

    def _title(self, sheet: Any) -> int:
        sheet.write_string(0, 0, self.say.heading(), self.bold)
        if self.content.machine.invented:
            sheet.write_string(1, 0, self.say.of("report.invented"), self.plain)
        return 3

    def _pairs(self, sheet: Any, row: int, heading: str, pairs: Pairs) -> int:
        sheet.write_string(row, 0, self.say.of(heading), self.head)
        for offset, pair in enumerate(pairs, start=1):
            self._strings(sheet, row + offset, list(pair))
        return row + len(pairs) + 2

    def _strings(self, sheet: Any, row: int, cells: list[str], style: Any = None) -> None:
        for column, cell in enumerate(cells):
            sheet.write_string(row, column, cell, style or self.plain)

    def _numbers(self, sheet: Any, row: int, column: int, cells: list[tuple[float, Any]]) -> None:
        """Numbers side by side; a cell stays empty where there is none."""
        for offset, (value, style) in enumerate(cells):
            if math.isfinite(value):
                sheet.write_number(row, column + offset, value, style)
