"""Judge: curves, the reference line switched in place, values about every line, what was left out and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fastapi import Response
from nicegui import ui

from waywright.errors import WaywrightError
from waywright.jobs.measured import MeasuredLine, measured_line, results_of_line
from waywright.machine import Machine
from waywright.quantities import Code
from waywright.visit import Line
from waywright.web.curves import curve_of, judged, local_sentences, result_heads, result_rows, reversal_words
from waywright.web.desk import Desk
from waywright.web.display import as_now
from waywright.web.elements import To, Words, box, choice, markup, note
from waywright.web.frame import WayDrawing, head
from waywright.web.opened import open_thing
from waywright.web.plain_page import nothing_here
from waywright.web.saying import columns_of, heading_of, references, straight_codes, table_markup
from waywright.web.scenes import mean_scene
from waywright.wording import text


def register(desk: Desk) -> None:
    """The page at ``/line/<id>/judge``."""

    @ui.page("/line/{identity}/judge")
    def judge(identity: str) -> Response | None:
        try:
            machine, _, line = desk.line(identity)
        except WaywrightError as error:
            return nothing_here(error)
        head(text("web.judge"), line=line, machine=machine, here="judge")
        JudgePage(desk, machine, line)
        return None


@dataclass(slots=True)
class Choices:
    """What this page looks at."""

    reference: str = "least-squares"
    quantity: str = ""
    window_mm: float | None = None
    tolerance_um: float | None = None
    earlier: str = ""


class JudgePage:
    """One open page."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._chosen = Choices()
        measured = self._measured()
        codes = [column.code for column in columns_of(measured)]
        self._chosen.quantity = codes[0].text if codes else ""
        self._drawing = WayDrawing(machine, self._open)
        with box("page one"):
            if codes:
                self._controls(codes, measured)
            self._results = box("stack")
            self._curves = box("curves")
        self._show("phase")
        desk.changed.subscribe(as_now(self._show))

    def _measured(self) -> MeasuredLine:
        running = self._desk.state_of(self._line.id).phase == "armed"
        return judged(self._desk.measured(self._line), running)

    def _controls(self, codes: list[Code], measured: MeasuredLine) -> None:
        with box("row"):
            options = [(item.text, heading_of(item, self._machine)) for item in codes]
            choice(options, self._chosen.quantity, lambda to: self._change(quantity=to), text("web.quantity"))
            choice(references(), self._chosen.reference, lambda to: self._change(reference=to), text("web.line"))
        with box("row judge-row"):
            self._window(measured)
            allowed = (
                ui.number(text("web.allowed"), min=0.1, step=1).props("outlined square stack-label").classes("short")
            )
            allowed.on_value_change(lambda event: self._change(tolerance_um=_positive(event.value)))
            self._comparison()

    def _window(self, measured: MeasuredLine) -> None:
        """The window of local straightness; at the left end it is off."""
        positions = measured.passes[-1].profile.position_mm
        longest = max(int((positions.max() - positions.min()) // 50 * 50), 100)
        with box("window"):
            said = Words(text("web.window_off"), "mute")
            slider = ui.slider(min=0, max=longest, step=50, value=0).props(f'aria-label="{text("web.window_label")}"')

        def moved(event: Any) -> None:
            window_mm = float(event.value) or None
            said.set_text(text("web.window", window_mm=window_mm) if window_mm else text("web.window_off"))
            self._change(window_mm=window_mm)

        slider.on_value_change(moved)

    def _comparison(self) -> None:
        """Earlier lines of the same axis at this machine."""
        found = {"": text("web.compare_none")}
        for visit in self._desk.archive.visits(self._machine.id):
            for line in self._desk.archive.lines(visit.id):
                if line.id != self._line.id and line.axis == self._line.axis and self._desk.archive.passes(line.id):
                    found[str(line.id)] = (
                        f"{visit.began_utc:%Y-%m-%d %H:%M} {line.name}, {text(f'web.state.{line.state}')}"
                    )
        if len(found) > 1:
            select = ui.select(found, label=text("web.compare"), value="").props("outlined square stack-label")
            select.classes("compare").on_value_change(lambda event: self._change(earlier=str(event.value or "")))

    # ------------------------------------------------------------------------------------- showing

    def _change(self, **chosen: Any) -> None:
        for name, value in chosen.items():
            setattr(self._chosen, name, value)
        self._show("choice")

    def _show(self, what: str) -> None:
        measured = self._measured()
        self._results.clear()
        with self._results:
            try:
                self._show_all(measured)
            except WaywrightError as error:
                note(str(error), "bad")
                self._curves.clear()

    def _show_all(self, measured: MeasuredLine) -> None:
        if not measured.passes:
            Words(text("web.nothing_to_judge"), "mute", "p")
            To(text("web.take"), f"/line/{self._line.id}/take", "press next")
            return
        chosen = self._chosen
        quantity = next(c.code for c in columns_of(measured) if c.code.text == (chosen.quantity or c.code.text))
        self._drawing.show(mean_scene(measured, quantity, self._reference(quantity), chosen.tolerance_um))
        self._show_results(measured)
        self._show_curves(measured)

    def _reference(self, quantity: Code) -> str:
        return self._chosen.reference if quantity.is_straightness else "none"

    def _show_results(self, measured: MeasuredLine) -> None:
        if not straight_codes(measured):
            return
        results = results_of_line(measured, self._chosen.reference, self._chosen.window_mm)
        with box("sheet", "section"):
            rows = [(None, cells) for _, cells in result_rows(results, self._machine)]
            markup(table_markup(result_heads(), rows, look="worded"), "scroll")
            Words(text("web.results_words"), "mute small", "p")
            for sentence in local_sentences(results, self._machine):
                note(sentence)
            for item in straight_codes(measured):
                if sentence := reversal_words(measured, item):
                    Words(sentence, "small", "p")
            self._left_out(measured)

    def _left_out(self, measured: MeasuredLine) -> None:
        for single in measured.passes:
            for item in self._desk.archive.exclusions(single.taken.id):
                note(text("web.left_out_of", number=single.taken.number, reason=item.reason))
        Words(text("web.how_to_leave_out"), "mute small", "p")

    def _show_curves(self, measured: MeasuredLine) -> None:
        earlier = self._earlier()
        self._curves.clear()
        with self._curves:
            for column in columns_of(measured):
                drawn = curve_of(measured, column.code, self._chosen.reference, self._chosen.tolerance_um, earlier)
                with box("sheet curve", "section"):
                    for name, svg in drawn.items():
                        markup(svg, f"way-{name}")

    def _earlier(self) -> MeasuredLine | None:
        if not self._chosen.earlier:
            return None
        _, _, line = self._desk.line(self._chosen.earlier)
        found = judged(measured_line(self._desk.archive, line), running=False)
        return found if found.passes else None

    def _open(self, support: str | None, position_mm: float | None) -> None:
        open_thing(self._desk, self._machine, self._line, support, position_mm)


def _positive(value: Any) -> float | None:
    return float(value) if value and float(value) > 0 else None
