"""Files built to harm, for the importers that have no hostile files of their own; and names that would be formulas."""

from __future__ import annotations

import csv
import gzip
import io
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import numpy as np
import openpyxl
import pytest
from hr6_example import report_content

from waywright.archive import open_archive
from waywright.clocks import new_id
from waywright.errors import BadInput, WaywrightError
from waywright.files import ReadingsTable, read_table, write_table
from waywright.files.sheet_file import read_sheet_file
from waywright.files.visit_file import read_visit_file
from waywright.jobs.attach import LARGEST_BYTES, attach, extract, plain_name
from waywright.jobs.guard import read_columns
from waywright.report import workbook_bytes
from waywright.simulation.scenario import load_scenario
from waywright.verdict import tolerance
from waywright.visit import Attachment

HEAD = b'{"format": "waywright visit", "version": "1.0.0", "scope": "visit", '
READERS: dict[str, Callable[[Path], object]] = {
    "visit file": read_visit_file,
    "sheet": read_sheet_file,
    "recording": lambda path: read_columns(path, "time_s"),
    "scenario": load_scenario,
}
HOSTILE = {
    "deep lists": b"a = " + b"[" * 200_000,
    "deep tables": b"[" + b".".join([b"a"] * 50_000) + b"]\n",
    "deep objects": b'{"a":' * 200_000,
    "deep in a visit": HEAD + b'"records": ' + b"[" * 200_000,
    "large": b"time_s,height_um\n" + b"1,2\n" * 3_000_000,
    "binary": bytes(range(256)) * 40,
    "zeros": bytes(100_000),
    "empty": b"",
    "huge number": b"format = " + b"9" * 100_000 + b"\n",
    "huge number in a visit": HEAD + b'"made_utc": ' + b"9" * 100_000 + b"}",
    "formula": b"=cmd|'/c calc'!A0\n",
    "half": b'format = 1\ntitle = "H\n[[row]]\n',
    "half a visit": HEAD + b'"records": [{"id": "',
    "surrogate": b'title = "\\ud800"\n',
    "long cell": b"time_s,height_um\n" + b"9" * 200_000 + b",x\n",
    "half packed": gzip.compress(HEAD * 100)[:60],
    "packed nonsense": b"\x1f\x8b\x08" + bytes(range(200)),
    "packed wrongly": gzip.compress(HEAD * 100)[:10] + b"\xff" * 500,
    "packed deep": gzip.compress(b'{"a":' * 200_000),
}


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("kind", HOSTILE)
def test_it_is_refused_with_a_sentence_and_bounded(tmp_path: Path, reader: str, kind: str) -> None:
    file = tmp_path / "file.toml"
    file.write_bytes(HOSTILE[kind])
    tracemalloc.start()
    began = time.process_time()
    try:
        with pytest.raises(BadInput) as caught:
            READERS[reader](file)
        assert time.process_time() - began < 10.0
        assert tracemalloc.get_traced_memory()[1] < 150_000_000
    finally:
        tracemalloc.stop()
    assert 20 < len(str(caught.value)) < 1000


@pytest.mark.parametrize("reader", READERS)
def test_a_folder_in_place_of_a_file_is_said(tmp_path: Path, reader: str) -> None:
    with pytest.raises(BadInput):
        READERS[reader](tmp_path)


def bomb(first: bytes, piece: bytes, times: int) -> bytes:
    target = io.BytesIO()
    with gzip.GzipFile(fileobj=target, mode="wb", compresslevel=1) as packed:
        packed.write(first)
        for _ in range(times):
            packed.write(piece)
    return target.getvalue()


def test_a_small_file_that_unpacks_to_a_large_one_is_left_in_time(tmp_path: Path) -> None:
    """300 MB of blanks in about 1 MB; and the same without the beginning of JSON, left after the first piece."""
    blanks = b" " * 1_000_000
    for name, first, words, most in (("a", HEAD, "no visit file is that large", 450_000_000),
                                     ("b", b"", "no visit file", 20_000_000)):  # fmt: skip
        file = tmp_path / f"{name}.json.gz"
        file.write_bytes(bomb(first, blanks, 300))
        assert file.stat().st_size < 5_000_000
        tracemalloc.start()
        try:
            with pytest.raises(BadInput, match=words):
                read_visit_file(file)
            assert tracemalloc.get_traced_memory()[1] < most
        finally:
            tracemalloc.stop()


