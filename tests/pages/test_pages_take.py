"""Take: the pass runs in the server; pages show it, catch up with it, can end it. Real instruments over loopback."""

from __future__ import annotations

from pathlib import Path

from nicegui.testing import User

from made_pages import see, tell, until
from waywright.readings import standing
from waywright.web.desk import Desk


def test_a_practice_pass_from_arming_to_going_on_later(tmp_path: Path) -> None:
    """One story, because the workshop is a process that takes seconds to start."""

    async def story(user: User, desk: Desk) -> None:
        line = await desk.practise(20.0)
        await user.open(f"/line/{line.id}/take")
        await see(user, "arm forward and backward")
        await see(user, "Never look into the beam")
        await until(lambda: desk.state.phase == "ready")
        figures = {figure.channel: figure for figure in desk.state.figures}
        assert figures["beam.vertical_um"].expected_hz == 50
        assert (figures["beam.vertical_um"].age_s or 0.0) < 20 * 2.0
        user.find("arm forward and backward").click()
        user.find("arm forward and backward").click()  # a second page, at the same moment: the first counts
        await until(lambda: desk.state.taken is not None and desk.state.taken.readings >= 3)
        await see(user, "take the last one again")
        await see(user, "pass 1, forward: ")
        await user.open(f"/line/{line.id}/take")  # reloaded in the middle of the pass
        await see(user, "take the last one again")
        taken = desk.state.taken
        assert taken is not None
        kept = standing(desk.archive.readings(taken.id))
        await see(user, f"{kept[0].position_mm:.0f}")
        user.find("stop; go on later").click()
        await until(lambda: desk.state.phase == "ready")
        await see(user, "go on with pass 1")
        (stopped,) = desk.archive.passes(line.id)
        assert stopped.outcome == "stopped"
        assert len(standing(desk.archive.readings(stopped.id))) >= 3
        user.find("disconnect the instruments").click()
        await until(lambda: desk.state.phase == "idle")
        await see(user, "open the workshop again")

    tell(tmp_path / "a.sqlite", story)


def test_the_display_speaks_the_machine_s_directions(tmp_path: Path) -> None:
    """On this lathe +Y points down: the figure for height is positive up all the same, as the beam detector is."""

    async def story(user: User, desk: Desk) -> None:
        from waywright.web.live_socket import picture_of

        line = await desk.practise(20.0)
        await until(lambda: desk.state.phase == "ready")
        factors = {meaning.code.text: (meaning.factor, meaning.on_screen.value) for meaning in desk.state.meanings}
        assert factors["EYZ"] == (1, "up")
        assert factors["EXZ"] == (1, "towards-operator")
        picture = picture_of(desk.state, desk.revision)
        assert picture["line"] == str(line.id)
        assert {figure["code"] for figure in picture["figures"]} == {"EYZ", "EXZ", "ECZ"}
        assert all(figure["value"] is not None for figure in picture["figures"])

    tell(tmp_path / "a.sqlite", story)
