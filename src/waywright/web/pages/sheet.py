"""One sheet: the place that comes next, type, Enter, next; below it every row with its verdict as it stands."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui import ui

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.errors import WaywrightError
from waywright.jobs.sheet_content import filled_content, place_words, row_content, summary_words
from waywright.jobs.sheet_files import agree, file_stem, sheet_json
from waywright.jobs.sheet_fill import CONFIRMED_BY, Kept, SheetFill
from waywright.jobs.sheet_judge import Known, sheet_result
from waywright.jobs.sheet_keep import entries, find_sheet, machine_of
from waywright.jobs.typing_in import Doubt
from waywright.report.sheet_pdf import sheet_pdf
from waywright.report.sheet_workbook import sheet_workbook
from waywright.visit.sheet import MeasuringSheet, SheetRow
from waywright.web.desk import Desk
from waywright.web.elements import Press, To, Words, box, field, note, tried
from waywright.web.frame import head
from waywright.web.pages.sheet_level import level_sheet
from waywright.web.pages.sheet_parts import EntryView, RowView, doubt_words
from waywright.wording import text

ROWS_AFTER_S = 0.15


def register(desk: Desk) -> None:
    """The page at ``/sheet/{id}``."""

    @ui.page("/sheet/{identity}")
    def sheet(identity: str) -> None:
        try:
            kept = find_sheet(desk.archive, identity)
        except WaywrightError as error:
            head(text("sheet.page.title"))
            note(str(error), "bad")
            return
        _Page(desk, kept)


class _Page:
    """What one person sees of a sheet; every action opens the archive anew, so that two may fill the same sheet."""

    def __init__(self, desk: Desk, kept: MeasuringSheet) -> None:
        self._desk, self._kept = desk, kept
        self._doubt: Doubt | None = None
        self._here: int | None = SheetFill(desk.archive, kept, SystemClock()).here_index
        self._known: Known = {}
        self._due = False
        self._entries = entries(kept)
        machine, _ = machine_of(desk.archive, kept)
        head(kept.title, machine=machine)
        ui.add_head_html('<link rel="stylesheet" href="/static/sheet.css">')
        ui.add_body_html('<script src="/static/sheet.js" defer></script>')
        with box("page wide-left sheet-page"):
            with box("stack"):
                with box("row apart"):
                    Words(kept.title, tag="h1")
                    To(text("sheet.page.all"), "/sheets", "press quiet")
                if kept.note:
                    Words(kept.note, "small mute", "p")
                self._summary = Words("", "", "p")
                with box("sheet-rows", "ol"):
                    self._rows = {row.number: self._row_view(row) for row in kept.rows}
            with box("stack sheet-entry"):
                self._entry = EntryView(self._entered, self._undo, self._leave)
                level_sheet(desk, lambda: self._kept)
                self._limit()
                self._papers()
        self._show()

    def _row_view(self, row: SheetRow) -> RowView:
        first = next((entry.index for entry in self._entries if entry.row is row), 0)
        return RowView(row.number, first, self._go, self._again)

    def _papers(self) -> None:
        with box("sheet", "section"):
            Words(text("sheet.page.papers"), tag="h2")
            with box("row"):
                for ending in ("pdf", "xlsx", "json"):
                    Press(text(f"sheet.page.{ending}"), lambda ending=ending: self._paper(ending))

    def _limit(self) -> None:
        """The limit of the row that is being read, as it was agreed on."""
        problem = note("", "bad")
        problem.set_visibility(False)

        def write() -> None:
            if self._here is not None:
                number = self._entries[self._here].row.number
                agree(self._desk.archive_path, str(self._kept.id), number, str(rule.value or ""))
                self._kept = find_sheet(self._desk.archive, str(self._kept.id))
                self._entries = entries(self._kept)
                rule.value = ""
                self._show()

        with box("sheet", "section"), box("row"):
            rule = field(text("sheet.page.limit"))
            Press(text("sheet.page.limit_press"), tried(write, problem))

    def _entered(self, said: str, seen: str, by: str) -> None:
        """A number from the page. While a question is open only an answer to it counts: ``seen`` says whether the
        question stood there when the number was typed."""
        doubt, confirmed = self._doubt, by if by in CONFIRMED_BY else CONFIRMED_BY[0]
        if doubt is not None and seen != "doubt":
            self._entry.refuse(text("sheet.page.answer_first", said=said))
        elif said.strip():
            self._do(lambda fill: fill.enter(said, by=confirmed))
        elif doubt is not None:
            self._do(lambda fill: fill.enter(doubt.typed.said, sure=True, by=confirmed))

    def _undo(self) -> None:
        if self._doubt is not None:
            self._doubt = None
            self._show()
        else:
            self._do(lambda fill: fill.undo())

    def _leave(self) -> None:
        self._do(lambda fill: fill.pass_over())

    def _go(self, number: str) -> None:
        self._do(lambda fill: fill.go_to(number))

    def _again(self, index: int) -> None:
        self._do(lambda fill: fill.stand_at(index))

    def _do(self, step: Callable[[SheetFill], Any]) -> None:
        """One step in an archive of its own, so that the right to capture is given back at once."""
        try:
            with open_archive(self._desk.archive_path) as archive:
                fill = SheetFill(archive, self._kept, SystemClock())
                if self._here is not None:
                    fill.stand_at(self._here)
                found = step(fill)
                self._here = fill.here_index
        except WaywrightError as error:
            self._entry.refuse(str(error))
            return
        self._doubt = found if isinstance(found, Doubt) else None
        if isinstance(found, Kept):
            self._entry.kept(place_words(found.entry.place, found.entry.state), found.said)
        self._desk.touched()
        self._show(fill)

    def _show(self, fill: SheetFill | None = None) -> None:
        """The next place at once; the rows a moment later, once for all that was typed by then."""
        shown = fill or SheetFill(self._desk.archive, self._kept, SystemClock())
        if fill is None and self._here is not None:
            shown.stand_at(self._here)
        self._entry.show(shown, self._here is None, self._doubt is not None)
        if self._doubt is not None:
            self._entry.refuse(doubt_words(self._doubt, shown))
        if not self._due:
            self._due = True
            ui.timer(ROWS_AFTER_S, self._show_rows, once=True)

    def _show_rows(self) -> None:
        self._due = False
        result = sheet_result(self._desk.archive, self._kept, known=self._known)
        self._summary.set_text(summary_words(result))
        here = None if self._here is None else self._entries[self._here].row.number
        for row in result.rows:
            self._rows[row.number].show(row_content(row), row.number == here)

    def _paper(self, ending: str) -> None:
        archive = self._desk.archive
        result = sheet_result(archive, self._kept, known=self._known)
        content = filled_content(archive, self._kept, result)
        data = {"pdf": sheet_pdf, "xlsx": sheet_workbook}[ending](content) if ending != "json" else sheet_json(result)
        ui.download.content(data, f"{file_stem(content.heading)}.{ending}")
