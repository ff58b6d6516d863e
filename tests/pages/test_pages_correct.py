"""Correct: a plan from what was measured, shown to be turned only after every confirmation; the ring tells the turn."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest
from nicegui.testing import User
from nicegui.testing.user_interaction import UserInteraction

from made_pages import gone, see, tell, until
from waywright.archive import open_archive
from waywright.clocks import SystemClock, new_id
from waywright.correct.turning import Turn
from waywright.jobs.new_machine import plain_machine
from waywright.jobs.rounds import rounds_of
from waywright.jobs.typed import append_typed, begin_typed_pass, end_typed_pass
from waywright.machine import Machine
from waywright.quantities import Axes
from waywright.visit import Line, Visit
from waywright.web.desk import Desk
from waywright.web.elements import Press
from waywright.web.ring import turn_ring


def machine_on(supports: int) -> Machine:
    """An invented bed of 3 m whose supports lift 500 um a turn."""
    made = plain_machine("B-4", "lathe", Axes("-Y", "+X"), bed_length_mm=3000.0, supports_in_a_row=supports)
    if made.bed is None or not supports:
        return made
    known = tuple(replace(each, lift_um_per_turn=500.0, smallest_step_um=1.0) for each in made.bed.supports)
    return replace(made, bed=replace(made.bed, supports=known, bending_n_m2=2e6, mass_kg=1500.0))


def measured(path: Path, machine: Machine) -> Line:
    """A typed pass over the bed, which stands 30 um high in the middle."""
    clock = SystemClock()
    with open_archive(path, create=True) as archive:
        visit = Visit(new_id(), machine.id, None, clock.utc())
        line = Line(new_id(), visit.id, "bed", "Z")
        for record in (machine, visit, line):
            archive.save(record)
        taken = begin_typed_pass(archive, machine, line, "forward", ["typed.height_um"], clock)
        for place in range(7):
            height_um = 30.0 * math.sin(math.pi * place / 6)
            append_typed(archive, taken.id, 150.0 + 450.0 * place, {"typed.height_um": height_um}, clock)
        end_typed_pass(archive, taken.id, clock)
    return line


def story_to_the_first_support(user: User) -> object:
    """Answer for the bow, plan, begin the round, confirm each thing on its own."""
    from nicegui import ui

    async def tell_it() -> None:
        await see(user, "Is this bow the bed's?")
        user.find("go on to the plan").click()
        await see(user, "Say why")
        user.find("why supports are turned all the same").type("top and foot read alike")
        user.find("go on to the plan").click()
        await see(user, "work out what to turn")
        user.find("work out what to turn").click()
        await see(user, "µm now. After these moves")
        user.find("begin this round").click()
        await see(user, "Before anything is turned, confirm each")
        await gone(user, "turn now · ")
        answers = iter(("main switch off, padlock 14", "no vertical axis here", "cribs of oak under both ends"))
        for _ in range(6):
            fields = sorted(user.find(ui.input).elements, key=lambda each: each.id)
            maker = "maker" in str(fields[0].props["label"])
            fields[0].set_value("500" if maker else next(answers))
            before = len(fields)
            presses = sorted(user.find("confirm").elements, key=lambda each: each.id)
            UserInteraction(user, {next(each for each in presses if isinstance(each, Press))}, None).click()
            if before == 1:
                break
            await until(lambda before=before: len(confirm_fields(user)) < before)
        await see(user, "turn now · 1 of ")

    return tell_it()


def confirm_fields(user: User) -> list[object]:
    """The open lines to answer on."""
    from nicegui import ui

    try:
        return list(user.find(ui.input).elements)
    except AssertionError:
        return []


def test_a_round_is_turned_only_after_every_confirmation(tmp_path: Path) -> None:
    line = measured(tmp_path / "a.sqlite", machine_on(4))

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{line.id}/correct")
        await story_to_the_first_support(user)
        (made,) = rounds_of(desk.archive, line.visit_id)
        assert len(made.confirmations) == len(made.to_confirm)
        assert all(each.answer for each in made.confirmations)
        await see(user, "Sheet for the fitter")
        for at in range(len(made.moves)):
            await see(user, f"turn now · {at + 1} of {len(made.moves)}")
            user.find("done, next support").click()
            await until(lambda at=at: told_moves(desk, line) == at + 1)
        await see(user, "Every support of this round has been turned.")

    tell(tmp_path / "a.sqlite", story)


def told_moves(desk: Desk, line: Line) -> int:
    """How many moves the fitter has told."""
    (made,) = rounds_of(desk.archive, line.visit_id)
    return sum(move.done_um is not None for move in made.moves)


def test_a_bed_without_supports_is_said(tmp_path: Path) -> None:
    line = measured(tmp_path / "a.sqlite", machine_on(0))

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{line.id}/correct")
        await see(user, "Is this bow the bed's?")
        user.find("why supports are turned all the same").type("top and foot read alike")
        user.find("go on to the plan").click()
        await see(user, "work out what to turn")
        user.find("work out what to turn").click()
        await see(user, "B-4")
        await see(user, "support")
        await gone(user, "Before anything is turned")

    tell(tmp_path / "a.sqlite", story)


@pytest.mark.parametrize(
    ("turns", "direction", "right_of_the_top", "large"),
    [(0.25, "clockwise", True, "0"), (0.25, "anticlockwise", False, "0"), (0.75, "clockwise", False, "1")],
)
def test_the_arc_shows_exactly_the_turn_still_to_make(
    turns: float, direction: str, right_of_the_top: bool, large: str
) -> None:
    """Geometry of the circle: a quarter clockwise from the top ends at the right, at the height of the middle."""
    svg = turn_ring(Turn(turns, 360 * turns, direction, None), "words & more")
    arc = re.search(r"A82\.0 82\.0 0 (\d) (\d) ([\d.]+) ([\d.]+)", svg)
    assert arc is not None
    assert arc[1] == large
    assert arc[2] == ("1" if direction == "clockwise" else "0")
    assert (float(arc[3]) > 110.0) == right_of_the_top
    assert float(arc[4]) == pytest.approx(110.0, abs=0.1)
    assert "words &amp; more" in svg
