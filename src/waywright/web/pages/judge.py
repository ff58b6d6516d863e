"""Judge: curves, the reference line switched in place, values with their uncertainty and verdict, what was left out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fastapi import Response
from nicegui import background_tasks, ui

from waywright.errors import BadInput, WaywrightError
from waywright.jobs.evidence import sentences
from waywright.jobs.guard_gates import compared_states
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.line_bow import challenged
from waywright.jobs.measured import MeasuredLine, measured_line, results_of_line
from waywright.jobs.plans import planned
from waywright.machine import Machine
from waywright.quantities import Code
from waywright.verdict import tolerance
from waywright.visit import Line
from waywright.web.bed_view import bed_view
from waywright.web.curves import curve_of, judged, local_sentences, result_heads, result_rows, reversal_words
from waywright.web.desk import Desk
from waywright.web.display import as_now, deviation, unit_for
from waywright.web.elements import To, Words, box, choice, field, markup, note
from waywright.web.frame import WayDrawing, head
from waywright.web.opened import open_thing
from waywright.web.pages.judge_stated import BUDGETS, StatedShelf, order_of, show_stated
from waywright.web.plain_page import nothing_here
from waywright.web.saying import columns_of, heading_of, references, straight_codes, table_markup, word_of
from waywright.web.scenes import mean_scene
from waywright.wording import text

BURDENS = ("supplier", "customer", "shared", "simple")


def register(desk: Desk) -> None:
    """The page at ``/line/<id>/judge``."""
    shelf = StatedShelf(desk)

    @ui.page("/line/{identity}/judge")
    def judge(identity: str) -> Response | None:
        try:
            machine, _, line = desk.line(identity)
        except WaywrightError as error:
            return nothing_here(error)
        head(text("web.judge"), line=line, machine=machine, here="judge")
        ui.add_body_html('<script src="/static/bed.js" defer></script>')
        JudgePage(desk, shelf, machine, line)
        return None


@dataclass(slots=True)
class Choices:
    """What this page looks at."""

    reference: str = "least-squares"
    quantity: str = ""
    window_mm: float | None = None
    rule: str = ""
    budget: str = ""
    burden: str = "supplier"
    earlier: str = ""


class JudgePage:
    """One open page."""

    def __init__(self, desk: Desk, shelf: StatedShelf, machine: Machine, line: Line) -> None:
        self._desk, self._shelf, self._machine, self._line = desk, shelf, machine, line
        self._chosen = Choices()
        self._shown = 0
        measured = self._measured()
        codes = [column.code for column in columns_of(measured)]
        self._chosen.quantity = codes[0].text if codes else ""
        self._chosen.rule = self._planned_rule()
        self._drawing = WayDrawing(machine, self._open)
        with box("page one"):
            if codes:
                self._controls(codes, measured)
            self._results = box("stack")
            self._curves = box("curves")
            self._bed = box("stack")
        self._show("phase")
        desk.changed.subscribe(as_now(self._show))

    def _measured(self) -> MeasuredLine:
        running = self._desk.state_of(self._line.id).phase == "armed"
        return judged(self._desk.measured(self._line), running)

    def _planned_rule(self) -> str:
        """The rule that the plan of the visit has for what is looked at."""
        found = planned(self._desk.archive, self._line, self._chosen.quantity) if self._chosen.quantity else None
        return found.item.tolerance.rule if found is not None and found.item.tolerance is not None else ""

    def _controls(self, codes: list[Code], measured: MeasuredLine) -> None:
        with box("row"):
            options = [(item.text, heading_of(item, self._machine)) for item in codes]
            choice(options, self._chosen.quantity, lambda to: self._change(quantity=to), text("web.quantity"))
            choice(references(), self._chosen.reference, lambda to: self._change(reference=to), text("web.line"))
        with box("row judge-row"):
            rule = field(text("judge.rule"), self._chosen.rule, "rule").props("debounce=700")
            rule.on_value_change(lambda event: self._change(rule=str(event.value or "")))
            budgets = {"": text("judge.budget_ready"), **{name: text(f"judge.budget_{name}") for name in BUDGETS}}
            self._select(text("judge.budget_label"), budgets, "budget")
            burdens = {name: text(f"judge.burden_{name}") for name in BURDENS}
            self._select(text("judge.burden_label"), burdens, "burden")
        with box("row judge-row"):
            self._window(measured)
            self._comparison()

    def _select(self, label: str, options: dict[str, str], name: str) -> None:
        made = ui.select(options, label=label, value=getattr(self._chosen, name))
        made.props("outlined square stack-label").classes("compare")
        made.on_value_change(lambda event: self._change(**{name: str(event.value or "")}))

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
            self._select(text("web.compare"), found, "earlier")

    # ------------------------------------------------------------------------------------- showing

    def _change(self, **chosen: Any) -> None:
        for name, value in chosen.items():
            setattr(self._chosen, name, value)
        self._show("choice")

    def _show(self, what: str) -> None:
        measured = self._measured()
        self._shown += 1
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
        quantity = next(c.code for c in columns_of(measured) if c.code.text == (self._chosen.quantity or c.code.text))
        allowed = self._allowed_um(measured)
        self._drawing.show(mean_scene(measured, quantity, self._reference(quantity), allowed))
        self._show_results(measured, allowed)
        earlier = self._earlier()
        self._show_curves(measured, allowed, earlier)
        self._bed.clear()
        with self._bed:
            bed_view(measured, self._chosen.reference, earlier)

    def _allowed_um(self, measured: MeasuredLine) -> float | None:
        """The one limit of the rule for this length, where it has one: the band in the drawings."""
        rule = self._chosen.rule.strip()
        if not rule:
            return None
        positions = measured.passes[-1].profile.position_mm
        try:
            return tolerance(rule).limit_um(float(positions.max() - positions.min()))
        except BadInput as problem:
            if problem.key == "verdict.no_single_limit":
                return None
            raise

    def _reference(self, quantity: Code) -> str:
        return self._chosen.reference if quantity.is_straightness else "none"

    def _show_results(self, measured: MeasuredLine, allowed_um: float | None) -> None:
        if not straight_codes(measured):
            return
        results = results_of_line(measured, self._chosen.reference, self._chosen.window_mm)
        counts = {result.code: result for result in results}
        with box("sheet", "section") as place:
            self._state(place, measured, counts)
        with box("sheet", "section"):
            for sentence in local_sentences(results, self._machine):
                note(sentence)
            for item in straight_codes(measured):
                if sentence := reversal_words(measured, item):
                    Words(sentence, "small", "p")
            self._bow(measured, allowed_um)
            self._left_out(measured)
            with box("passes", "details"):
                Words(text("judge.every_pass"), tag="summary")
                rows = [(None, cells) for _, cells in result_rows(results, self._machine)]
                markup(table_markup(result_heads(), rows, look="worded"), "scroll")
                Words(text("web.results_words"), "mute small", "p")

    def _state(self, place: ui.element, measured: MeasuredLine, counts: dict[str, StraightnessResult]) -> None:
        """The values now, their uncertainty when it has been worked out; what is asked meanwhile comes first."""
        shown, chosen = self._shown, self._chosen
        order = order_of(chosen.rule, chosen.budget, chosen.burden)

        async def state() -> None:
            with place:
                wanted = lambda: shown == self._shown and not place.is_deleted  # noqa: E731
                await show_stated(self._shelf, measured, counts, order, wanted)

        background_tasks.create(state(), name="stated")

    def _bow(self, measured: MeasuredLine, allowed_um: float | None) -> None:
        """Whether the bow of the height can be believed, before anybody turns a support for it."""
        found = challenged(measured, allowed_um or 20.0)
        if found is not None:
            sentence = text(found.why.key, **found.why.facts)
            note(sentence, "good" if found.belief.value == "believe" else "bad")

    def _left_out(self, measured: MeasuredLine) -> None:
        for single in measured.passes:
            for item in self._desk.archive.exclusions(single.taken.id):
                note(text("web.left_out_of", number=single.taken.number, reason=item.reason))
        Words(text("web.how_to_leave_out"), "mute small", "p")

    def _show_curves(self, measured: MeasuredLine, allowed_um: float | None, earlier: MeasuredLine | None) -> None:
        self._curves.clear()
        with self._curves:
            self._unlike(measured, earlier)
            for column in columns_of(measured):
                drawn = curve_of(measured, column.code, self._chosen.reference, allowed_um, earlier)
                with box("sheet curve", "section"):
                    for name, svg in drawn.items():
                        markup(svg, f"way-{name}")
                    if earlier is not None:
                        self._compared(measured, earlier, column.code)

    @staticmethod
    def _unlike(measured: MeasuredLine, earlier: MeasuredLine | None) -> None:
        """What speaks against the comparison, before it is drawn."""
        states = None if earlier is None else compared_states(earlier, measured)
        for objection in sentences(states.objections if states else ()):
            note(objection, "bad")

    def _compared(self, measured: MeasuredLine, earlier: MeasuredLine, quantity: Code) -> None:
        """Then and now in one sentence."""
        if not quantity.is_straightness or quantity.text not in earlier.codes():
            return
        values = []
        for line in (earlier, measured):
            results = results_of_line(line, self._chosen.reference, None)
            counts = {result.code: result for result in results}[quantity.text]
            values.append(deviation(quantity, counts.chosen.value_um).lstrip("+"))
        day, state = f"{earlier.visit.began_utc:%Y-%m-%d}", text(f"web.state.{earlier.line.state}")
        word = word_of(quantity, self._machine)
        unit = unit_for(quantity).word
        Words(
            text("judge.compared", word=word, day=day, state=state, then=values[0], now=values[1], unit=unit), tag="p"
        )

    def _earlier(self) -> MeasuredLine | None:
        if not self._chosen.earlier:
            return None
        _, _, line = self._desk.line(self._chosen.earlier)
        found = judged(measured_line(self._desk.archive, line), running=False)
        return found if found.passes else None

    def _open(self, support: str | None, position_mm: float | None) -> None:
        open_thing(self._desk, self._machine, self._line, support, position_mm)
