"""Tables of other programs: columns, units, signs, decimal comma; and files that are built to harm."""

from __future__ import annotations

import io
import math
import time
import tracemalloc
import zipfile
from pathlib import Path

import openpyxl
import pytest

from waywright.cli import main
from waywright.errors import BadInput
from waywright.files import read_table
from waywright.files.foreign_grid import LONGEST_CELL, read_grid
from waywright.files.foreign_proposal import proposed
from waywright.files.foreign_table import read_foreign, read_mapping
from waywright.quantities import Axes, Direction, code, iso_sign

GERMAN = (
    "Messprotokoll;Halle 3\r\n;;;\r\nWeg [mm];Höhe [mm];Neigung (arcsec);Lauf;Richtung\r\n"
    "0,0;0,012;-1,5;1;V\r\n500,0;0,0145;2,0;1;V\r\n1.000,0;0,009;0,5;1;V\r\n500,0;0,014;1,9;2;R\r\n0,0;0,0115;-1,6;2;R\r\n"
).replace("1.000,0", "1000,0")
MAPPING = """
format = 1
header_row = 3
decimal = ","
up = "-Y"
operator = "+X"
pass_column = "Lauf"
direction = { column = "Richtung", forward = "V", backward = "R" }
[position]
column = "Weg [mm]"
unit = "mm"
[[value]]
column = "Höhe [mm]"
code = "EYZ"
unit = "mm"
positive = "up"
[[value]]
column = "C"
code = "ECZ"
unit = "arcsec"
sign = -1
"""
ARCSEC = math.pi / 648_000 * 1e6
"""One arcsec in um/m: pi/648000 rad (the definition of the second of arc)."""


def written(folder: Path, name: str, data: bytes | str) -> Path:
    path = folder / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return path


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_a_german_csv_comes_in(tmp_path: Path, encoding: str) -> None:
    file = written(tmp_path, "protokoll.csv", GERMAN.encode(encoding))
    table = read_foreign(file, read_mapping(written(tmp_path, "map.toml", MAPPING)))
    assert table.position_mm.tolist() == [0.0, 500.0, 1000.0, 500.0, 0.0]
    assert iso_sign(code("EYZ"), Direction.UP, Axes("-Y", "+X")) == -1  # up is against +Y on this lathe
    assert table.columns["EYZ"].tolist() == pytest.approx([-12.0, -14.5, -9.0, -14.0, -11.5])
    assert table.columns["ECZ"].tolist() == pytest.approx([1.5 * ARCSEC, *(-x * ARCSEC for x in (2.0, 0.5, 1.9, -1.6))])
    assert table.pass_number is not None
    assert table.pass_number.tolist() == [1, 1, 1, 2, 2]
    assert table.direction == ("forward", "forward", "forward", "backward", "backward")


def test_inches_and_a_turned_axis(tmp_path: Path) -> None:
    """An inch is 25.4 mm exactly."""
    file = written(tmp_path, "inch.csv", "x,reading\n0,0.001\n10,0.0005\n20,0\n")
    mapping = """
    [position]
    column = "x"
    unit = "inch"
    offset_mm = 508.0
    sense = -1
    [[value]]
    column = "reading"
    code = "EYX"
    unit = "inch"
    """
    table = read_foreign(file, read_mapping(written(tmp_path, "m.toml", mapping)))
    assert table.position_mm.tolist() == pytest.approx([508.0, 254.0, 0.0])
    assert table.columns["EYX"].tolist() == pytest.approx([25.4, 12.7, 0.0])


def book_file(folder: Path, name: str = "book.xlsx") -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Cover"
    data = book.create_sheet("Data")
    data.append(["Report", None])
    data.append(["position mm", "height um", "side um"])
    for row in ((0, 1.0, -0.5), (250.5, 2.5, "=B4*2"), (500, -1.25, 0.25), (750, 0.5, 0.75)):
        data.append(row)
    book.save(folder / name)
    return folder / name


def test_a_workbook_comes_in_and_formulas_are_not_calculated(tmp_path: Path) -> None:
    mapping = """
    sheet = "Data"
    header_row = 2
    [position]
    column = "position mm"
    [[value]]
    column = "height um"
    code = "EYX"
    unit = "um"
    """
    file = book_file(tmp_path)
    table = read_foreign(file, read_mapping(written(tmp_path, "m.toml", mapping)))
    assert table.columns["EYX"].tolist() == [1.0, 2.5, -1.25, 0.5]
    assert table.position_mm.tolist() == [0.0, 250.5, 500.0, 750.0]
    with_side = mapping + '[[value]]\ncolumn = "side um"\ncode = "EZX"\nunit = "um"\n'
    with pytest.raises(BadInput, match=r"book.xlsx, row 4, column side um: '' is no number"):
        read_foreign(file, read_mapping(written(tmp_path, "s.toml", with_side)))
    with pytest.raises(BadInput, match=r"no sheet 'Data'"):
        read_foreign(other_book(tmp_path), read_mapping(written(tmp_path, "m.toml", mapping)))


def other_book(folder: Path) -> Path:
    openpyxl.Workbook().save(folder / "other.xlsx")
    return folder / "other.xlsx"


