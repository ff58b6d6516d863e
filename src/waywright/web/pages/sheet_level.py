"""On the page of a bed that is read with one level: the stages, the three points, and the way to the Correct page."""

from __future__ import annotations

from collections.abc import Callable

from nicegui import ui

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.jobs.sheet_level import ACROSS, LevelPlan, level_seen
from waywright.jobs.sheet_line import line_of_level
from waywright.visit.sheet import MeasuringSheet
from waywright.web.desk import Desk
from waywright.web.elements import Press, Words, box, note, number, tried
from waywright.wording import text

GOAL_UM = 20.0


def level_sheet(desk: Desk, kept: Callable[[], MeasuringSheet]) -> None:
    """The section; nothing on other sheets."""
    if not any(row.means == ACROSS for row in kept().rows):
        return
    with box("sheet", "section"):
        Words(text("sheet.page.level"), tag="h2")
        goal = number(text("sheet.page.goal"), GOAL_UM, least=0.1)
        problem = note("", "bad")
        problem.set_visibility(False)
        place = box("stack")

        def look() -> None:
            found = level_seen(desk.archive, kept(), None, float(goal.value or GOAL_UM))
            place.clear()
            with place:
                _found(desk, kept(), found)

        Press(text("sheet.page.level_press"), tried(look, problem), "next")


def _found(desk: Desk, sheet: MeasuringSheet, found: LevelPlan) -> None:
    facts = {"twist": found.twist_um_per_m, "along": found.along_um_per_m, "across": found.across_um_per_m}
    Words(text("sheet.level_found", **facts, height=found.height_um), tag="p")
    Words(text("sheet.level_closure", closure=found.bed.closure_um_per_m), "mute", "p")
    for at_mm, step in found.steps_taken_out:
        note(text("sheet.level_step", step=step, at_mm=at_mm))
    for stage in found.stages:
        state = text(f"sheet.state_of.{stage.state}")
        name = text(f"sheet.stage.{stage.name}")
        Words(text("sheet.stage", name=name, state=state), "now" if stage.state == "now" else "mute", "p")
    if found.rough:
        note(text("sheet.level_rough"))
        for move in found.rough:
            Words(text("sheet.page.raise", support=move.support, mm=move.raise_um / 1000.0), tag="p")
        return

    def to_correct() -> None:
        with open_archive(desk.archive_path) as archive:
            line = line_of_level(archive, sheet, found, SystemClock())
        desk.touched()
        ui.navigate.to(f"/line/{line.id}/correct")

    Press(text("sheet.page.to_correct"), tried(to_correct), "next")
