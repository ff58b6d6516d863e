"""Prove: the report as it will be, beside what is not recorded yet, what is to be said, and the photos."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from fastapi import Response
from nicegui import background_tasks, ui

from waywright.clocks import SystemClock
from waywright.errors import WaywrightError
from waywright.jobs.complete import Gap, add_later, gaps, later_entries, overdue
from waywright.jobs.line_again import AS_LEFT
from waywright.jobs.measured import MeasuredLine
from waywright.machine import Machine
from waywright.visit import Line
from waywright.web.desk import Desk
from waywright.web.display import display
from waywright.web.elements import Press, To, Words, box, choice, field, note, tried
from waywright.web.frame import WayDrawing, head
from waywright.web.opened import open_thing
from waywright.web.pages.prove_added import notes_sheet, photos_sheet
from waywright.web.pages.trust import newest
from waywright.web.plain_page import nothing_here
from waywright.web.report_shelf import MEDIA, ReportShelf, Wish
from waywright.web.saying import columns_of, references
from waywright.web.scenes import mean_scene
from waywright.web.signature_pad import signing_sheet
from waywright.wording import text


def register(desk: Desk, shelf: ReportShelf) -> None:
    """The page at ``/line/<id>/prove``."""

    @ui.page("/line/{identity}/prove")
    def prove(identity: str) -> Response | None:
        try:
            machine, _, line = desk.line(identity)
        except WaywrightError as error:
            return nothing_here(error)
        head(text("web.prove"), line=line, machine=machine, here="prove")
        ProvePage(desk, shelf, machine, line).show()
        return None


@dataclass(slots=True)
class _Missing:
    """A form for one gap."""

    gap: Gap
    value: str = ""


class ProvePage:
    """One open page."""

    def __init__(self, desk: Desk, shelf: ReportShelf, machine: Machine, line: Line) -> None:
        self._desk, self._shelf, self._machine, self._line = desk, shelf, machine, line
        self._asked = 0
        self._wish = Wish(language=display().language)  # type: ignore[arg-type]
        self._drawing = WayDrawing(machine, lambda support, at: open_thing(desk, machine, line, support, at))
        with box("page wide-left"):
            with box("stack"):
                self._choices()
                self._files = box("row")
                self._paper = box("stack")
            with box("stack"):
                self._missing = box("stack")
                if desk.archive.passes(line.id):
                    notes_sheet(desk, line, self.show)
                    photos_sheet(desk, line)
                    signing_sheet(desk, shelf, line, lambda: self._wish, self.show)
                self._again()

    def _choices(self) -> None:
        """What the report is of, about which line, in which language."""
        scopes = [(name, text(f"prove.scope_{name}")) for name in ("line", "visit")]
        languages = [(name, text(f"prove.language_{name.replace('en+de', 'both')}")) for name in ("en", "de", "en+de")]
        papers = [(name, text(f"prove.paper_{name}")) for name in ("a4", "us-letter")]
        with box("row"):
            choice(scopes, self._wish.scope, lambda to: self._wished(scope=to), text("prove.scope"))
            choice(references(), self._wish.reference, lambda to: self._wished(reference=to), text("web.line"))
        with box("row"):
            choice(languages, self._wish.language, lambda to: self._wished(language=to), text("prove.language"))
            choice(papers, self._wish.paper, lambda to: self._wished(paper=to), text("prove.paper"))

    def _wished(self, **wanted: Any) -> None:
        self._wish = replace(self._wish, **wanted)
        self.show()

    def show(self) -> None:
        """What the report lacks, at once; its pages as soon as they are set."""
        measured = self._desk.measured(self._line)
        columns = columns_of(measured)
        if not columns:
            note(text("web.nothing_to_prove"))
            return
        self._show_files()
        self._show_missing(measured)
        self._drawing.show(mean_scene(measured, columns[0].code, self._wish.reference))
        self._asked += 1
        self._paper.clear()
        with self._paper:
            Words(text("prove.setting"), "mute")
        background_tasks.create(self._set(self._asked), name="report")

    async def _set(self, asked: int) -> None:
        """The pages; what was asked meanwhile comes first."""
        try:
            pages, problem = await self._shelf.pictures(self._line, self._wish), ""
        except WaywrightError as error:
            pages, problem = (), str(error)
        if asked != self._asked or self._paper.is_deleted:
            return
        if problem:
            self._paper.clear()
            with self._paper:
                note(problem, "bad")
            return
        self._show_paper(len(pages))

    def _show_files(self) -> None:
        self._files.clear()
        with self._files:
            for ending in MEDIA:
                address = f"/line/{self._line.id}/report.{ending}?{self._wish.query}"
                link = To(text(f"web.file_{ending}"), address, "press next" if ending == "pdf" else "press")
                link.props("download")
            To(text("prove.visit_file"), f"/visit/{self._line.visit_id}/visit.json.gz", "press").props("download")

    def _show_paper(self, pages: int) -> None:
        self._paper.clear()
        with self._paper:
            Words(text("web.report_pages", pages=pages), "mute small")
            for number in range(1, pages + 1):
                asked = f"?{self._wish.query}&revision={self._desk.revision}"
                picture = ui.element("img").classes("paper-page")
                picture._props["src"] = f"/line/{self._line.id}/report/{number}.png{asked}"
                picture._props["alt"] = text("web.page_of", number=number, pages=pages)
                picture._props["loading"] = "lazy"

    # ------------------------------------------------------------------------------------- what is missing

    def _show_missing(self, measured: MeasuredLine) -> None:
        self._missing.clear()
        with self._missing:
            with box("sheet", "section"):
                Words(text("web.missing_title"), tag="h2")
                found = gaps(measured)
                Words(text("web.missing_words") if found else text("web.nothing_missing"), "mute", "p")
                for item in overdue(measured):
                    note(text("web.overdue", title=item.title, due=item.due), "bad")
                self._not_tested()
                for gap in found:
                    self._form(gap, measured)
            self._later(measured)

    def _not_tested(self) -> None:
        """A report says so where nobody proved the directions or recorded the steadiness."""
        known = newest(self._desk, self._line)
        for test in ("direction", "steadiness"):
            if test not in known:
                with box("row apart"):
                    note(text(f"prove.no_{test}"))
                    To(text("prove.make_it"), f"/line/{self._line.id}/trust?test={test}")

    def _form(self, gap: Gap, measured: MeasuredLine) -> None:
        label = text(f"web.fact.{gap.name}")
        missing = _Missing(gap)
        with box("gap"):
            if gap.options:
                choices = {option: _option(gap.name, option) for option in gap.options}
                given: ui.input | ui.select = (
                    ui.select(choices, label=label).props("outlined square stack-label").classes("grow")
                )
            else:
                given = field(label, classes="grow")
            given.on_value_change(lambda event: setattr(missing, "value", str(event.value or "")))
            press = Press(text("web.record"), lambda: self._record(missing, measured)).mark(f"record-{gap.name}")
            press._props["aria-label"] = f"{text('web.record')}: {label}"

    def _record(self, missing: _Missing, measured: MeasuredLine) -> None:
        try:
            add_later(self._desk.archive, measured, missing.gap.name, missing.value, SystemClock())
        except WaywrightError as error:
            with self._missing:
                note(str(error), "bad").move(target_index=0)
            return
        self._desk.touched()
        self.show()

    def _later(self, measured: MeasuredLine) -> None:
        entries = later_entries(self._desk.archive, measured)
        if not entries:
            return
        with box("sheet", "section"):
            Words(text("web.later_title"), tag="h3")
            with box("list small", "ul"):
                for entry in entries:
                    Words(
                        text(
                            "web.later",
                            kind=text(f"web.kind.{entry.kind}"),
                            day=f"{entry.recorded_utc:%Y-%m-%d %H:%M} UTC",
                        ),
                        tag="li",
                    )

    def _again(self) -> None:
        """The same line as left, where this one is as found."""
        if self._line.state == AS_LEFT or not self._desk.archive.passes(self._line.id):
            return
        with box("sheet", "section"):
            Words(text("prove.as_left_words"), "mute", "p")

            async def again() -> None:
                line = await self._desk.measure_again(self._line)
                ui.navigate.to(f"/line/{line.id}/take")

            problem = note("", "bad")
            problem.set_visibility(False)
            Press(text("prove.as_left"), tried(again, problem))


def _option(name: str, option: str) -> str:
    return option if name == "zero" else text(f"web.option.{option}")
