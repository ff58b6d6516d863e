"""The first page: what an empty start offers, and what the list says of machines, visits and interrupted passes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nicegui.testing import User

from jobs.made_line import begin_line, take_pass
from made_pages import see, tell
from made_sheet import filling
from waywright.archive import open_archive
from waywright.machine import Machine
from waywright.visit.sheet import SheetRow
from waywright.web.desk import Desk


def test_an_empty_start_offers_practice_a_quick_look_and_a_new_machine(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open("/")
        await see(user, "Nothing is recorded here yet.")
        await see(user, "practise with the simulated workshop")
        await see(user, "quick look")
        await see(user, "new machine")

    tell(tmp_path / "a.sqlite", story)


def test_the_list_shows_machine_visit_line_and_how_far_it_is(tmp_path: Path) -> None:
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, tmp_path)
        taken = take_pass(archive, begun, 1)
        archive.begin_pass(replace(taken, outcome=None, ended_utc=None))

    async def story(user: User, desk: Desk) -> None:
        await user.open("/")
        await see(user, "roll lathe HR-6")
        await see(user, "Mara Quill (invented)")
        await see(user, "carriage, as found")
        await see(user, "pass 1 was interrupted after 21 stations; it can go on")

    tell(tmp_path / "a.sqlite", story)


def test_the_list_shows_sheets_of_tests_and_the_way_to_them(tmp_path: Path) -> None:
    with filling(tmp_path, SheetRow("1", "run-out", "run-out", ("front", "rear"), unit="um")) as (_, sheet, fill):
        fill.enter("3")

    async def story(user: User, desk: Desk) -> None:
        for page in ("/", f"/visit/{sheet.visit_id}"):
            await user.open(page)
            await see(user, "short sheet")
            await see(user, "1 of 2 filled")

    tell(tmp_path / "a.sqlite", story)


def test_a_new_machine_is_kept_with_its_supports(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open("/machine")
        user.find("keep this machine").click()
        await see(user, "Give the machine a name.")
        user.find("name of the machine, as painted on it").type("B-4")
        user.find("bed length, mm").type("4000")
        user.find("supports in a row").clear().type("5")
        user.find("keep this machine").click()
        await see(user, "connect and begin")
        (machine,) = desk.archive.machines()
        assert isinstance(machine, Machine)
        assert (machine.name, machine.axes.up, machine.axes.operator) == ("B-4", "-Y", "+X")
        assert machine.bed is not None
        assert [support.name for support in machine.bed.supports] == ["1", "2", "3", "4", "5"]

    tell(tmp_path / "a.sqlite", story)


def test_a_quick_look_without_instruments_says_what_is_missing(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open("/begin")
        user.find("connect and begin").click()
        await see(user, "Choose the description files of the instruments first")
        assert desk.archive.visits() == ()

    tell(tmp_path / "a.sqlite", story)