NAMES = ("../../evil.txt", "..\\..\\evil.txt", "/etc/evil.txt", "C:\\evil.txt", "C:evil.txt", "..", "", "a/..",
         "\x00evil.txt")  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_a_name_from_elsewhere_does_not_lead_out_of_the_folder(tmp_path: Path, name: str) -> None:
    """A visit file may bring in an attachment of any name; it is written into the folder that was asked for."""
    folder = tmp_path / "one" / "two"
    folder.mkdir(parents=True)
    with open_archive(tmp_path / "a.sqlite", create=True) as opened:
        kept = Attachment(new_id(), new_id(), name, "text/plain", 2, opened.keep_content(b"hi"), "other", None)
        opened.save(kept)
        place = extract(opened, str(kept.id), folder)
    assert place.parent == folder
    assert place.name in ("evil.txt", str(kept.id))
    assert place.read_bytes() == b"hi"
    assert [each.name for each in tmp_path.iterdir() if each.suffix == ".txt"] == []


def test_a_name_that_is_one_stays(tmp_path: Path) -> None:
    kept = Attachment(new_id(), new_id(), "Bild 1 (vorn).jpg", "image/jpeg", 2, "0" * 64, "photo", None)
    assert plain_name(kept) == "Bild 1 (vorn).jpg"


def test_an_attachment_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    film = tmp_path / "film.mp4"
    with film.open("wb") as stream:
        stream.truncate(20 * LARGEST_BYTES)  # a gigabyte of nothing, without a byte written
    with open_archive(tmp_path / "a.sqlite", create=True) as opened:
        tracemalloc.start()
        try:
            with pytest.raises(BadInput, match=r"film.mp4"):
                attach(opened, new_id(), film, None, None, None)
            assert tracemalloc.get_traced_memory()[1] < 2.5 * LARGEST_BYTES
        finally:
            tracemalloc.stop()


RULES = ("(" * 100_000, "0.02 " + "or 0.01 " * 50_000, "9" * 100_000, "0.02 max " * 20_000, "-" * 100_000,
         "1e999", "0.02 up to 1e-999", "__import__('os')", "9**9**9", "\x00", "=1+1")  # fmt: skip


@pytest.mark.parametrize("number", range(len(RULES)))
def test_a_rule_built_to_harm_is_refused_in_time(number: int) -> None:
    began = time.process_time()
    with pytest.raises(WaywrightError):
        tolerance(RULES[number])
    assert time.process_time() - began < 2.0


FORMULAS = ("=1+1", "@SUM(1)", "+1+cmd|' /C calc'!A0", "-2+3+cmd|' /C calc'!A0", '=HYPERLINK("x")', "'=1", "''@x")


@pytest.mark.parametrize("formula", FORMULAS)
@pytest.mark.parametrize("before", ["", "HR-6,", "HR-6;", "HR-6, ", "HR-6,\t", "=,", "a,b;"])
def test_no_cell_of_a_table_that_we_write_is_a_formula(tmp_path: Path, formula: str, before: str) -> None:
    """Whatever separator a spreadsheet takes; and the table reads back as it was."""
    name = before + formula
    places = np.array([0.0, 500.0, 1000.0])
    write_table(tmp_path / "t.csv", ReadingsTable(places, {"EYZ": np.zeros(3)}, metadata={"machine": name}))
    lines = (tmp_path / "t.csv").read_text(encoding="utf-8").splitlines()
    for delimiter in ",;\t":
        for row in csv.reader(lines, delimiter=delimiter):
            assert not any(cell.strip().startswith(("=", "@", "+", "-")) for cell in row), row
    assert read_table(tmp_path / "t.csv").metadata["machine"] == name


def test_words_and_numbers_after_a_comma_stay_as_they_are(tmp_path: Path) -> None:
    places = np.array([0.0, 500.0, 1000.0])
    note = "-Y up, +X towards the operator; -3.5 degC, a=b (c)"
    write_table(tmp_path / "t.csv", ReadingsTable(places, {"EYZ": np.zeros(3)}, metadata={"note": note}))
    assert f"# note: {note}" in (tmp_path / "t.csv").read_text(encoding="utf-8")


@pytest.mark.parametrize("formula", FORMULAS[:4])
def test_no_name_becomes_a_formula_of_the_workbook(formula: str) -> None:
    from dataclasses import replace

    content = report_content(1)
    named = replace(content, machine=replace(content.machine, name=formula, owner=formula, serial=formula))
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(named)))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert any(formula in str(cell.value) for cell in cells)
    for cell in cells:
        if cell.data_type == "f":
            assert formula not in str(cell.value), cell
