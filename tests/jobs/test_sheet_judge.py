"""A sheet judged: values, uncertainty, verdicts, why a row is undecided; results of the evaluation suite as rows."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from made_sheet import enter, filling
from waywright.evaluate import straightness
from waywright.files import ReadingsTable, write_table
from waywright.jobs.sheet_content import blank_content, filled_content, row_content, undecided_words
from waywright.jobs.sheet_files import sheet_json
from waywright.jobs.sheet_judge import RowResult, sheet_result
from waywright.report.sheet_pdf import sheet_pdf
from waywright.report.sheet_workbook import sheet_workbook
from waywright.visit.sheet import SheetRow


def judged(folder: Path, row: SheetRow, *read: float) -> RowResult:
    with filling(folder, row) as (archive, sheet, fill):
        enter(fill, *read)
        return sheet_result(archive, sheet, folder).rows[0]


@pytest.mark.parametrize(("read", "verdict"), [(5.0, "conforms"), (9.5, "undecided"), (14.0, "does not conform")])
def test_the_three_verdicts(tmp_path: Path, read: float, verdict: str) -> None:
    found = judged(tmp_path, SheetRow("1", "slip", "axial-slip", tolerance="0.01"), read)
    assert found.verdict == verdict
    assert found.value == read
    assert found.expanded == pytest.approx(1.94, abs=0.03)
    assert found.limit == pytest.approx(10.0)


def test_an_undecided_row_says_why_and_what_its_uncertainty_is_made_of(tmp_path: Path) -> None:
    found = judged(tmp_path, SheetRow("4", "slip", "axial-slip", tolerance="0.01"), 9.5)
    words = undecided_words(found)
    assert words.startswith("Row 4, slip:")
    assert "lies within" in words
    assert "scatter of a reading" in words
    assert found.accepted is False  # the supplier has to prove


def test_rows_that_are_not_judged_say_so(tmp_path: Path) -> None:
    rows = (SheetRow("1", "a", "run-out"), SheetRow("2", "b", "run-out"),
            SheetRow("3", "c", "difference", tolerance="0.02/300"), SheetRow("4", "d", "difference"))  # fmt: skip
    with filling(tmp_path, *rows) as (archive, sheet, fill):
        enter(fill, 3.0)
        fill.pass_over()
        fill.go_to("3")
        enter(fill, 0.0, 5.0, 1.0)
        found = sheet_result(archive, sheet)
    assert [row.verdict for row in found.rows] == ["no-limit", "not-measured", "not-judged", "incomplete"]
    assert found.rows[2].why[0].key == "sheet.needs_length"
    assert found.rows[3].why[0].facts["missing"] == 1


@pytest.mark.parametrize(("far", "verdict"), [(15.0, "conforms"), (-15.0, "does not conform"), (1.0, "undecided")])
def test_one_sided_rules_count_with_their_uncertainty(tmp_path: Path, far: float, verdict: str) -> None:
    row = SheetRow("1", "s", "spindle", at_mm=(0.0, 300.0), tolerance="0.02/300 and leaning up", positive="up")
    assert judged(tmp_path, row, 0.0, far, 0.0, far).verdict == verdict


def test_signed_values_have_a_limit_on_both_sides(tmp_path: Path) -> None:
    row = SheetRow("1", "h", "head-to-tail", tolerance="0.02")
    assert judged(tmp_path, row, 0.0, -40.0).verdict == "does not conform"


def test_limits_of_angles_and_of_lengths(tmp_path: Path) -> None:
    level = SheetRow("1", "t", "twist", ("a", "b"), turned=True, tolerance="0.04/1000")
    assert judged(tmp_path, level, 10.0, -10.0, 20.0, -20.0).verdict == "conforms"


def test_convex_and_local_parts_of_a_rule(tmp_path: Path) -> None:
    row = SheetRow("1", "w", "straightness", at_mm=tuple(range(0, 1100, 100)), positive="up", reference="end-points",
                   tolerance="0.03 and 0.02 over any 300 and convex only")  # fmt: skip
    convex = [20.0 * (1.0 - ((x - 500) / 500) ** 2) for x in range(0, 1100, 100)]
    found = judged(tmp_path, row, *convex)
    assert [part.decision is not None for part in found.judged] == [True, True, True]
    assert found.judged[2].decision is not None
    assert str(found.judged[2].decision.verdict) == "conforms"
    (tmp_path / "b").mkdir()
    hollow = judged(tmp_path / "b", row, *(-height for height in convex))
    assert hollow.verdict == "does not conform"


def test_reading_a_coarse_dial_widens_the_uncertainty(tmp_path: Path) -> None:
    fine = SheetRow("1", "t", "difference", unit="um")
    coarse = replace(fine, unit="div", division=50.0, division_unit="um")
    (tmp_path / "b").mkdir()
    first = judged(tmp_path, fine, 0.0, 100.0)
    second = judged(tmp_path / "b", coarse, 0.0, 2.0)
    assert first.value == second.value == 100.0
    assert second.expanded is not None
    assert first.expanded is not None
    assert second.expanded > 2.0 * first.expanded


def test_a_budget_of_ones_own_counts(tmp_path: Path) -> None:
    text = 'format = 1\nmethod = "own"\n[[contribution]]\nname = "all"\nacts = "reading"\nvalue = 10.0\nunit = "um"\n'
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    found = judged(tmp_path, SheetRow("1", "t", "value", budget="own.toml"), 3.0)
    assert found.standard == pytest.approx(10.0)


def table_of(folder: Path) -> tuple[np.ndarray, np.ndarray]:
    x = np.arange(0.0, 2100.0, 200.0)
    y = 12.0 * np.sin(x / 400.0)
    write_table(folder / "line.csv", ReadingsTable(x, {"EYZ": y}))
    return x, y


def test_a_row_takes_a_result_of_the_evaluation_with_its_uncertainty(tmp_path: Path) -> None:
    x, y = table_of(tmp_path)
    row = SheetRow("1", "straight", "result", of="straightness", files=("line.csv",), tolerance="0.04",
                   budget="straightedge")  # fmt: skip
    with filling(tmp_path, row) as (archive, sheet, _):
        found = sheet_result(archive, sheet, tmp_path).rows[0]
    assert found.value == pytest.approx(straightness(x, y, "least-squares").value_um)
    assert found.verdict == "conforms"
    # scatter 0.7, reversal and resolution act on the two readings that make largest and smallest, and a little more
    assert found.expanded is not None
    assert 1.5 < found.expanded < 8.0


def test_further_figures_of_other_evaluations_and_stated_uncertainty(tmp_path: Path) -> None:
    (tmp_path / "ram.csv").write_text("extension_mm,off_um,on_um\n0,0,0\n300,-15,4\n600,-60,-9\n", encoding="utf-8")
    row = SheetRow(
        "1", "ram", "result", of="ram", files=("ram.csv",), take="ram_on", uncertainty_um=4.0, tolerance="0.02"
    )
    with filling(tmp_path, row, replace(row, number="2", of="guess"), replace(row, number="3", take="guess"),
                 replace(row, number="4", files=())) as (archive, sheet, _):  # fmt: skip
        found = sheet_result(archive, sheet, tmp_path).rows
    assert (found[0].value, found[0].standard) == (-9.0, 2.0)
    assert [each.verdict for each in found] == ["conforms", "not-judged", "not-judged", "not-measured"]


def test_the_uncertainty_of_a_result_is_that_of_the_readings_carried_through(tmp_path: Path) -> None:
    """Twist of three places: only largest and smallest count, so sigma root two for independent tilts of 1 um/m."""
    x = np.array([0.0, 500.0, 1000.0])
    write_table(tmp_path / "roll.csv", ReadingsTable(x, {"ECZ": np.array([0.0, 40.0, 100.0])}))
    text = 'format = 1\nmethod = "o"\n[[contribution]]\nname = "s"\nacts = "step-angle"\nvalue = 1.0\nunit = "um/m"\n'
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    row = SheetRow("1", "twist", "result", of="twist", files=("roll.csv",), budget="own.toml")
    with filling(tmp_path, row) as (archive, sheet, _):
        found = sheet_result(archive, sheet, tmp_path).rows[0]
    assert (found.value, found.unit) == (pytest.approx(100.0), "um/m")
    assert found.standard == pytest.approx(np.sqrt(2.0), rel=1e-6)


def test_one_content_makes_page_pdf_workbook_and_json(tmp_path: Path) -> None:
    openpyxl = pytest.importorskip("openpyxl")
    pypdf = pytest.importorskip("pypdf")
    row = SheetRow("4", "Spindle: axial slip", "axial-slip", tolerance="0.01")
    with filling(tmp_path, row) as (archive, sheet, fill):
        enter(fill, 9.5)
        result = sheet_result(archive, sheet)
        content = filled_content(archive, sheet, result)
    (tmp_path / "s.pdf").write_bytes(sheet_pdf(content))
    (tmp_path / "s.xlsx").write_bytes(sheet_workbook(content))
    printed = "".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "s.pdf").pages)
    for words in ("Spindle: axial slip", "9.5", "undecided", "scatter of a reading", "HR-6"):
        assert words in printed
    book = openpyxl.load_workbook(tmp_path / "s.xlsx")
    cells = [cell.value for line in book.worksheets[0].iter_rows() for cell in line]
    assert {"4", "Spindle: axial slip", 9.5, "undecided"} <= set(cells)
    assert json.loads(sheet_json(result))["rows"][0]["value"] == 9.5
    assert row_content(result.rows[0]).measured == "9.5"
    assert sheet_workbook(content) == sheet_workbook(content)


def test_the_blank_sheet_has_a_line_for_every_value(tmp_path: Path) -> None:
    pypdf = pytest.importorskip("pypdf")
    from waywright.files.sheet_file import template

    content = blank_content(template("lathe"), "HR-6")
    assert sum(len(row.places) for row in content.rows) == 42
    (tmp_path / "b.pdf").write_bytes(sheet_pdf(content))
    printed = "".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "b.pdf").pages)
    assert "foot 4, turned" in printed
    assert "HR-6" in printed
