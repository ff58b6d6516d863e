"""Prove: what is not recorded stands beside the report, and is added as a dated entry."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from nicegui.testing import User

from jobs.made_line import two_passes
from made_pages import gone, see, tell
from waywright.archive import open_archive
from waywright.errors import BadInput
from waywright.jobs.complete import ADDED_LATER, add_later, gaps, later_entries
from waywright.jobs.measured import measured_line
from waywright.visit import Line, Visit
from waywright.web.desk import Desk
from waywright.web.report_shelf import ReportShelf, Wish


@pytest.fixture
def made(tmp_path: Path) -> tuple[Path, Line]:
    """A line measured forward and back, with little written down."""
    return two_passes(tmp_path)


def test_a_gap_is_filled_by_a_dated_entry_and_the_first_stays(made: tuple[Path, Line]) -> None:
    async def story(user: User, desk: Desk) -> None:
        await user.open(f"/line/{made[1].id}/prove")
        await see(user, "Not recorded yet")
        await see(user, "The report as it will be: ")
        await see(user, "purpose of the visit")
        user.find("purpose of the visit").type("acceptance after moving")
        user.find(marker="record-purpose").click()
        await gone(user, "purpose of the visit")
        await see(user, "Added later")
        visit = desk.archive.load(Visit, desk.line(str(made[1].id))[1].id)
        assert visit.purpose == "acceptance after moving"
        first, *_, last = desk.archive.history(visit.id)
        assert first.record.purpose is None
        assert last.reason == ADDED_LATER

    tell(made[0], story)


def test_the_report_comes_as_pdf_workbook_and_table(made: tuple[Path, Line]) -> None:
    async def story() -> dict[str, bytes]:
        desk = Desk(made[0])
        shelf = ReportShelf(desk)
        files = {
            ending: (await shelf.file(made[1], Wish("minimum-zone"), ending))[1] for ending in ("pdf", "xlsx", "csv")
        }
        pages = await shelf.pictures(made[1], Wish("minimum-zone"))
        await desk.close()
        return files | {"png": pages[0]}

    files = asyncio.run(story())
    assert files["pdf"].startswith(b"%PDF-")
    assert files["xlsx"].startswith(b"PK")
    assert b"position_mm" in files["csv"]
    assert files["png"].startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("name", "value", "key"),
    [
        ("colour", "green", "jobs.unknown_fact"),
        ("anchor_bolts", "loose", "jobs.bad_fact"),
        ("method", "   ", "jobs.bad_fact"),
        ("air_temperature", "warm", "jobs.bad_temperature"),
    ],
)
def test_what_cannot_be_recorded_is_refused(made: tuple[Path, Line], name: str, value: str, key: str) -> None:
    from waywright.clocks import SystemClock

    with open_archive(made[0]) as archive:
        measured = measured_line(archive, made[1])
        with pytest.raises(BadInput) as refused:
            add_later(archive, measured, name, value, SystemClock())
        assert refused.value.key == key
        assert later_entries(archive, measured) == ()


def test_every_gap_can_be_filled(made: tuple[Path, Line]) -> None:
    from waywright.clocks import SystemClock

    with open_archive(made[0]) as archive:
        found = gaps(measured_line(archive, made[1]))
        assert {"purpose", "serial", "method", "source", "anchor_bolts", "air_temperature"} <= {g.name for g in found}
        for gap in found:
            value = gap.options[0] if gap.options else "20,5"
            add_later(archive, measured_line(archive, made[1]), gap.name, value, SystemClock())
        measured = measured_line(archive, made[1])
        assert gaps(measured) == ()
        assert measured.passes[0].taken.conditions.temperatures[0].value_degc == 20.5
        assert len(later_entries(archive, measured)) >= len(found)
