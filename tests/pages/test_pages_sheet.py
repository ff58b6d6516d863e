"""The page of a sheet: begun with one press, typed place by place, doubts answered, rows with their verdicts."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from nicegui import ui
from nicegui.testing import User

from bed_by_level import FEET_MM, machine_file, type_bed
from made_pages import gone, see, tell, until
from made_sheet import filling
from waywright.archive import Archive, open_archive
from waywright.clocks import SystemClock
from waywright.files.machine_file import read_machine
from waywright.files.sheet_file import SheetFile, template
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet, find_sheet, machine_of, values_of
from waywright.visit.sheet import MeasuringSheet, SheetRow
from waywright.web.desk import Desk

ROWS = (
    SheetRow("1", "twist", "twist", ("foot 1", "foot 2"), turned=True, unit="div", division=0.02, division_unit="mm/m"),
    SheetRow("2", "slip", "axial-slip", tolerance="0.01"),
)


def begun(path: Path) -> str:
    with open_archive(path, create=True) as archive:
        return str(begin_sheet(archive, SheetFile(1, "short sheet", ROWS), SheetOrder("HR-6"), SystemClock()).id)


def held(archive: Archive) -> list[float]:
    sheet: MeasuringSheet = find_sheet(archive, None)
    return [reading.values[0].mean for reading in values_of(archive, sheet).values()]


def typed(user: User, said: str, state: str = "asked", by: str = "typed") -> None:
    """What the page's script sends when somebody presses Enter."""
    (field,) = (each for each in user.find(ui.element).elements if "sheet-input" in each.classes)
    for listener in field._event_listeners.values():
        if listener.type == "entered":
            field._handle_event({"listener_id": listener.id, "args": [said, state, by]})


def test_a_sheet_is_begun_with_one_press_and_no_machine_file(tmp_path: Path) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open("/sheets")
        await see(user, "No sheet yet")
        user.find("read with").type("frame level 0.02")
        user.find("begin, and type the first value").click()
        await until(lambda: len(desk.archive.every(MeasuringSheet)) == 1)
        assert [use.title for use in find_sheet(desk.archive, None).instruments] == ["frame level 0.02"]
        await user.open(f"/sheet/{find_sheet(desk.archive, None).id}")
        await see(user, "foot 1")
        await see(user, "div (0.02 mm/m)")
        typed(user, "1.5")
        await see(user, "foot 1: 1.5 kept")
        assert held(desk.archive) == [30.0]

    tell(tmp_path / "a.sqlite", story)


def test_every_value_leads_to_the_next_place_and_rows_show_their_verdict(tmp_path: Path) -> None:
    identity = begun(tmp_path / "a.sqlite")

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/sheet/{identity}")
        for said in ("1", "-1", "2", "-2"):
            typed(user, said)
        await see(user, "2  slip, value 1 of 1")
        await see(user, "20.0")
        typed(user, "9.5", by="foot-switch")
        await see(user, "Every place has its value.")
        await see(user, "undecided")
        await see(user, "Most of the uncertainty is")
        with open_archive(tmp_path / "a.sqlite") as other:
            readings = values_of(other, find_sheet(other, None))
        assert [reading.taken_by for reading in readings.values()].count("foot-switch") == 1
        user.find("take the last back").click()
        await see(user, "2  slip, value 1 of 1")
        assert len(held(desk.archive)) == 4

    tell(tmp_path / "a.sqlite", story)


def test_a_doubt_stops_what_was_typed_before_it_was_seen(tmp_path: Path) -> None:
    identity = begun(tmp_path / "a.sqlite")

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/sheet/{identity}")
        for said in ("1", "-1", "2", "-2", "400", "7"):  # 7 was on its way before the question stood there
            typed(user, said)
        await see(user, "'7' was not taken")
        assert len(held(desk.archive)) == 4
        typed(user, "4", state="doubt")
        await see(user, "needle: 4 kept")
        assert held(desk.archive)[-1] == 4.0

    tell(tmp_path / "a.sqlite", story)


def test_enter_alone_keeps_what_was_asked_about(tmp_path: Path) -> None:
    identity = begun(tmp_path / "a.sqlite")

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/sheet/{identity}")
        await see(user, "2  slip")
        user.find("2  slip").click()
        await see(user, "needle")
        typed(user, "400")
        await see(user, "can hardly be meant")
        typed(user, "", state="doubt")
        await gone(user, "can hardly be meant")
        assert held(desk.archive) == [400.0]

    tell(tmp_path / "a.sqlite", story)


def test_a_reading_pressed_is_typed_again_and_the_old_one_stays(tmp_path: Path) -> None:
    identity = begun(tmp_path / "a.sqlite")

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/sheet/{identity}")
        typed(user, "1")
        typed(user, "-1")
        await see(user, "foot 1 +20.0 µm/m")
        user.find("foot 1 +20.0 µm/m").click()
        await see(user, "1  twist, value 1 of 4")
        typed(user, "3")
        await until(lambda: 60.0 in held(desk.archive))
        sheet = find_sheet(desk.archive, None)
        (taken,) = desk.archive.passes(sheet.id)
        assert len(desk.archive.readings(taken.id)) == 3

    tell(tmp_path / "a.sqlite", story)


def test_an_unknown_sheet_says_so(tmp_path: Path) -> None:
    begun(tmp_path / "a.sqlite")

    async def story(user: User, _: Desk) -> None:
        await user.open("/sheet/guess")
        await see(user, "0 sheets fit")

    tell(tmp_path / "a.sqlite", story)


def test_a_bed_read_with_one_level_leads_to_the_correct_page(tmp_path: Path) -> None:
    share = FEET_MM / 6000.0
    with filling(tmp_path, *template("bed-by-level").row) as (_, sheet, fill):
        type_bed(fill, -80.0 * 4 * share * (1 - share), -80.0 * 4 * share * (1 - share) + 30.0 * share, sheet.rows)
    with open_archive(tmp_path / "a.sqlite") as archive:
        sheet = find_sheet(archive, None)
        known, _ = machine_of(archive, sheet)
        archive.save(replace(read_machine(machine_file(tmp_path)), id=known.id))

    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/sheet/{sheet.id}")
        user.find("look at the bed").click()
        await see(user, "rough level on three points: done")
        await see(user, "twist: now")
        user.find("plan which supports to turn").click()
        await until(lambda: len(desk.archive.lines(sheet.visit_id)) == 1)

    tell(tmp_path / "a.sqlite", story)
