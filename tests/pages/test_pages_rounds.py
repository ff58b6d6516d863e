"""A round on the Correct page from as found to the next one: confirmed, turned by a live reading, measured, learnt."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from nicegui.testing import User

from made_correct import (
    PLACES_MM,
    Parked,
    bowed,
    confirm_fields,
    machine_on,
    measured,
    press_confirm,
    to_the_first_support,
    to_the_plan,
    typed_pass,
)
from made_pages import gone, see, tell, until
from waywright.correct.plan import expected_reading_change
from waywright.jobs.rounds import rounds_of
from waywright.machine import Machine
from waywright.visit import Line
from waywright.visit.adjustment import Adjustment
from waywright.web.desk import Desk
from waywright.web.display import Display, shown_as


def the_round(desk: Desk, line: Line) -> Adjustment:
    return rounds_of(desk.archive, line.visit_id)[-1]


async def parked(user: User, desk: Desk, machine: Machine, line: Line) -> tuple[Parked, float]:
    """Everything confirmed, the carriage parked where the sheet says, turning begun; the place."""
    await user.open(f"/line/{line.id}/correct")
    await to_the_first_support(user)
    made = the_round(desk, line)
    plan = await desk.adjusting.plan_of(made)
    at_mm = next(each.clear_mm for each in plan.sheet.instructions if each.support == made.moves[0].support)
    await see(user, f"Park the carriage near {at_mm:.0f} mm")
    reading = Parked(desk, machine, line)
    reading.reads(at_mm, 3.0)
    user.find("start turning: the reading of now is the start").click()
    await until(lambda: desk.adjusting.turning is not None)
    await see(user, "speak the turns to go")
    return reading, at_mm


def test_one_tap_cannot_wave_the_confirmations_through(tmp_path: Path) -> None:
    line = measured(tmp_path / "a.sqlite", machine_on(4))

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{line.id}/correct")
        await to_the_plan(user)
        user.find("begin this round").click()
        await see(user, "Before anything is turned, confirm each")
        first, second = sorted(confirm_fields(user), key=lambda each: each.id)[:2]  # type: ignore[attr-defined]
        for nothing in ("", "ok", "confirmed"):
            first.set_value(nothing)  # type: ignore[attr-defined]
            press_confirm(user)
            await see(user, "does not say what was done")
        first.set_value("main switch off, padlock 14")  # type: ignore[attr-defined]
        press_confirm(user)
        await until(lambda: len(the_round(desk, line).confirmations) == 1)
        await gone(user, "turn now · ")
        await see(user, "✓ The axis is locked")
        sorted(confirm_fields(user), key=lambda each: each.id)[0].set_value("main switch off, padlock 14")  # type: ignore[attr-defined]
        press_confirm(user)
        await see(user, "was the answer to another confirmation")
        assert len(the_round(desk, line).confirmations) == 1, "the same words twice confirm nothing"
        assert second is not None

    tell(tmp_path / "a.sqlite", story)


def test_from_as_found_to_the_next_round(tmp_path: Path) -> None:
    machine = machine_on(4)
    line = measured(tmp_path / "a.sqlite", machine)

    async def story(user: User, desk: Desk) -> None:
        reading, at_mm = await parked(user, desk, machine, line)
        made = the_round(desk, line)
        turning = desk.adjusting.turning
        assert turning is not None
        assert turning.target is not None
        whole = turning.target.target_um - turning.target.start_um
        reading.reads(at_mm, 3.0 + whole / 2)
        half = desk.adjusting.picture(desk.state)["turn"]
        assert abs(half["value_um"] - whole / 2) < 0.06
        assert half["target_um"] == round(whole, 1)
        assert abs(half["part"] - 0.5) < 0.01
        assert "to go" in half["words"]
        reading.reads(at_mm, 3.0 + whole)
        assert desk.adjusting.picture(desk.state)["turn"]["words"] == "there: stop turning"
        assert desk.adjusting.alarm is None
        for at, _ in enumerate(made.moves):
            await see(user, f"turn now · {at + 1} of {len(made.moves)}")
            user.find("done, next support").click()
            await until(lambda at=at: sum(each.done_um is not None for each in the_round(desk, line).moves) == at + 1)
        await see(user, "Every support of this round has been turned.")
        desk.session = None
        user.find("measure again").click()
        await until(lambda: len(desk.archive.lines(line.visit_id)) == 2)
        again = next(each for each in desk.archive.lines(line.visit_id) if each.id != line.id)
        assert again.state == "as-left"
        plan = (await desk.adjusting.plan_of(made)).plan
        change = expected_reading_change(plan, plan.moves_um, PLACES_MM, None)
        typed_pass(desk.archive, machine, again, lambda mm: bowed(mm) + float(np.interp(mm, PLACES_MM, change)))
        desk.touched()
        await user.open(f"/line/{again.id}/correct")
        await see(user, "Measured after round 1")
        user.find("what did the round tell?").click()
        await see(user, "Round 1 came out as believed.")
        await see(user, "what round 1 told of the bed")
        await see(user, "times as stiff as believed before; known to a factor of ")
        ended = rounds_of(desk.archive, line.visit_id)[0]
        assert ended.value_after_um is not None
        await see(user, f"{ended.value_after_um:.1f}")
        await user.open(f"/line/{line.id}/correct")
        await see(user, "The bed was turned in round 1 after this line was measured")
        await user.open(f"/line/{again.id}/correct")
        await to_the_plan(user)  # the next round: what is left of the bow is asked for once more

    tell(tmp_path / "a.sqlite", story)


def test_a_support_that_does_not_answer_is_named_with_its_probability(tmp_path: Path) -> None:
    machine = machine_on(4)
    line = measured(tmp_path / "a.sqlite", machine)

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{line.id}/correct")
        await to_the_first_support(user)
        made = the_round(desk, line)
        plan = (await desk.adjusting.plan_of(made)).plan
        for at, _ in enumerate(made.moves):
            await see(user, f"turn now · {at + 1} of {len(made.moves)}")
            user.find("done, next support").click()
            await until(lambda at=at: sum(each.done_um is not None for each in the_round(desk, line).moves) == at + 1)
        await see(user, "Every support of this round has been turned.")
        user.find("measure again").click()
        await until(lambda: len(desk.archive.lines(line.visit_id)) == 2)
        again = next(each for each in desk.archive.lines(line.visit_id) if each.id != line.id)
        largest = int(np.argmax(np.abs(plan.moves_um)))
        really = plan.moves_um.copy()
        really[largest] = -really[largest]  # turned the wrong way round
        change = expected_reading_change(plan, really, PLACES_MM, None)
        typed_pass(desk.archive, machine, again, lambda mm: bowed(mm) + float(np.interp(mm, PLACES_MM, change)))
        desk.touched()
        await user.open(f"/line/{again.id}/correct")
        await see(user, "what did the round tell?")
        user.find("what did the round tell?").click()
        await see(user, "Round 1 came out otherwise than it should.")
        causes = the_round(desk, line).causes
        assert causes
        await see(user, f"{causes[0].probability:.0%}")
        await see(user, causes[0].support)

    tell(tmp_path / "a.sqlite", story)


def test_motion_while_a_support_is_turned_stops_everything_until_somebody_has_seen_it(tmp_path: Path) -> None:
    machine = machine_on(4)
    line = measured(tmp_path / "a.sqlite", machine)

    async def story(user: User, desk: Desk) -> None:
        reading, at_mm = await parked(user, desk, machine, line)
        reading.reads(at_mm + 6.0, 3.0)
        said = desk.adjusting.picture(desk.state)["alarm"]
        assert said == "The carriage has moved by 6.0 mm while a support was being turned."
        reading.reads(at_mm, 3.0)  # back where it was: the alarm stays
        assert desk.adjusting.picture(desk.state)["alarm"] == said
        with shown_as(Display("de", place="inch")):
            assert "0,236 in" in desk.adjusting.picture(desk.state)["alarm"]
        desk.adjusting.seen()
        assert desk.adjusting.picture(desk.state) == {"turn": None, "alarm": None}
        await see(user, f"Round 1: {said}")
        await see(user, "start turning: the reading of now is the start")
        user.find("start turning: the reading of now is the start").click()
        await until(lambda: desk.adjusting.turning is not None)
        reading.reads(at_mm, 3.0)
        reading.reads(at_mm, 83.0)
        assert "jumped by +80 µm" in desk.adjusting.picture(desk.state)["alarm"]
        assert [each.statement.key for each in the_round(desk, line).alarms] == ["rounds.alarm_moved"]

    tell(tmp_path / "a.sqlite", story)
