"""Judge: an earlier line that was measured in another state is compared with an objection."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nicegui.testing import User

from jobs.made_line import begin_line, take_pass
from made_pages import gone, see, tell
from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.jobs.line_again import line_again
from waywright.visit import Conditions, MachineState, Temperature
from waywright.web.desk import Desk


def test_comparing_with_another_state_draws_an_objection(tmp_path: Path) -> None:
    """14 degrees as found, 19 as left: said once the earlier line is chosen, not before."""
    path = tmp_path / "a.sqlite"
    with open_archive(path, create=True) as archive:
        found = begin_line(archive, tmp_path)
        again = line_again(archive, found.line, SystemClock())
        left = replace(found, line=again, setup=archive.setups(again.id)[0])
        for begun, bed_degc in ((found, 14.0), (left, 19.0)):
            around = Conditions(MachineState(compensation="off"), (Temperature("bed top", bed_degc),))
            archive.save(replace(take_pass(archive, begun, 1), conditions=around))

    async def story(user: User, desk: Desk) -> None:
        from nicegui import ui

        await user.open(f"/line/{again.id}/judge")
        await see(user, "U = ")
        await see(user, "95 % of them less than")
        await see(user, "What would help most")
        await gone(user, "14.0 degrees before")
        (chosen,) = [each for each in user.find(ui.select).elements if str(found.line.id) in each.options]
        chosen.set_value(str(found.line.id))
        await see(user, "14.0 degrees before and has 19.0 now")

    tell(path, story)
