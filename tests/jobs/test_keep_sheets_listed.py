"""Sheets of tests stand beside the lines wherever visits and passes are listed."""

from __future__ import annotations

from pathlib import Path
from uuid import UUID

import pytest

from made_sheet import sheet_file
from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs import remember
from waywright.jobs.sheet_fill import SheetFill
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet
from waywright.jobs.visits import find_visit, known_machines, visit_shown, visits_page
from waywright.visit.sheet import SheetRow

ROW = SheetRow("1", "run-out of the nose", "run-out", places=("front", "rear"), unit="um")


@pytest.fixture
def place(tmp_path: Path) -> Path:
    with open_archive(tmp_path / "a.sqlite", create=True) as archive:
        sheet = begin_sheet(archive, sheet_file(ROW), SheetOrder("HR-6", "Ada Example"), SystemClock())
        SheetFill(archive, sheet, SystemClock()).enter("3")
        archive.close()
    return tmp_path / "a.sqlite"


def test_the_list_of_the_archive_shows_sheets(place: Path) -> None:
    (entry,) = remember.overview(place)
    assert (entry.machine, entry.line, entry.state, entry.stations, entry.outcome) == (
        "HR-6",
        sheet_file(ROW).title,
        "sheet",
        1,
        None,
    )
    assert remember.overview_page(place, None, 10).entries == (entry,)
    detail = remember.pass_detail(str(entry.pass_id), place)
    assert [row.values for row in detail.rows] == [(3.0, None)]


def test_a_visit_shows_its_sheets(place: Path) -> None:
    with open_archive(place) as archive:
        shown = visit_shown(archive, find_visit(archive, None))
        ((known,),) = [machine.visits for machine in known_machines(archive)]
        (row,) = visits_page(archive, None, None, 10).visits
    assert [(each.sheet.title, each.filled, each.places) for each in shown.at.sheets] == [(sheet_file(ROW).title, 1, 2)]
    assert known.sheets == shown.at.sheets
    assert (row.lines, row.sheets) == (0, 1)


def test_a_pass_that_is_not_there_is_refused(place: Path) -> None:
    with pytest.raises(BadInput):
        remember.pass_detail(str(UUID(int=1)), place)
