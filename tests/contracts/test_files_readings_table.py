"""The readings table: what is accepted, and the exact sentence for whatever is not."""

from __future__ import annotations

import tracemalloc
from pathlib import Path

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.files import ReadingsTable, read_table, write_table

GOOD = "position_mm,EYZ_um\n0,1\n250,-2\n500,0.5\n"


def table(folder: Path, content: str | bytes) -> Path:
    path = folder / "t.csv"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def test_plain_table(tmp_path: Path) -> None:
    read = read_table(table(tmp_path, GOOD))
    assert read.position_mm.tolist() == [0.0, 250.0, 500.0]
    assert list(read.columns) == ["EYZ"]
    assert read.columns["EYZ"].tolist() == [1.0, -2.0, 0.5]
    assert read.pass_number is None
    assert read.direction is None
    assert read.samples is None
    assert not read.columns["EYZ"].flags.writeable


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_delimiter_byte_order_mark_and_line_ends(tmp_path: Path, delimiter: str, mark: bytes, ending: str) -> None:
    text = GOOD.replace(",", delimiter).replace("\n", ending)
    assert read_table(table(tmp_path, mark + text.encode())).columns["EYZ"].tolist() == [1.0, -2.0, 0.5]


@pytest.mark.parametrize("delimiter", [";", "\t"])
def test_decimal_comma(tmp_path: Path, delimiter: str) -> None:
    text = "position_mm;EYZ_um\n0,5;1,25\n250;-2,5\n500;\N{MINUS SIGN}3\n".replace(";", delimiter)
    read = read_table(table(tmp_path, text))
    assert read.position_mm.tolist() == [0.5, 250.0, 500.0]
    assert read.columns["EYZ"].tolist() == [1.25, -2.5, -3.0]


# Factors: the inch is 25.4 mm exactly; 1 arcsec = pi/648000 rad = 4.848136811 urad (SI brochure, table 8).
@pytest.mark.parametrize(
    ("position", "quantity", "code", "position_mm", "value"),
    [
        ("position_m", "EYZ_mm", "EYZ", 1000.0, 1000.0),
        ("position_inch", "EYZ_inch", "EYZ", 25.4, 25400.0),
        ("position_um", "EYZ_nm", "EYZ", 0.001, 0.001),
        ("position_mm", "ECZ_arcsec", "ECZ", 1.0, 4.848136811),
        ("position_mm", "ECZ_mm_per_m", "ECZ", 1.0, 1000.0),
        ("position_mm", "ECZ_mm/m", "ECZ", 1.0, 1000.0),
        ("position_mm", "ECZ_urad", "ECZ", 1.0, 1.0),
        ("Position_mm", "eyz_\u00b5m", "EYZ", 1.0, 1.0),
        ("position_mm", "EYZ_\u03bcm", "EYZ", 1.0, 1.0),
    ],
)  # fmt: skip
def test_units_are_converted_at_the_border(
    tmp_path: Path, position: str, quantity: str, code: str, position_mm: float, value: float
) -> None:
    read = read_table(table(tmp_path, f"{position},{quantity}\n1,1\n2,2\n3,3\n"))
    assert read.position_mm == pytest.approx(np.array([1.0, 2.0, 3.0]) * position_mm, rel=1e-12)
    assert read.columns[code] == pytest.approx(np.array([1.0, 2.0, 3.0]) * value, rel=1e-9)


def test_everything_optional(tmp_path: Path) -> None:
    read = read_table(table(tmp_path, (
        "# machine: HR-6\n#  state : as found\n# only a remark\n# state: again\n\n"
        "position_mm,EYZ_um,ECZ_um_per_m,pass,direction,sd_EYZ_um,n,n_ECZ\n"
        "0,1,2,1,forward,0.5,100,20\n# machine owner: us\n250,1,2,1,Forward,,,\n500,1,2,2,,0,3,1\n"
    )))  # fmt: skip
    assert dict(read.metadata) == {"machine": "HR-6", "state": "as found; again", "machine owner": "us"}
    assert read.pass_number is not None
    assert read.pass_number.tolist() == [1, 1, 2]
    assert read.direction == ("forward", "forward", None)
    assert np.array_equal(read.standard_deviation["EYZ"], [0.5, np.nan, 0.0], equal_nan=True)
    assert read.samples is not None
    assert read.samples.tolist() == [100, 0, 3]
    assert read.samples_of["ECZ"].tolist() == [20, 0, 1]


