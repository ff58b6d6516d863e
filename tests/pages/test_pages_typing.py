"""A quick look without instruments: name a line, type what the dial says, see it judged."""

from __future__ import annotations

from pathlib import Path

from nicegui.testing import User

from made_pages import see, tell, until
from waywright.readings import standing
from waywright.web.desk import Desk


def test_values_are_typed_from_the_quick_look_to_the_result(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open("/begin")
        user.find("name of the line").clear().type("cross slide")
        user.find("begin, and type values read off a dial").click()
        await see(user, "type a forward pass")
        (visit,) = desk.archive.visits()
        (line,) = desk.archive.lines(visit.id)
        assert line.name == "cross slide"
        user.find("read with").type("straightedge 2 m; dial 5")
        user.find("type a forward pass").click()
        await until(lambda: len(desk.archive.passes(line.id)) == 1)
        (setup,) = desk.archive.setups(line.id)
        assert [use.title for use in setup.instruments] == ["straightedge 2 m", "dial 5"]
        await user.open(f"/line/{line.id}/take")
        await see(user, "keep this reading")
        (taken,) = desk.archive.passes(line.id)
        for place, height in (("0", "0"), ("200", "9"), ("400", "0"), ("200", "8")):
            user.find("position, mm").clear().type(place)
            user.find("height, µm, up is +").clear().type(height)
            before = len(desk.archive.readings(taken.id))
            user.find("keep this reading").click()
            await until(lambda before=before: len(desk.archive.readings(taken.id)) == before + 1)
        readings = desk.archive.readings(taken.id)
        assert [reading.taken_by for reading in readings] == ["typed"] * 4
        assert [reading.values[0].mean for reading in standing(readings)] == [0.0, 0.0, 8.0]
        user.find("keep this reading").click()
        await see(user, "Fill in every figure of this reading.")
        user.find("the pass is complete").click()
        await until(lambda: desk.archive.passes(line.id)[0].outcome == "finished")
        await user.open(f"/line/{line.id}/judge")
        await see(user, "▸ 8.0")

    tell(tmp_path / "a.sqlite", story)
