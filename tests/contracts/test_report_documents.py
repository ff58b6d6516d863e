"""The report: one content, three documents that agree with it and with each other."""

from __future__ import annotations

import io
import json
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import numpy as np
import openpyxl
import pikepdf
import pypdf
import pytest
from hr6_example import HR6, SETUP, report_content

from waywright.drawing import plain_number, signed
from waywright.errors import ReportError
from waywright.files import read_table
from waywright.quantities import Direction, code, iso_sign
from waywright.report import ReportContent, line_table, pdf_bytes, workbook_bytes, write_report
from waywright.report.workbook_formulas import FIRST
from waywright.visit import Column, Profile, SetUp


@pytest.fixture(scope="module")
def content() -> ReportContent:
    return report_content()


@pytest.fixture(scope="module")
def pdf(content: ReportContent) -> bytes:
    return pdf_bytes(content)


@pytest.fixture(scope="module")
def pages(pdf: bytes) -> list[str]:
    """The text of every page, blanks of any kind as one blank."""
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def text_of(pdf: io.BytesIO | Path) -> str:
    """All text of a PDF, blanks of any kind as one blank."""
    return " ".join(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(pdf).pages)


@pytest.fixture(scope="module")
def book(content: ReportContent) -> openpyxl.Workbook:
    """As a program reads it that does not calculate: formulas with the values they are delivered with."""
    return openpyxl.load_workbook(io.BytesIO(workbook_bytes(content)), data_only=True)


def test_the_same_content_gives_the_same_bytes(content: ReportContent, pdf: bytes) -> None:
    assert pdf_bytes(report_content()) == pdf
    assert workbook_bytes(report_content()) == workbook_bytes(content)


def test_another_moment_or_value_gives_other_bytes(content: ReportContent, pdf: bytes) -> None:
    assert pdf_bytes(replace(content, software_version="0.1.1")) != pdf
    later = content.made_utc.replace(hour=9)
    assert pdf_bytes(replace(content, made_utc=later)) != pdf
    assert workbook_bytes(replace(content, made_utc=later)) != workbook_bytes(content)