def test_the_proposal_is_a_mapping_that_works(tmp_path: Path) -> None:
    found = proposed(written(tmp_path, "protokoll.csv", GERMAN))
    assert (found.header_row, found.headings[:2]) == (3, ("Weg [mm]", "Höhe [mm]"))
    mapping = read_mapping(written(tmp_path, "proposed.toml", found.mapping))
    assert mapping.decimal == ","
    assert mapping.position.column == "Weg [mm]"
    assert [(each.column, each.unit) for each in mapping.value[:2]] == [
        ("Höhe [mm]", "mm"),
        ("Neigung (arcsec)", "arcsec"),
    ]
    assert proposed(book_file(tmp_path), "Data").header_row == 2


def test_the_commands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file, mapping = written(tmp_path, "p.csv", GERMAN), tmp_path / "m.toml"
    assert main(["table", "look", str(file), "--mapping", str(mapping)]) == 0
    assert "headings in row 3: Weg [mm] · Höhe [mm]" in capsys.readouterr().out
    mapping.write_text(MAPPING, encoding="utf-8")
    assert main(["table", "convert", str(file), str(mapping), str(tmp_path / "out.csv")]) == 0
    back = read_table(tmp_path / "out.csv")
    assert back.metadata["converted from"] == "p.csv"
    assert back.columns["EYZ"].tolist() == pytest.approx([-12.0, -14.5, -9.0, -14.0, -11.5])


@pytest.mark.parametrize(
    ("cell", "words"),
    [("=1+2", "'=1[+]2' is no number"), ("1e400", "no number"), ("0.5", "decimal mark ','"), ("nan", "no number"),
     ("inf", "no number"), ("1e12", "no number"), ("0x10", "no number"), ("", "no number"), ("1,2,3", "no number")],
)  # fmt: skip
def test_cells_that_are_no_readings(tmp_path: Path, cell: str, words: str) -> None:
    file = written(tmp_path, "bad.csv", GERMAN.replace("0,0145", cell))
    with pytest.raises(BadInput, match=rf"bad.csv, row 5, column Höhe .mm.: .*{words}"):
        read_foreign(file, read_mapping(written(tmp_path, "map.toml", MAPPING)))


def zipped(parts: dict[str, bytes]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as made:
        for name, data in parts.items():
            made.writestr(name, data)
    return target.getvalue()


def real_parts(folder: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(book_file(folder)) as book:
        return {name: book.read(name) for name in book.namelist()}


def hostile(folder: Path) -> dict[str, tuple[bytes, str]]:
    """Files that are built to harm, and what is said to them."""
    parts = real_parts(folder)
    sheet = parts["xl/worksheets/sheet1.xml"]
    bomb = b"<!DOCTYPE a [<!ENTITY a '" + b"x" * 100 + b"'><!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;'>]>" + sheet
    locked = bytearray(zipped({"xl/workbook.xml": b"x"}))
    locked[6] |= 1
    at = locked.index(b"PK\x01\x02")
    locked[at + 8] |= 1
    data = book_file(folder).read_bytes()
    return {
        "bomb.xlsx": (zipped({"xl/media/x.bin": bytes(300_000_000)}), "unpacks to more than 200 MB"),
        "many.xlsx": (zipped({f"x{n}": b"" for n in range(2100)}), "not built as a workbook"),
        "path.xlsx": (zipped({**parts, "../../evil": b"x"}), "not built as a workbook"),
        "root.xlsx": (zipped({**parts, "/etc/x": b"x"}), "not built as a workbook"),
        "entities.xlsx": (zipped({**parts, "xl/worksheets/sheet1.xml": bomb}), "defines entities"),
        "utf16.xlsx": (zipped({**parts, "x.xml": "<!DOCTYPE a>".encode("utf-16-le")}), "defines entities"),
        "locked.xlsx": (bytes(locked), "password"),
        "half.xlsx": (data[: len(data) // 2], "cannot be read as a workbook"),
        "empty.xlsx": (zipped({}), "is not a text table"),
        "no-parts.xlsx": (zipped({"hello": b"x"}), "cannot be read as a workbook"),
        "nested.xlsx": (zipped({**parts, "xl/workbook.xml": b"<a>" * 200_000}), "cannot be read as a workbook"),
        "old.xls": (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100), "old kind"),
        "binary.csv": (bytes(range(256)), "not text|no text|is not a text"),
        "long.csv": (b"a;b\n" + b"1;" + b"9" * (LONGEST_CELL + 1), "longer than 2000 signs"),
        "wide.csv": (b";".join([b"1"] * 1000), "more than 256 columns"),
        "tall.csv": (b"1;2\n" * 250_000, "more than 200000 rows"),
        "large.csv": (b"1;2;3\n" * 4_000_000, "larger than 20 MB"),
    }


def test_files_built_to_harm_are_refused_with_a_sentence_and_bounded(tmp_path: Path) -> None:
    cases = hostile(tmp_path)
    for name, (data, words) in cases.items():
        file = written(tmp_path, name, data)
        tracemalloc.start()
        began = time.process_time()
        with pytest.raises(BadInput, match=words):
            read_grid(file)
        assert time.process_time() - began < 20.0, name
        assert tracemalloc.get_traced_memory()[1] < 250_000_000, name
        tracemalloc.stop()


def test_a_far_cell_does_not_fill_the_memory(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["A1"], sheet["XFD1"] = 1, 2
    book.save(tmp_path / "far.xlsx")
    tracemalloc.start()
    grid = read_grid(tmp_path / "far.xlsx")
    assert len(grid.rows[0]) <= 256
    assert tracemalloc.get_traced_memory()[1] < 60_000_000
    tracemalloc.stop()
