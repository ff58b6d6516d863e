"""The workbook's formulas, calculated anew by LibreOffice, give what the program gives.

LibreOffice is told to calculate everything on loading, and the workbook comes without the values it was delivered with,
so that nothing of ours can be read back.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import openpyxl
import pytest
from made_line import begin_line, take_pass

from waywright.archive import open_archive
from waywright.jobs.measured import measured_line
from waywright.jobs.prove import ReportOrder, report_of
from waywright.report import ReportContent, workbook_bytes
from waywright.report.workbook_formulas import FIRST

ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse">
<value>0</value></prop></item></oor:items>
"""


def soffice() -> str:
    """LibreOffice; without it these tests are skipped, and fail where everything has to be there (CI)."""
    found = shutil.which("soffice") or shutil.which("libreoffice")
    if found is None:
        sentence = "No LibreOffice on this computer: install libreoffice-calc-nogui to let it calculate the workbook."
        if os.environ.get("CI", "").lower() == "true":
            pytest.fail(sentence)
        pytest.skip(sentence)
    return found


def calculated(book: openpyxl.Workbook, folder: Path) -> openpyxl.Workbook:
    """The workbook as LibreOffice calculates it; saving by openpyxl has left no values beside the formulas."""
    profile = folder / "profile" / "user"
    profile.mkdir(parents=True)
    (profile / "registrymodifications.xcu").write_text(ALWAYS)
    book.save(folder / "in.xlsx")
    command = [
        soffice(), f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless",
        "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(folder / "out"), str(folder / "in.xlsx"),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    return openpyxl.load_workbook(folder / "out" / "in.xlsx", data_only=True)


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> ReportContent:
    folder = tmp_path_factory.mktemp("book")
    with open_archive(folder / "a.sqlite", create=True) as opened:
        begun = begin_line(opened, folder)
        take_pass(opened, begun, 1)
        take_pass(opened, begun, 2, offset_um=1.5)
        made, _ = report_of(opened, [measured_line(opened, begun.line)], ReportOrder())
    return made


@pytest.fixture(scope="module")
def books(
    content: ReportContent, tmp_path_factory: pytest.TempPathFactory
) -> tuple[openpyxl.Workbook, openpyxl.Workbook]:
    """Calculated anew: as written, and after the mean of one station was raised by 10 um in the sheet."""
    soffice()
    path = tmp_path_factory.mktemp("source") / "book.xlsx"
    path.write_bytes(workbook_bytes(content))
    plain, changed = openpyxl.load_workbook(path), openpyxl.load_workbook(path)
    cell = changed["Lines 1 EYZ"].cell(FIRST + 1 + 10, 2)
    cell.value = cell.value + 10.0
    return tuple(calculated(book, tmp_path_factory.mktemp("calc")) for book in (plain, changed))  # type: ignore[return-value]


def test_end_points_and_least_squares_are_the_programs(
    content: ReportContent, books: tuple[openpyxl.Workbook, openpyxl.Workbook]
) -> None:
    book, _ = books
    for quantity in content.main.quantities:
        sheet = book[f"Lines 1 {quantity.code.text}"]
        for column, name in ((3, "end-points"), (4, "least-squares")):
            item = next(value for value in quantity.values if value.reference == name)
            found = [sheet.cell(row, column).value for row in range(3, 8)]
            wanted = [item.largest, item.smallest, item.value]
            assert found[:3] == pytest.approx(wanted, abs=1e-9)
            if item.value > 1e-6:
                assert found[3:] == [item.largest_mm, item.smallest_mm]
        deviations = [sheet.cell(FIRST + 1 + row, 4).value for row in range(len(quantity.position_mm))]
        assert deviations == pytest.approx(quantity.deviation, abs=1e-9)


def test_results_point_to_the_formulas(
    content: ReportContent, books: tuple[openpyxl.Workbook, openpyxl.Workbook]
) -> None:
    plain, changed = (book["Results"] for book in books)
    height = content.main.quantities[0]
    rows = list(plain.iter_rows(min_row=5, max_row=7, values_only=True))
    assert [row[2] for row in rows] == ["least squares", "end points", "minimum zone"]
    for row, item in zip(rows, height.values, strict=True):
        assert [row[3], row[5], row[7]] == pytest.approx([item.value, item.largest, item.smallest], abs=1e-9)
    moved = list(changed.iter_rows(min_row=5, max_row=7, values_only=True))
    assert moved[0][3] > rows[0][3] + 5.0  # a changed reading moves both live lines ...
    assert moved[1][3] > rows[1][3] + 5.0
    assert moved[2][3] == rows[2][3]  # ... but not the minimum zone, which is a figure of the program


def test_the_budget_is_live(content: ReportContent, books: tuple[openpyxl.Workbook, openpyxl.Workbook]) -> None:
    sheet = books[0]["Budget"]
    stated = content.main.quantities[0].uncertainty
    assert stated is not None
    first = 6
    found = [sheet.cell(first + row, 8).value for row in range(len(stated.rows))]
    assert found == pytest.approx([row.contribution for row in stated.rows], abs=1e-9)
    total = sheet.cell(first + len(stated.rows), 8).value
    assert total == pytest.approx(sum(row.contribution**2 for row in stated.rows) ** 0.5, abs=1e-9)


def test_no_formula_is_an_error(books: tuple[openpyxl.Workbook, openpyxl.Workbook]) -> None:
    for book in books:
        values = [cell for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row]
        assert not [value for value in values if isinstance(value, str) and value.startswith(("#", "Err:"))]