def test_passes_by_number_by_direction_or_all(tmp_path: Path) -> None:
    rows = "0,1,1,forward\n1,2,1,backward\n2,3,2,forward\n"
    by_number = read_table(table(tmp_path, "position_mm,EYZ_um,pass,direction\n" + rows)).passes()
    assert [part.position_mm.tolist() for part in by_number] == [[0.0, 1.0], [2.0]]
    assert by_number[0].direction == ("forward", "backward")
    rows = "0,1,forward\n1,2,forward\n1,3,backward\n0,4,backward\n2,5,backward\n"
    by_direction = read_table(table(tmp_path, "position_mm,EYZ_um,direction\n" + rows)).passes()
    assert [part.columns["EYZ"].tolist() for part in by_direction] == [[1.0, 2.0], [3.0, 4.0, 5.0]]
    assert len(read_table(table(tmp_path, GOOD)).passes()) == 1


COLUMNS = (
    "Columns are position, time, ISO 230-1 codes with their unit (EYZ_um, ECZ_um_per_m), sd_ and n_ before a "
    "code, pass, "
    "direction and n. Put remarks in lines that begin with #."
)
HEAD = "position_mm,EYZ_um\n"
NUMBER = "expected a number such as -12.5. Correct this cell."
SENTENCES = {
    "empty": (
        "",
        "t.csv is empty. A readings table has a header such as position_mm,EYZ_um and one row for each station.",
    ),
    "remarks only": (
        "# machine: HR-6\n\n",
        "t.csv is empty. A readings table has a header such as position_mm,EYZ_um and one row for each station.",
    ),
    "header only": (
        "# a: b\nposition_mm,EYZ_um\n",
        "t.csv has a header in line 2 but no readings below it. Add one row a station.",
    ),
    "two stations": (
        HEAD + "0,1\n5,1\n",
        "t.csv: the number of stations is 2; a straight line needs at least 3. Take more stations.",
    ),
    "repeated position": (
        HEAD + "0,1\n5,1\n5.0,2\n9,1\n",
        "t.csv, line 4: position 5 mm stands already in line 3 of the same pass. "
        "Keep the reading that holds, or number the passes in a column named pass.",
    ),
    "word": (HEAD + "0,1\n5,high\n9,1\n", f"t.csv, line 3, column EYZ_um: found 'high', {NUMBER}"),
    "nan": (HEAD + "0,1\n5,NaN\n9,1\n", f"t.csv, line 3, column EYZ_um: found 'NaN', {NUMBER}"),
    "inf": (HEAD + "0,1\n5,-inf\n9,1\n", f"t.csv, line 3, column EYZ_um: found '-inf', {NUMBER}"),
    "overflow": (HEAD + "0,1\n5,1e999\n9,1\n", f"t.csv, line 3, column EYZ_um: found '1e999', {NUMBER}"),
    "underscore": (HEAD + "0,1\n5,1_0\n9,1\n", f"t.csv, line 3, column EYZ_um: found '1_0', {NUMBER}"),
    "formula": (HEAD + "0,1\n5,=1+1\n9,1\n", f"t.csv, line 3, column EYZ_um: found '=1+1', {NUMBER}"),
    "other digits": (HEAD + "0,1\n5,\u0663\n9,1\n", f"t.csv, line 3, column EYZ_um: found '\u0663', {NUMBER}"),
    "position": (HEAD + "0,1\nx,1\n9,1\n", f"t.csv, line 3, column position_mm: found 'x', {NUMBER}"),
    "quoted comma": (HEAD + '0,"1,5"\n5,1\n9,1\n', f"t.csv, line 2, column EYZ_um: found '1,5', {NUMBER}"),
    "long": (HEAD + "0,1\n5," + "9x" * 99 + "\n", f"t.csv, line 3, column EYZ_um: found '{'9x' * 19}9…', {NUMBER}"),
    "empty cell": (
        HEAD + "0,1\n5,\n9,1\n",
        "t.csv, line 3, column EYZ_um: the cell is empty, expected a number. "
        "Fill it in, or remove the row if the station was not measured.",
    ),
    "ragged short": (
        HEAD + "0,1\n5\n9,1\n",
        "t.csv, line 3: 1 cells, but the header names 2 columns. Give every row as many cells as the header.",
    ),
    "ragged long": (
        HEAD + "0,1\n5,1,5\n9,1\n",
        "t.csv, line 3: 3 cells, but the header names 2 columns. "
        "If the numbers have a decimal comma, separate the columns by semicolon or tab.",
    ),
    "thousands": (
        "position_mm;EYZ_um\n0;1,5\n1.000;2,5\n",
        "t.csv, line 3, column position_mm: found '1.000', but since line 2 the decimal mark of this file is ','. "
        "Use one decimal mark throughout, and none for thousands.",
    ),
    "both marks": (HEAD.replace(",", ";") + "0;1.000,5\n", f"t.csv, line 2, column EYZ_um: found '1.000,5', {NUMBER}"),
    "open quotation": (
        HEAD + '0,1\n"5,1\n9,1\n',
        "t.csv, line 3: a quotation mark is opened and not closed in '\"5,1'. Remove it.",
    ),
    "unit missing": (
        "position_mm,EYZ\n0,1\n",
        "t.csv, line 1: the column 'EYZ' has no unit. Write for example EYZ_um.",
    ),
    "unit of position missing": (
        "position,EYZ_um\n0,1\n",
        "t.csv, line 1: the column 'position' has no unit. Write for example position_mm.",
    ),
    "unit of angle missing": (
        "position_mm,ECZ\n0,1\n",
        "t.csv, line 1: the column 'ECZ' has no unit. Write for example ECZ_um_per_m.",
    ),
    "unit unknown": (
        "position_mm,EYZ_furlong\n0,1\n",
        "t.csv, line 1, column EYZ_furlong: the unit 'furlong' is not known here. Use one of: um, mm, nm, inch.",
    ),
    "unit of another kind": (
        "position_mm,ECZ_um\n0,1\n",
        "t.csv, line 1, column ECZ_um: the unit 'um' is not known here. "
        "Use one of: um_per_m, urad, mm_per_m, mrad, arcsec, deg.",
    ),
    "mixed units": (
        "position_mm,EYZ_um,EYZ_mm\n0,1,1\n",
        "t.csv, line 1: EYZ_um and EYZ_mm give one quantity in two units. Use one unit for both.",
    ),
    "mixed units of spread": (
        "position_mm,EYZ_um,sd_EYZ_mm\n0,1,1\n",
        "t.csv, line 1: EYZ_um and sd_EYZ_mm give one quantity in two units. Use one unit for both.",
    ),
    "mixed units of position": (
        "position_mm,position_m,EYZ_um\n0,1,1\n",
        "t.csv, line 1: position_mm and position_m give one quantity in two units. Use one unit for both.",
    ),
    "twice": (
        "position_mm,EYZ_um,EYZ_um\n0,1,1\n",
        "t.csv, line 1: the column 'EYZ_um' stands twice. Remove one of the two.",
    ),
    "unknown column": (
        "position_mm,height\n0,1\n",
        f"t.csv, line 1: the column 'height' is not known. {COLUMNS}",
    ),
    "no position": (
        "EYZ_um,n\n0,1\n",
        "t.csv, line 1: no column of positions. Add one, for example position_mm.",
    ),
    "no quantity": (
        "position_mm,n\n0,1\n",
        "t.csv, line 1: no column of deviations. Add one, named by its ISO 230-1 code and unit, for example EYZ_um.",
    ),
    "direction": (
        "position_mm,EYZ_um,direction\n0,1,left\n",
        "t.csv, line 2, column direction: found 'left', expected forward or backward. "
        "Correct this cell or leave it empty.",
    ),
    "pass": (
        "position_mm,EYZ_um,pass\n0,1,0\n",
        "t.csv, line 2, column pass: found '0', expected the number of the pass, a whole number from 1. "
        "Correct this cell.",
    ),
    "pass empty": (
        "position_mm,EYZ_um,pass\n0,1,\n",
        "t.csv, line 2, column pass: the cell is empty, expected a whole number from 1. "
        "Fill it in, or remove the row if the station was not measured.",
    ),
    "count": (
        "position_mm,EYZ_um,n\n0,1,2.5\n",
        "t.csv, line 2, column n: found '2.5', expected a number of samples, a whole number from 1. "
        "Correct this cell or leave it empty.",
    ),
    "spread": (
        "position_mm,EYZ_um,sd_EYZ_um\n0,1,-0.1\n",
        "t.csv, line 2, column sd_EYZ_um: found '-0.1', expected a standard deviation, which is not negative. "
        "Correct this cell or leave it empty.",
    ),
    "not UTF-8": (
        b"position_mm,EYZ_um\n0,1\n# K\xf6nig\n5,1\n9,1\n",
        "t.csv, line 3: this is not UTF-8 text. Save the table as CSV with encoding UTF-8.",
    ),
    "workbook": (
        b"PK\x03\x04\x14\x00\x00\x00",
        "t.csv is not a text table. Save it as CSV (UTF-8) from the program that made it and read that file.",
    ),
    "UTF-16": (
        GOOD.encode("utf-16"),
        "t.csv is not a text table. Save it as CSV (UTF-8) from the program that made it and read that file.",
    ),
}


