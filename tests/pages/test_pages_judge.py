"""Judge: the reference line is switched in place, a reading is left out only with a reason, and results follow."""

from __future__ import annotations

from pathlib import Path
from uuid import UUID

import pytest
from nicegui.testing import User

from jobs.made_line import two_passes
from made_pages import gone, see, tell
from waywright.drawing import signed
from waywright.jobs.measured import measured_line, results_of_line
from waywright.visit import Line
from waywright.web.desk import Desk


@pytest.fixture
def made(tmp_path: Path) -> tuple[Path, Line]:
    """A line measured forward and back."""
    return two_passes(tmp_path, 3.0)


def largest_of(desk: Desk, line: Line, reference: str) -> str:
    """The largest deviation of the height's mean as the page prints it, from the verbs themselves."""
    results = results_of_line(measured_line(desk.archive, line), reference, None)
    mean = next(result for result in results if result.code == "EYZ" and result.pass_number is None)
    return f"{signed(mean.chosen.largest_um)} · {mean.chosen.largest_at_mm:.0f} mm"


def test_the_reference_line_is_switched_in_place(made: tuple[Path, Line]) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{made[1].id}/judge")
        least, ends = (largest_of(desk, made[1], line) for line in ("least-squares", "end-points"))
        assert least != ends
        await see(user, least)
        await see(user, "about the least-squares line")
        user.find("end points").click()
        await see(user, ends)
        await see(user, "about the line through the end points")
        await gone(user, least)

    tell(made[0], story)


def test_leaving_a_reading_out_asks_for_a_reason_and_changes_the_result(made: tuple[Path, Line]) -> None:
    async def story(user: User, desk: Desk) -> None:
        from waywright.web.opened import open_thing

        machine, _, line = desk.line(str(made[1].id))
        client = await user.open(f"/line/{line.id}/judge")
        with client:
            open_thing(desk, machine, line, None, 5000.0)
        await see(user, "pass 2, backward, reading 1")
        before = measured_line(desk.archive, line)
        with client:
            user.find("leave this reading out").click()
        await see(user, "Say why the reading is left out")
        assert all(single.excluded == 0 for single in before.passes)
        user.find("why it is left out").type("somebody leaned on the bed")
        user.find("leave this reading out").click()
        await see(user, "a reading left out: somebody leaned on the bed")
        after = measured_line(desk.archive, line)
        assert sum(single.excluded for single in after.passes) >= 1

    tell(made[0], story)


def test_the_local_window_and_the_allowed_width_are_said(made: tuple[Path, Line]) -> None:
    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        await user.open(f"/line/{made[1].id}/judge")
        await see(user, "local straightness: not judged")
        (slider,) = user.find(ui.slider).elements
        slider.set_value(1000)
        await see(user, "local: over any 1000 mm")
        await see(user, "height (EYZ): over any 1000 mm at most")
        user.find("tolerance rule").type("10 um")
        await see(user, "10 µm allowed, laid where it fits best")

    tell(made[0], story)


def test_values_stand_with_uncertainty_noise_floor_verdict_and_reason(made: tuple[Path, Line]) -> None:
    """The made line is bowed by 30 um: 10 um are not kept, 100 um are, and both are said with their reason."""

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{made[1].id}/judge")
        await see(user, "U = ")
        await see(user, "A perfect way would have read ")
        user.find("tolerance rule").type("10 um")
        await see(user, "○ does not conform · ")
        await see(user, "Guard band ")
        await see(user, "Risk that what is refused is in tolerance")
        await see(user, "does the true value keep it")
        user.find("tolerance rule").clear().type("100 um")
        await see(user, "● conforms · ")
        user.find("tolerance rule").clear().type("0.02 upto 1000")
        await see(user, "The tolerance rule cannot be read at character")

    tell(made[0], story)


def test_the_bed_stands_in_space_and_the_bow_is_challenged(made: tuple[Path, Line]) -> None:
    async def story(user: User, desk: Desk) -> None:
        import json

        await user.open(f"/line/{made[1].id}/judge")
        await see(user, "The bed in space")
        (view,) = [each for each in user.find(kind=ui_element()).elements if "data-scene" in each.props]
        scene = json.loads(view.props["data-scene"])
        assert len(scene["now"]["front"]) == len(scene["now"]["rear"]) == 21
        bed = desk.line(str(made[1].id))[0].bed
        assert [each["name"] for each in scene["supports"]] == [each.name for each in (bed.supports if bed else ())]
        await see(user, "Measure at another hour")

    tell(made[0], story)


def ui_element() -> type:
    """The kind of every element."""
    from nicegui import ui

    return ui.element


def test_an_unknown_line_is_said(made: tuple[Path, Line]) -> None:
    async def story(user: User, desk: Desk) -> None:
        answer = await user.http_client.get(f"/line/{UUID(int=1)}/judge")
        assert answer.status_code == 404
        assert "holds no line" in answer.text

    tell(made[0], story)
