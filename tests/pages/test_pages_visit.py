"""A full visit: begun with what the report needs, its plan changed and agreed, a line that answers a test of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nicegui.testing import User

from jobs.made_line import begin_line, take_pass
from made_pages import fill, see, tell, until
from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.jobs.new_machine import plain_machine
from waywright.jobs.plans import begin_plan, plan_of
from waywright.jobs.sharing import bring_in, quiet
from waywright.jobs.visits import new_visit
from waywright.quantities import Axes
from waywright.web.desk import Desk


def test_a_visit_is_planned_agreed_and_measured(tmp_path: Path) -> None:
    machine = plain_machine("B-4", "lathe", Axes("-Y", "+X"), bed_length_mm=3000.0, supports_in_a_row=4)
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        archive.save(machine)

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/visit?machine={machine.id}")
        fill(user, "purpose of the visit", "acceptance after moving")
        fill(user, "technician", "Ines Rook (invented)")
        user.find("begin the visit").click()
        await see(user, "What is to be measured")
        await see(user, "a draft; nobody has agreed yet")
        (visit,) = desk.archive.visits()
        assert visit.purpose == "acceptance after moving"
        plan = plan_of(desk.archive, visit.id)
        assert plan is not None
        assert plan.items
        user.find("agrees to this plan").click()
        await see(user, "Write down who agrees.")
        fill(user, "name", "Ole Brandt (invented)")
        user.find("agrees to this plan").click()
        await until(lambda: bool((now := plan_of(desk.archive, visit.id)) and now.agreed))
        await see(user, "Ole Brandt (invented), the customer, ")
        key = next(item.key for item in plan.items if item.axis == "Z")
        await user.open(f"/begin?visit={visit.id}&item={key}")
        user.find("begin, and type values read off a dial").click()
        await see(user, "Type readings")
        (line,) = desk.archive.lines(visit.id)
        assert line.axis == "Z"
        await user.open(f"/visit/{visit.id}")
        await see(user, line.name)

    tell(tmp_path / "a.sqlite", story)


def test_the_whole_visit_comes_as_a_file_that_another_archive_takes(tmp_path: Path) -> None:
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, tmp_path)
        take_pass(archive, begun, 1)

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/visit/{begun.visit.id}")
        user.find("whole visit, file").click()
        answer = await user.download.next(timeout=20.0)
        (tmp_path / "v.json.gz").write_bytes(answer.content)
        await see(user, "whole visit, file")

    tell(tmp_path / "a.sqlite", story)
    with open_archive(tmp_path / "b.sqlite", create=True) as other:
        bring_in(other.place, tmp_path / "v.json.gz", quiet)
        assert [visit.id for visit in other.visits()] == [begun.visit.id]


def test_a_visit_without_a_machine_shows_the_way(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open("/visit")
        await see(user, "A visit belongs to a machine")
        await see(user, "new machine")

    tell(tmp_path / "a.sqlite", story)


def test_nobody_agrees_to_what_somebody_else_has_just_changed(tmp_path: Path) -> None:
    """The page shows one plan, another program changes it: the agreement is refused, the change stays."""
    machine = plain_machine("B-4", "lathe", Axes("-Y", "+X"), bed_length_mm=3000.0, supports_in_a_row=4)
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        archive.save(machine)
        visit = new_visit(archive, machine, SystemClock(), "acceptance", None)
        begin_plan(archive, visit, None, "roll lathe", None)

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/visit/{visit.id}")
        await see(user, "a draft; nobody has agreed yet")
        fill(user, "name", "Ole Brandt (invented)")
        with open_archive(tmp_path / "a.sqlite") as other:
            plan = plan_of(other, visit.id)
            assert plan is not None
            other.save(replace(plan, remark="only after the move"), reason="said on the telephone")
        user.find("agrees to this plan").click()
        await see(user, "Somebody else has changed roll lathe since you saw it.")
        now = plan_of(desk.archive, visit.id)
        assert now is not None
        assert (now.agreed, now.remark) == (False, "only after the move")

    tell(tmp_path / "a.sqlite", story)
