"""Correct: how much work for how much straightness, the plan on the way drawing, and one support after the other."""

from __future__ import annotations

import asyncio
from dataclasses import replace

from fastapi import Response
from nicegui import ui

from waywright.correct.notes import Note
from waywright.drawing import WayScene, plain_number, signed
from waywright.errors import WaywrightError
from waywright.jobs.correct import Correction, CorrectionOrder, correction_of_line, names, summary
from waywright.jobs.measured import MeasuredLine
from waywright.machine import Machine
from waywright.visit import Line
from waywright.web.curves import judged
from waywright.web.desk import Desk
from waywright.web.elements import Press, To, Words, box, field, markup, note
from waywright.web.frame import WayDrawing, head
from waywright.web.opened import open_thing
from waywright.web.plain_page import nothing_here
from waywright.web.ring import turn_ring
from waywright.web.saying import straight_codes, table_markup
from waywright.web.scenes import mean_scene
from waywright.wording import text


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
    """One open page. The plan belongs to it: nothing is turned by this program."""

    def __init__(self, desk: Desk, machine: Machine, line: Line) -> None:
        self._desk, self._machine, self._line = desk, machine, line
        self._step = 0
        self._drawing = WayDrawing(machine, lambda support, at: open_thing(desk, machine, line, support, at))
        measured = judged(desk.measured(line), running=desk.state_of(line.id).phase == "armed")
        with box("page") as page:
            page._props["data-line"] = str(line.id)
            with box("stack"):
                if not measured.passes:
                    note(text("web.nothing_to_judge"))
                    To(text("web.take"), f"/line/{line.id}/take", "press next")
                    return
                self._wishes(measured)
                self._plan_place = box("stack")
            self._sheet_place = box("stack")
        self._draw(measured, {})

    def _wishes(self, measured: MeasuredLine) -> None:
        with box("sheet", "section"):
            Words(text("web.correct_title"), tag="h2")
            with box("row"):
                goal = (
                    ui.number(text("web.goal"), value=15, min=0.1).props("outlined square stack-label").classes("short")
                )
                noise = (
                    ui.number(text("web.noise"), value=1, min=0).props("outlined square stack-label").classes("short")
                )
                most = ui.number(text("web.most"), min=1, precision=0).props("outlined square stack-label")
                most.classes("short")
            locked = field(text("web.locked"))
            press = Press(text("web.work_out"), None, "next")

            async def work_out() -> None:
                press.allow(False)
                press.set_text(text("web.working_out"))
                order = CorrectionOrder(
                    goal_um=float(goal.value or 0), noise_um=float(noise.value or 0),
                    max_supports=int(most.value) if most.value else None, locked=names(str(locked.value or "")),
                )  # fmt: skip
                await self._work_out(measured, order)
                press.allow(True)
                press.set_text(text("web.work_out"))

            press.on("click", work_out, [])

    async def _work_out(self, measured: MeasuredLine, order: CorrectionOrder) -> None:
        self._plan_place.clear()
        self._sheet_place.clear()
        try:
            found = await asyncio.to_thread(correction_of_line, measured, order)
        except WaywrightError as error:
            with self._plan_place:
                note(str(error), "bad")
            return
        self._draw(measured, summary(found).moves_um)
        with self._plan_place:
            self._plan(found)
        with self._sheet_place:
            self._confirm(found)

    def _draw(self, measured: MeasuredLine, moves_um: dict[str, float]) -> None:
        codes = straight_codes(measured)
        if not codes:
            self._drawing.show(WayScene(moves_um=moves_um))
            return
        scene = mean_scene(measured, codes[0], "minimum-zone")
        self._drawing.show(replace(scene, moves_um=moves_um))

    # ------------------------------------------------------------------------------------- the plan

    def _plan(self, found: Correction) -> None:
        told = summary(found)
        low, high = told.interval_um
        with box("sheet", "section"):
            facts = {"value_um": told.value_um, "low_um": low, "high_um": high, "now_um": told.value_now_um}
            Words(text("web.expected", **facts), tag="p")
            if high > told.value_now_um:
                note(text("web.may_not_help", **facts), "bad")
            heads = [text(f"web.trade_{name}") for name in ("supports", "value", "bound")]
            rows = [
                (
                    f"{item.supports}",
                    [str(item.supports), plain_number(item.value_um, 1), plain_number(item.at_least_um, 1)],
                )
                for item in found.trade_off
            ]
            markup(table_markup(heads, rows, chosen=str(len(told.moves_um))), "scroll")
            Words(text("web.trade_words"), "small mute", "p")
            for each in found.sheet.warnings:
                note(_said(each))

    # ------------------------------------------------------------------------------------- turning

    def _confirm(self, found: Correction) -> None:
        """Nothing is shown to turn before each has been confirmed on its own."""
        if not found.sheet.instructions:
            note(text("web.nothing_to_turn"))
            return
        open_ones = set(range(len(found.sheet.confirm)))
        with box("sheet", "section"):
            Words(text("web.confirm_title"), tag="h2")
            boxes = [ui.checkbox(_said(each)) for each in found.sheet.confirm]
        turning = box("stack")

        def confirmed(at: int, yes: bool) -> None:
            (open_ones.discard if yes else open_ones.add)(at)
            turning.clear()
            if not open_ones:
                with turning:
                    self._turning(found)

        for at, each in enumerate(boxes):
            each.on_value_change(lambda event, at=at: confirmed(at, bool(event.value)))

    def _turning(self, found: Correction) -> None:
        self._step = 0
        sheet = box("sheet", "section")
        self._show_step(found, sheet)
        with box("sheet print", "section"):
            Words(text("web.fitters_sheet"), tag="h2")
            with box("list", "ol"):
                for each in found.sheet.instructions:
                    Words(f"{each.order}. " + " ".join(map(_said, each.steps)), tag="li")
            for item in found.sheet.afterwards:
                Words(_said(item), tag="p")
            printing = Press(text("web.print"))
            printing.on("click", js_handler="() => window.print()")

    def _show_step(self, found: Correction, sheet: ui.element) -> None:
        """One support: which, how far, which way round, and what the reading should do meanwhile."""
        steps = found.sheet.instructions
        sheet.clear()
        with sheet:
            if self._step >= len(steps):
                Words(text("web.all_turned"), tag="h2")
                To(text("web.measure_again"), f"/line/{self._line.id}/take", "press next")
                return
            now = steps[self._step]
            Words(text("web.turn_now", number=now.order, of=len(steps)), "mute")
            with box("figure"):
                Words(text("web.support", name=now.support), "value")
                Words(f"{signed(now.move_um, 0)} µm", "value now")
            if now.turn is not None:
                markup(turn_ring(now.turn, _said(now.steps[0])), "ring")
            for each in now.steps:
                Words(_said(each), tag="p")
            self._live_target(now.station_mm, now.expected_um)
            Press(text("web.done_next"), lambda: self._next(found, sheet), "next")

    def _live_target(self, station_mm: float, expected_um: float) -> None:
        """The reading at the station, zeroed at the start of the move, beside what it should become."""
        state = self._desk.state_of(self._line.id)
        height = next((item for item in state.meanings if item.on_screen.value == "up"), None)
        if height is None:
            return
        with box("figure hero"):
            Words("–", "value")._props["data-live"] = f"value-{height.code.text}"
            Words(text("web.target", target=signed(expected_um), position_mm=plain_number(station_mm)), "unit")
        zero = Press(text("web.zero_for_move"), classes="quiet")
        zero._props["data-does"] = "zero"

    def _next(self, found: Correction, sheet: ui.element) -> None:
        self._step += 1
        self._show_step(found, sheet)


def _said(item: Note) -> str:
    return text(item.key, **item.facts)
