"""The report of a visit lists the sheets of tests filled in there, with figures and verdicts of their own reports."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest
from made_line import begin_line, take_pass

from made_sheet import enter, sheet_file
from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.jobs.prove import ReportOrder, written_report
from waywright.jobs.sheet_content import filled_content
from waywright.jobs.sheet_fill import SheetFill
from waywright.jobs.sheet_judge import sheet_result
from waywright.jobs.sheet_keep import SheetOrder, begin_sheet, sheets_kept
from waywright.jobs.sheets_of_visit import sheets_of_visit
from waywright.jobs.verify_report import verified
from waywright.visit.sheet import SheetRow

PLACES = ("front", "rear")
ROWS = (
    SheetRow("1", "run-out of the nose", "run-out", places=PLACES, unit="um", tolerance="0.030"),
    SheetRow("2", "run-out of the bore", "run-out", places=PLACES, unit="um", tolerance="0.005"),
    SheetRow("3", "run-out of the face", "run-out", places=PLACES, unit="um", tolerance="0.005"),
    SheetRow("4", "run-out of the centre", "run-out", places=PLACES, unit="um", tolerance="0.010"),
)
VERDICTS = ["conforms", "does not conform", "undecided", "not-measured"]


@pytest.fixture(scope="module")
def archive(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A visit with a line and a sheet: 1 um where 30 are allowed, 40 where 5 are, 5 where 5 are, and one not begun."""
    made = tmp_path_factory.mktemp("sheets")
    with open_archive(made / "a.sqlite", create=True) as opened:
        take_pass(opened, begin_line(opened, made), 1)
        order = SheetOrder(visit=opened.visits()[0])
        sheet = begin_sheet(opened, sheet_file(*ROWS), order, SystemClock())
        enter(SheetFill(opened, sheet, SystemClock()), 4.0, 3.0, 60.0, 20.0, 60.0, 55.0)
    return made / "a.sqlite"


def words_of(report: Path) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(report).pages)


def test_it_says_what_the_report_of_the_sheet_says(archive: Path) -> None:
    with open_archive(archive) as opened:
        [listed] = sheets_of_visit(opened, opened.visits()[0].id)
        [sheet] = sheets_kept(opened)
        own = filled_content(opened, sheet, sheet_result(opened, sheet))
    assert [test.verdict for test in listed.tests] == VERDICTS
    assert [test.mark for test in listed.tests] == ["inside", "outside", "undecided", ""]
    assert [(test.measured, test.expanded) for test in listed.tests] == [
        (row.measured, row.expanded) for row in own.rows
    ]
    assert [test.measured for test in listed.tests] == ["1.0", "40.0", "5.0", ""]


def test_the_pages_list_it_and_verify(archive: Path, tmp_path: Path) -> None:
    report = written_report([], tmp_path, ReportOrder(uncertainty=False), archive).files[0]
    words = words_of(report)
    section = words[words.index("Sheets of tests") :]
    assert words.index("Does not conform: ") < words.index("Sheets of tests")  # the first page says it too
    assert "4 rows: 1 conform, 1 do not conform, 1 undecided, 1 not measured." in section
    places = [section.index(row.what) for row in ROWS]
    assert places == sorted(places)
    assert verified(report, archive).agrees


def test_german_pages_say_it_in_german(archive: Path, tmp_path: Path) -> None:
    words = words_of(written_report([], tmp_path, ReportOrder(uncertainty=False, language="de"), archive).files[0])
    assert "Prüfblätter" in words
    assert "does not conform" not in words


def test_a_visit_without_sheets_has_no_such_section(tmp_path: Path) -> None:
    with open_archive(tmp_path / "a.sqlite", create=True) as opened:
        take_pass(opened, begin_line(opened, tmp_path), 1)
    report = written_report([], tmp_path, ReportOrder(uncertainty=False), tmp_path / "a.sqlite").files[0]
    assert "Sheets of tests" not in words_of(report)