@pytest.mark.parametrize("name", SENTENCES)
def test_every_fault_has_its_sentence(tmp_path: Path, name: str) -> None:
    content, sentence = SENTENCES[name]
    with pytest.raises(BadInput) as caught:
        read_table(table(tmp_path, content))
    assert str(caught.value) == sentence


def test_a_bad_cell_carries_its_facts(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_table(table(tmp_path, "# x: y\nposition_mm;EYZ_um\n0;1\n5;high\n"))
    assert caught.value.facts == {
        "file": "t.csv", "line": 4, "column": "EYZ_um", "found": "high", "expected": "number",
    }  # fmt: skip


def test_a_position_may_stand_again_in_another_pass(tmp_path: Path) -> None:
    rows = "0,1,1\n5,1,1\n9,1,1\n9,1,2\n5,1,2\n0,1,2\n"
    assert len(read_table(table(tmp_path, "position_mm,EYZ_um,pass\n" + rows)).passes()) == 2
    with pytest.raises(BadInput, match="line 7: position 0 mm stands already in line 2"):
        read_table(table(tmp_path, "position_mm,EYZ_um,pass\n" + rows.replace("0,1,2", "0,1,1")))


def test_missing_values_only_on_request(tmp_path: Path) -> None:
    path = table(tmp_path, HEAD + "0,1\n5,\n9,1\n")
    read = read_table(path, allow_missing=True)
    assert np.array_equal(read.columns["EYZ"], [1.0, np.nan, 1.0], equal_nan=True)


def test_a_file_of_200_mb_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "t.csv"
    with path.open("wb") as stream:
        stream.write(GOOD.encode())
        stream.truncate(200_000_000)
    tracemalloc.start()
    try:
        with pytest.raises(BadInput) as caught:
            read_table(path)
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert str(caught.value) == (
        "t.csv is larger than 10 MB, the limit for a readings table. Split it, one line measured per file."
    )
    assert peak < 1_000_000


def test_no_file_and_no_folder(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_table(tmp_path / "none.csv")
    assert str(caught.value).endswith(
        "none.csv cannot be read: No such file or directory. Check the name and the folder."
    )
    with pytest.raises(BadInput, match=r"Is a directory|Permission denied"):
        read_table(tmp_path)
    with pytest.raises(BadInput, match="cannot be written: No such file or directory"):
        write_table(tmp_path / "nowhere" / "t.csv", ReadingsTable([0, 1, 2], {"EYZ": [1, 2, 3]}))
    with pytest.raises(BadInput, match="cannot be written"):
        write_table(tmp_path, ReadingsTable([0, 1, 2], {"EYZ": [1, 2, 3]}))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("columns", "sentence"),
    [
        ({"EYZ": [1, 2]}, "The column EYZ has 2 values for 3 positions. Give one value for each position."),
        ({"EYZ": [1, 2, np.inf]}, "The column EYZ is not a list of finite numbers. Remove what is not a number."),
        ({"EYZ": [[1], [2], [3]]}, "The column EYZ is not a list of finite numbers. Remove what is not a number."),
        ({"XYZ": [1, 2, 3]},
         "'XYZ' is not an ISO 230-1 code of an error motion. Write E, the direction (X Y Z, or A B C for rotations) "
         "and the moving axis, for example EYZ or ECZ."),
    ],
)  # fmt: skip
def test_a_record_that_does_not_fit(columns: dict[str, object], sentence: str) -> None:
    with pytest.raises(BadInput) as caught:
        ReadingsTable([0, 1, 2], columns)  # type: ignore[arg-type]
    assert str(caught.value) == sentence


@pytest.mark.parametrize(
    ("key", "value"), [("a:b", "c"), ("", "c"), ("a", "b\nc"), ("a", " b"), (" a", "b"), ("#a", "b")]
)
def test_notes_that_do_not_fit_on_a_line(tmp_path: Path, key: str, value: str) -> None:
    with pytest.raises(BadInput) as caught:
        write_table(tmp_path / "t.csv", ReadingsTable([0, 1, 2], {"EYZ": [1, 2, 3]}, metadata={key: value}))
    assert str(caught.value) == (
        f"The note {key!r} does not fit on a line of a readings table. Use a name without colon and text without line "
        "breaks or blanks at its ends."
    )
    assert not (tmp_path / "t.csv").exists()


def test_the_input_arrays_stay_untouched_and_apart() -> None:
    values = np.array([1.0, 2.0, 3.0])
    made = ReadingsTable(np.arange(3.0), {"EYZ": values})
    values[0] = 99.0
    assert made.columns["EYZ"].tolist() == [1.0, 2.0, 3.0]


def test_times_of_stations_are_read_written_and_follow_their_pass(tmp_path: Path) -> None:
    path = tmp_path / "timed.csv"
    path.write_text(
        "position_mm,time_ms,EYZ_um,pass\n0,0,1,1\n10,1500,2,1\n20,3000,3,1\n20,9000,3,2\n10,9500,2,2\n0,9900,1,2\n"
    )
    table = read_table(path)
    assert table.time_s is not None
    assert table.time_s.tolist() == [0.0, 1.5, 3.0, 9.0, 9.5, 9.9]
    second = table.passes()[1].time_s
    assert second is not None
    assert second.tolist() == [9.0, 9.5, 9.9]
    write_table(tmp_path / "copy.csv", table)
    again = read_table(tmp_path / "copy.csv").time_s
    assert again is not None
    assert again.tolist() == table.time_s.tolist()


@pytest.mark.parametrize(
    ("header", "said"), [("time", "has no unit. Write for example time_s"), ("time_h", "'h' is not known")]
)
def test_a_time_has_a_unit(tmp_path: Path, header: str, said: str) -> None:
    path = tmp_path / "timed.csv"
    path.write_text(f"position_mm,{header},EYZ_um\n0,0,1\n10,1,2\n20,2,3\n")
    with pytest.raises(BadInput, match=said):
        read_table(path)