def test_the_pdf_says_which_standards_it_keeps(pdf: bytes) -> None:
    """PDF/A: ISO 19005-3, 6.6.4 (part 3, conformance A); PDF/UA: ISO 14289-1, 5 (part 1)."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        metadata = document.open_metadata()
        assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"]) == ("3", "A")
        assert metadata["pdfuaid:part"] == "1"
        assert metadata["dc:title"] == "HR-6 · carriage Z · as found"
        assert document.Root.MarkInfo.Marked
        assert document.Root.Lang == "en"
        assert document.Root.ViewerPreferences.DisplayDocTitle
        assert str(metadata["xmp:CreateDate"]).startswith("2026-03-04T08:30:00")


def figures(document: pikepdf.Pdf) -> list[str]:
    """The alternative texts of all figures in the tag tree."""
    found, waiting = [], [document.Root.StructTreeRoot]
    while waiting:
        node = waiting.pop()
        if isinstance(node, pikepdf.Array):
            waiting.extend(node)
        elif isinstance(node, pikepdf.Dictionary):
            if node.get("/S") == "/Figure":
                found.append(str(node.get("/Alt", "")))
            if "/K" in node:
                waiting.append(node.K)
    return found


def test_every_drawing_has_words_for_those_who_hear_it(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        alternatives = figures(document)
    assert len(alternatives) == 5  # way, three curves, the bed in three dimensions
    assert any(text.startswith("Way drawing of HR-6. Height (EYZ)") for text in alternatives)
    assert sum(text.startswith("Deviation curve.") for text in alternatives) == 3


def test_fonts_are_embedded_and_ours(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        fonts = [item for item in document.objects if isinstance(item, pikepdf.Dictionary) and "/FontName" in item]
        assert fonts
        for font in fonts:
            assert "B612" in str(font.FontName)
            assert "/FontFile3" in font or "/FontFile2" in font


def test_the_first_page_tells_the_result(content: ReportContent, pages: list[str]) -> None:
    first = pages[0]
    for quantity in content.main.quantities:
        best = quantity.chosen
        assert f"({quantity.code.text})" in first
        assert f"{plain_number(best.value, 1)} µm" in first
    for words in (
        "roll lathe HR-6", "HR-1987-06", "Hollin Reach", "A. Example", "yearly inspection", "as found",
        "about the least-squares line", "Measured; no tolerance was applied.", "no tolerance applied",
        "next check due not recorded", "taking part not recorded", "up is +",
        "invented machine and data", "2026-03-04 07:30 – 08:02 UTC", "Waywright 0.1.0", "page 1 of",
    ):  # fmt: skip
        assert words in first, words


def test_the_other_pages_hold_the_evidence(content: ReportContent, pages: list[str]) -> None:
    everything = " ".join(pages)
    for quantity in content.main.quantities:
        for place, value in zip(quantity.position_mm, quantity.deviation, strict=True):
            assert f"{plain_number(place, 1)} {signed(value, 2)}" in everything
    column = content.main.passes[1].profile.columns[0]
    for place, value in zip(content.main.passes[1].profile.position_mm, column.screen, strict=True):
        assert f"{plain_number(float(place), 1)} {signed(float(value), 2)}" in everything
    for quantity in content.main.quantities:
        best = quantity.chosen
        assert f"{signed(best.largest)} at {plain_number(best.largest_mm)} mm" in everything
    for words in (
        "towards the operator", "operator's side up", "up is positive", "mean of 2 passes",
        "least squares · chosen", "end points", "minimum zone",
        "pass 2, backward", "the bed, 6360 mm from its left end",
        "\N{MINUS SIGN}Y points up, +X towards the operator", "clamps not recorded", "anchor bolts snug",
        "air at the beam 19.4 °C", "HR-BD-01", "HR-C-118", "readings taken again at the same station: 1",
        content.main.passes[0].last_hash or "", "SHA-256 of the last reading", "100/100/20",
    ):  # fmt: skip
        assert words in everything, words


def test_the_three_lines_stand_with_the_chosen_one_first(content: ReportContent, pages: list[str]) -> None:
    everything = " ".join(pages)
    places = []
    for item in content.main.quantities[0].values:
        words = f"{plain_number(item.value, 1)} µm {signed(item.largest)} {signed(item.smallest)}"
        assert words in everything
        places.append(everything.index(words))
    assert places == sorted(places)


def test_the_readings_are_attached(content: ReportContent, pdf: bytes, tmp_path: Path) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        attached = document.attachments["readings.csv"]
        assert str(attached.obj.AFRelationship) == "/Data"
        (tmp_path / "attached.csv").write_bytes(attached.get_file().read_bytes())
    paths = write_report(content, tmp_path)
    assert (tmp_path / "attached.csv").read_bytes() == paths.table.read_bytes()


def test_the_table_reads_back_equal(content: ReportContent, tmp_path: Path) -> None:
    paths = write_report(content, tmp_path / "new" / "folder")
    assert sorted(path.name for path in paths.pdf.parent.iterdir()) == [
        "HR-6-carriage-Z-as-found.csv", "HR-6-carriage-Z-as-found.pdf", "HR-6-carriage-Z-as-found.xlsx",
    ]  # fmt: skip
    parts = read_table(paths.table).passes()
    assert len(parts) == 2
    for part, each in zip(parts, content.main.passes, strict=True):
        assert part.position_mm.tolist() == each.profile.position_mm.tolist()
        for column in each.profile.columns:
            assert part.columns[column.code.text].tolist() == column.iso.tolist()
            assert part.standard_deviation[column.code.text].tolist() == column.standard_deviation.tolist()
            assert part.samples_of[column.code.text].tolist() == column.samples.tolist()
        assert part.direction == each.profile.direction
    assert read_table(paths.table).metadata["EYZ"] == "height, ISO sign: positive is down"
    assert read_table(paths.table).metadata["invented"] == "yes"


def test_the_table_has_iso_signs_and_the_pages_physical_ones(content: ReportContent) -> None:
    column = content.main.passes[0].profile.columns[0]
    assert iso_sign(code("EYZ"), Direction.UP, HR6.axes) == -1
    assert line_table(content, content.main).columns["EYZ"][:22].tolist() == (-column.screen).tolist()


def alike(found: Iterable[object], wanted: Iterable[float]) -> bool:
    """Numbers equal to the 16 digits that a workbook keeps."""
    cells, numbers = list(found), [float(value) for value in wanted]
    return all(isinstance(cell, int | float) for cell in cells) and cells == pytest.approx(numbers, rel=1e-15, abs=0)


def test_the_workbook_holds_the_same_values(content: ReportContent, book: openpyxl.Workbook) -> None:
    assert book.sheetnames == ["Results", "Lines 1 EYZ", "Lines 1 EXZ", "Lines 1 ECZ", "Readings", "About"]
    rows = [[cell.value for cell in row] for row in book["Results"].iter_rows()]
    for quantity in content.main.quantities:
        for item in quantity.values:
            wanted = [item.value, item.largest, item.largest_mm, item.smallest, item.smallest_mm]
            assert any(alike([row[3], *row[5:9]], wanted) for row in rows)
        stations = list(book[f"Lines 1 {quantity.code.text}"].iter_rows(min_row=FIRST + 1, values_only=True))
        column = 1 if quantity.chosen.reference == "none" else 3
        assert alike([row[0] for row in stations], quantity.position_mm)
        assert [row[column] for row in stations] == pytest.approx(quantity.deviation, abs=1e-9)
    readings = list(book["Readings"].iter_rows(min_row=2, values_only=True))
    assert len(readings) == 44
    for row, each, station in ((readings[0], content.main.passes[0], 0), (readings[43], content.main.passes[1], 21)):
        assert row[0] == "carriage Z · as found"
        assert (row[1], row[3]) == (each.number, each.direction)
        assert alike(row[2:3], [each.profile.position_mm[station]])
        for index, column in enumerate(each.profile.columns):
            at = 4 + 3 * index
            wanted = [column.screen[station], column.standard_deviation[station], column.samples[station]]
            assert alike(row[at : at + 3], wanted)


def test_the_workbook_has_charts_over_its_own_cells(content: ReportContent, book: openpyxl.Workbook) -> None:
    sheet = book["Results"]
    charts = sheet._charts
    assert len(charts) == 3
    for chart, quantity in zip(charts, content.main.quantities, strict=True):
        name, _, cells = chart.series[0].yVal.numRef.f.partition("!")
        found = [cell[0].value for cell in book[name.strip("'")][cells.replace("$", "")]]
        assert found == pytest.approx(quantity.deviation, abs=1e-9)
    assert book.properties.created == content.made_utc.replace(tzinfo=None)


@pytest.mark.parametrize(
    "wicked", ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "=HYPERLINK(1)", "http://example.invalid", "12"]
)
def test_text_stays_text_in_the_workbook(content: ReportContent, wicked: str) -> None:
    line = replace(content.main, setup=replace(SETUP, method=wicked))
    changed = replace(content, technician=wicked, purpose=wicked, lines=(line,))
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(changed)))
    cells = [cell for row in book["About"].iter_rows() for cell in row if cell.value == wicked]
    assert len(cells) == 3
    assert {cell.data_type for cell in cells} == {"s"}
    assert all(cell.hyperlink is None for cell in cells)


def test_hostile_words_do_not_reach_the_template(content: ReportContent) -> None:
    wicked = '#panic("x") $x$ *bold* \\ "quoted" <label> @cite'
    line = replace(content.main, setup=replace(SETUP, method=wicked))
    changed = replace(content, technician=wicked, lines=(line,))
    text = text_of(io.BytesIO(pdf_bytes(changed)))
    assert text.count('#panic("x")') == 2
    assert "*bold*" in text


def test_what_nobody_recorded_is_said_and_blocks_nothing(content: ReportContent, tmp_path: Path) -> None:
    bare_setup = SetUp(SETUP.id, SETUP.line_id)
    bare_machine = replace(HR6, serial=None, owner=None, bed=None, marks=(), travels=(), invented=False)
    bare_pass = replace(
        content.main.passes[0], ended_utc=None, outcome=None, settings=None, events=(), last_hash=None,
        conditions=type(content.main.passes[0].conditions)(),
    )  # fmt: skip
    quantities = tuple(replace(q, passes=q.passes[:1], values=q.values[:1]) for q in content.main.quantities)
    line = replace(content.main, setup=bare_setup, passes=(bare_pass,), quantities=quantities)
    bare = replace(content, machine=bare_machine, lines=(line,), technician=None, purpose=None)
    paths = write_report(bare, tmp_path)
    text = text_of(paths.pdf)
    for words in (
        "serial number not recorded", "technician not recorded", "detector carried by not recorded",
        "source stands on not recorded", "position zero not recorded", "temperatures not recorded",
        "Nothing out of the ordinary was noticed.", "one pass",
    ):  # fmt: skip
        assert words in text, words
    assert "invented" not in text
    assert "invented" not in read_table(paths.table).metadata


def test_a_reading_without_one_quantity(content: ReportContent, tmp_path: Path) -> None:
    profile = content.main.passes[0].profile
    roll = profile.columns[2]
    holed = Column(
        roll.code, np.where(np.arange(22) == 3, np.nan, roll.iso), np.full(22, np.nan), np.zeros(22), roll.on_screen,
        roll.to_screen,
    )  # fmt: skip
    part = replace(
        content.main.passes[0], profile=Profile(profile.position_mm, (*profile.columns[:2], holed), profile.direction)
    )
    line = replace(content.main, passes=(part, content.main.passes[1]))
    paths = write_report(replace(content, lines=(line,)), tmp_path)
    back = read_table(paths.table, allow_missing=True)
    assert np.flatnonzero(np.isnan(back.columns["ECZ"])).tolist() == [3]
    book = openpyxl.load_workbook(paths.workbook)
    assert book["Readings"].cell(5, 11).value is None
    assert alike([book["Readings"].cell(6, 11).value], [holed.screen[4]])


@pytest.mark.parametrize("passes", [1, 3, 6])
def test_any_number_of_passes(passes: int) -> None:
    made = report_content(passes)
    text = text_of(io.BytesIO(pdf_bytes(made)))
    for each in made.main.passes:
        assert f"pass {each.number}, {each.direction}" in text


def test_a_folder_that_cannot_be_written(content: ReportContent, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(ReportError) as caught:
        write_report(content, tmp_path / "file")
    assert str(caught.value) == (
        f"The report cannot be written into {tmp_path / 'file'}: File exists. Choose another folder or free some space."
    )


def test_file_names_are_plain(content: ReportContent, tmp_path: Path) -> None:
    named = replace(content, machine=replace(HR6, name="../Höhe: \\7*?"))
    paths = write_report(named, tmp_path)
    assert paths.table == tmp_path / "Hohe-7-carriage-Z-as-found.csv"
    assert write_report(content, tmp_path, name="mine").pdf == tmp_path / "mine.pdf"


def test_all_that_is_printed_lies_inside_as_text(content: ReportContent, pdf: bytes, pages: list[str]) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        attached = document.attachments["report.json"]
        assert str(attached.obj.AFRelationship) == "/Alternative"
        inside = json.loads(attached.get_file().read_bytes())
    assert "<svg" not in json.dumps(inside)
    everything = " ".join(pages)
    for part in inside["lines"][0]["deviations"]:
        assert all(" ".join(row) in everything for row in part["rows"])
    assert (
        inside["lines"][0]["results"]["rows"][0][2] == f"{plain_number(content.main.quantities[0].chosen.value, 1)} µm"
    )


@pytest.mark.parametrize(("paper", "size"), [("a4", (595.28, 841.89)), ("us-letter", (612.0, 792.0))])
def test_on_either_paper(content: ReportContent, paper: str, size: tuple[float, float]) -> None:
    """ISO 216 A4 is 210 x 297 mm; US Letter 8.5 x 11 inches."""
    document = pypdf.PdfReader(io.BytesIO(pdf_bytes(replace(content, paper=paper))))
    box = document.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.1)


def test_german_and_both_side_by_side(content: ReportContent) -> None:
    german = text_of(io.BytesIO(pdf_bytes(replace(content, language="de"))))
    value = plain_number(content.main.quantities[0].chosen.value, 1)
    for words in ("Höhe (EYZ)", "wie vorgefunden", "Gemessen; keine Toleranz wurde angewandt.", "nicht festgehalten"):
        assert words in german, words
    assert f"{value.replace('.', ',')} µm" in german
    assert f"{value} µm" not in german
    both = text_of(io.BytesIO(pdf_bytes(replace(content, language="en+de"))))
    for words in (
        "height (EYZ) / Höhe (EYZ)",
        "serial number / Seriennummer",
        "about the least-squares line",
        f"{value} µm",
    ):
        assert words in both, words
    with pikepdf.open(io.BytesIO(pdf_bytes(replace(content, language="de")))) as document:
        assert document.Root.Lang == "de"
