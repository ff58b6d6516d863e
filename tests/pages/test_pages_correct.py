"""Correct: a plan from what was measured, shown to be turned only after every confirmation; the ring tells the turn."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from nicegui.testing import User

from made_correct import machine_on, measured, to_the_first_support
from made_pages import gone, see, tell, until
from waywright.correct.turning import Turn
from waywright.jobs.rounds import rounds_of
from waywright.visit import Line
from waywright.web.desk import Desk
from waywright.web.ring import turn_ring


def test_a_round_is_turned_only_after_every_confirmation(tmp_path: Path) -> None:
    line = measured(tmp_path / "a.sqlite", machine_on(4))

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{line.id}/correct")
        await to_the_first_support(user)
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
