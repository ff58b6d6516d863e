"""Correct: how much work for how much straightness, the plan on the way drawing, round by round."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import Any

from fastapi import Response
from nicegui import ui

from waywright.correct.notes import Note
from waywright.drawing import WayScene
from waywright.errors import WaywrightError
from waywright.jobs.correct import Correction, CorrectionOrder, correction_of_line, names, summary
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.rounds import belief_for, keep_plan, measured_again, rounds_of
from waywright.machine import Machine
from waywright.visit import Line
from waywright.visit.adjustment import Adjustment
from waywright.web.adjusting import turn_in_short
from waywright.web.curves import judged
from waywright.web.desk import Desk
from waywright.web.display import as_now, bare_length, length_as_shown
from waywright.web.elements import Press, To, Words, box, field, markup, note, number, tried
from waywright.web.frame import WayDrawing, head
from waywright.web.lengths import LengthField
from waywright.web.opened import open_thing
from waywright.web.pages.correct_bow import bow_gate
from waywright.web.pages.correct_else import else_sheet
from waywright.web.pages.correct_history import history_sheet
from waywright.web.pages.correct_round import RoundSheet
from waywright.web.plain_page import nothing_here
from waywright.web.saying import straight_codes, table_markup
from waywright.web.scenes import mean_scene
from waywright.wording import text

_CHOOSES = "(event) => { const row = event.target.closest('[data-opens]'); if (row) emit(row.dataset.opens); }"


def register(desk: Desk) -> None:
    """The page at ``/line/<id>/correct``."""

    @ui.page("/line/{identity}/correct")
    def correct(identity: str) -> Response | None:
        try:
            machine, _, line = desk.line(identity)
        except WaywrightError as error:
            return nothing_here(error)
        head(text("web.correct"), line=line, machine=machine, here="correct")
        CorrectPage(desk, machine, line)
        return None


class CorrectPage:
    """One open page. Rounds belong to the visit, so that two pages see the same; nothing is turned by this program."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._drawing = WayDrawing(machine, lambda support, at: open_thing(desk, machine, line, support, at))
        with box("page") as page:
            page._props["data-line"] = str(line.id)
            self._main, self._beside = box("stack"), box("stack")
        self._standing: tuple[Any, ...] = ()
        self._moves: dict[str, float] = {}
        self._round: RoundSheet | None = None
        self._show("phase")
        desk.changed.subscribe(as_now(self._show))

    def _measured(self) -> MeasuredLine:
        return judged(self._desk.measured(self._line), running=self._desk.state_of(self._line.id).phase == "armed")

    def _rounds(self) -> tuple[Adjustment, ...]:
        return rounds_of(self._desk.archive, self._line.visit_id)

    def _open_round(self, rounds: tuple[Adjustment, ...]) -> Adjustment | None:
        """The round that was planned and not measured again."""
        last = rounds[-1] if rounds else None
        return last if last is not None and last.measured_utc is None else None

    def _show(self, what: str) -> None:
        """Everything anew where something has changed that this page rests on; a form being filled stays."""
        measured, rounds = self._measured(), self._rounds()
        stands = (len(measured.passes), rounds, bow_gate(self._desk, measured)[0])
        if stands == self._standing:
            if what == "phase":
                self._draw(measured, self._moves)
            if self._round is not None:
                self._round.look()
            return
        self._standing, self._round = stands, None
        for place in (self._main, self._beside):
            place.clear()
        moves = {} if (made := self._open_round(rounds)) is None else {m.support: m.asked_um for m in made.moves}
        self._draw(measured, moves)
        with self._beside:
            history_sheet(self._desk, rounds)
        with self._main:
            self._fill(measured, made)

    def _fill(self, measured: MeasuredLine, made: Adjustment | None) -> None:
        if not measured.passes:
            note(text("web.nothing_to_judge"))
            To(text("web.take"), f"/line/{self._line.id}/take", "press next")
            return
        if made is not None and made.before_line_id != self._line.id:
            self._learn(made, measured)
            return
        if made is not None:
            self._round = RoundSheet(self._desk, self._line, made)
            with self._beside:
                self._round.fitters_sheet()
            return
        turned = next((each for each in rounds_of(self._desk.archive, self._line.visit_id)
                       if each.before_line_id == self._line.id and each.after_line_id is not None), None)  # fmt: skip
        if turned is not None:
            note(text("rounds.turned_since", number=turned.number))
            To(text("rounds.to_line_after"), f"/line/{turned.after_line_id}/correct", "press next")
            return
        closed, show_gate = bow_gate(self._desk, measured)
        if closed:
            show_gate()
            return
        self._wishes(measured)
        self._plan_place = box("stack")
        with self._beside:
            else_sheet(measured)

    def _learn(self, made: Adjustment, measured: MeasuredLine) -> None:
        """This line was measured after a round: what did the round tell?"""
        with box("sheet", "section"):
            Words(text("rounds.measured_after", number=made.number), tag="h2")
            Words(text("rounds.learn_words"), "mute", "p")
            problem = note("", "bad")
            problem.set_visibility(False)

            async def learn() -> None:
                clock = self._desk.clock
                await asyncio.to_thread(measured_again, self._desk.archive, made, measured, clock)
                self._desk.touched()

            Press(text("rounds.learn"), tried(learn, problem), "next")

    # ------------------------------------------------------------------------------------- the plan

    def _wishes(self, measured: MeasuredLine) -> None:
        with box("sheet", "section"):
            Words(text("web.correct_title"), tag="h2")
            with box("row"):
                goal = LengthField("web.goal", 15.0, least_um=0.1)
                noise = LengthField("web.noise", 1.0, least_um=0.0)
                most = number(text("web.most"), None, least=1.0)
            locked = field(text("web.locked"))
            press = Press(text("web.work_out"), None, "next")

            async def work_out(most_supports: int | None = None) -> None:
                press.allow(False)
                press.set_text(text("web.working_out"))
                wanted = most_supports or (int(most.value) if most.value else None)
                order = CorrectionOrder(
                    goal_um=goal.um_or_zero, noise_um=noise.um_or_zero, max_supports=wanted,
                    locked=names(str(locked.value or "")),
                )  # fmt: skip
                await self._work_out(measured, order, work_out)
                press.allow(True)
                press.set_text(text("web.work_out"))

            async def one_plan() -> None:
                await work_out()

            press.on("click", one_plan, [])

    async def _work_out(self, measured: MeasuredLine, order: CorrectionOrder, again: Any) -> None:
        self._plan_place.clear()
        try:
            found = await asyncio.to_thread(self._planned, measured, order)
        except WaywrightError as error:
            with self._plan_place:
                note(str(error), "bad")
            return
        self._draw(measured, summary(found).moves_um)
        with self._plan_place:
            self._plan(found, measured, again)

    def _planned(self, measured: MeasuredLine, order: CorrectionOrder) -> Correction:
        """On what earlier rounds told of this bed."""
        belief, cautions = belief_for(self._desk.archive, measured, self._desk.clock.utc())
        return replace(correction_of_line(measured, order, belief), cautions=cautions)

    def _draw(self, measured: MeasuredLine, moves_um: dict[str, float]) -> None:
        """The form with the carriage where it stands; under the supports the moves with their turns."""
        codes, carriage_mm = straight_codes(measured), self._desk.state_of(self._line.id).position_mm
        scene = mean_scene(measured, codes[0], "minimum-zone") if codes else WayScene()
        supports = self._machine.bed.supports if self._machine.bed else ()
        turns = {each.name: turn_in_short(each, moves_um.get(each.name, 0.0)) for each in supports}
        self._moves = moves_um
        self._drawing.show(
            replace(scene, moves_um=moves_um, turns=turns, carriage_mm=carriage_mm, live=carriage_mm is not None)
        )

    def _plan(self, found: Correction, measured: MeasuredLine, again: Any) -> None:
        told = summary(found)
        low, high = told.interval_um
        with box("sheet", "section"):
            facts = {"value_um": told.value_um, "low_um": low, "high_um": high, "now_um": told.value_now_um}
            Words(text("web.expected", **facts), tag="p")
            if high > told.value_now_um:
                note(text("web.may_not_help", **facts), "bad")
            for each in found.cautions:
                note(said(each), "bad")
            self._trade_off(found, len(told.moves_um), again)
            for each in found.sheet.warnings:
                note(said(each))
            if not found.sheet.instructions:
                note(text("web.nothing_to_turn"))
                return

            def begin() -> None:
                made = keep_plan(self._desk.archive, measured, found, self._desk.clock)
                self._desk.adjusting.remember(made, found)
                self._desk.touched()

            Press(text("rounds.begin"), tried(begin), "next")

    def _trade_off(self, found: Correction, touched: int, again: Any) -> None:
        """How much work for how much straightness; a touch on a row plans with so many supports."""
        unit = length_as_shown().word
        heads = [text(f"web.trade_{name}", unit=unit) for name in ("supports", "value", "bound")]
        rows = [
            (
                f"{item.supports}",
                [str(item.supports), bare_length(item.value_um), bare_length(item.at_least_um)],
            )
            for item in found.trade_off
        ]
        table = markup(table_markup(heads, rows, chosen=str(touched)), "scroll")

        async def choose(event: Any) -> None:
            await again(int(str(event.args)))

        table.on("click", choose, js_handler=_CHOOSES)
        Words(text("web.trade_words"), "small mute", "p")


def said(item: Note) -> str:
    """A note in words."""
    return text(item.key, **item.facts)
