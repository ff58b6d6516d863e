"""Tables of other programs as a plain grid of cells: CSV in any common encoding and delimiter, or an XLSX workbook.

Everything is bounded before it is read: size, rows, columns, length of a cell; a workbook also by what it unpacks to,
by the names of its parts, and by entities in them. Formulas are never calculated: a workbook gives the values that were
stored beside them.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import Any

from waywright.errors import BadInput

LARGEST_BYTES = 20_000_000
LARGEST_UNPACKED = 200_000_000
MOST_PARTS, MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 2000, 200_000, 256, 2000
_ENCODINGS = ("utf-8-sig", "cp1252")
_MARKS = ((b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
_ENTITIES = tuple(
    word.encode(code) for word in ("<!DOCTYPE", "<!ENTITY") for code in ("utf-8", "utf-16-le", "utf-16-be")
)

Cell = str | float | None


@dataclass(frozen=True, slots=True)
class Grid:
    """The cells of one sheet, row by row (rows may be of different length); ``sheets`` are all there are."""

    file: str
    sheet: str
    sheets: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def read_grid(path: Path, sheet: str | None = None) -> Grid:
    """Read a table of another program, by its first bytes a workbook or text; ``sheet`` by name, by default the first.

    Raises BadInput for what cannot be read, is too large, or is built to harm.
    """
    data = _bytes(path)
    if data[:4] == b"PK\x03\x04":
        return _workbook(path.name, data, sheet)
    if data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise BadInput("foreign.old_workbook", file=path.name)
    return Grid(path.name, "", (), tuple(_text_rows(path.name, _decoded(path.name, data))))


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_read", file=str(path), reason=reason) from problem
    if len(data) > LARGEST_BYTES:
        raise BadInput("foreign.too_large", file=path.name, limit_mb=LARGEST_BYTES / 1e6)
    return data


def _decoded(file: str, data: bytes) -> str:
    marked = next((code for mark, code in _MARKS if data.startswith(mark)), None)
    if marked is None and b"\x00" in data[:4096]:
        raise BadInput("files.table_not_text", file=file)
    for code in (marked,) if marked else _ENCODINGS:
        try:
            return data.decode(code)
        except UnicodeDecodeError:
            continue
    raise BadInput("files.table_not_text", file=file)


def _text_rows(file: str, text: str) -> Iterator[tuple[Cell, ...]]:
    lines = text.splitlines()
    if len(lines) > MOST_ROWS:
        raise BadInput("foreign.too_many_rows", file=file, limit=MOST_ROWS)
    delimiter = _delimiter(lines)
    for number, line in enumerate(lines, start=1):
        try:
            cells = next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
        except csv.Error as problem:
            raise BadInput("foreign.broken_line", file=file, line=number) from problem
        yield tuple(_checked(file, number, cell.strip() or None) for cell in _bounded(file, number, cells))


def _delimiter(lines: list[str]) -> str:
    """The sign that stands most evenly in the lines: semicolon and tab before comma, which may be a decimal mark."""
    filled = [line for line in lines if line.strip()][:50]
    for sign in (";", "\t", ","):
        counts = [line.count(sign) for line in filled]
        if counts and sorted(counts)[len(counts) // 2] > 0:
            return sign
    return ","


def _bounded(file: str, line: int, cells: Any) -> Any:
    if len(cells) > MOST_COLUMNS:
        raise BadInput("foreign.too_many_columns", file=file, line=line, limit=MOST_COLUMNS)
    return cells


def _checked(file: str, line: int, cell: Cell) -> Cell:
    if isinstance(cell, str) and len(cell) > LONGEST_CELL:
        raise BadInput("foreign.long_cell", file=file, line=line, limit=LONGEST_CELL)
    return cell


def _workbook(file: str, data: bytes, sheet: str | None) -> Grid:
    _check_parts(file, data)
    import openpyxl

    try:
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        names = tuple(book.sheetnames)
        if not names or (sheet is not None and sheet not in names):
            raise BadInput("foreign.no_sheet", file=file, sheet=sheet or "-", known=", ".join(names) or "-")
        chosen = sheet or names[0]
        rows = book[chosen].iter_rows(max_row=MOST_ROWS + 1, max_col=MOST_COLUMNS, values_only=True)
        made = tuple(
            tuple(_checked(file, number, _value(cell)) for cell in row)
            for number, row in enumerate(islice(rows, MOST_ROWS + 1), start=1)
        )
        book.close()
    except BadInput:
        raise
    except RecursionError as problem:
        raise BadInput("foreign.not_a_workbook", file=file, detail="nested too deeply") from problem
    except Exception as problem:  # whatever a broken or hostile workbook makes the library raise
        raise BadInput("foreign.not_a_workbook", file=file, detail=str(problem)[:120] or "-") from problem
    if len(made) > MOST_ROWS:
        raise BadInput("foreign.too_many_rows", file=file, limit=MOST_ROWS)
    return Grid(file, chosen, names, made)


def _value(cell: Any) -> Cell:
    """A number as it is stored, text as text; dates and truth values as text, they are no readings."""
    if cell is None or isinstance(cell, str):
        return cell.strip() or None if isinstance(cell, str) else None
    return float(cell) if isinstance(cell, int | float) and not isinstance(cell, bool) else str(cell)


def _check_parts(file: str, data: bytes) -> None:
    """What the parts unpack to is counted while unpacking, whatever the file says about them."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            infos = parts.infolist()
            names = [info.filename for info in infos]
            if len(infos) > MOST_PARTS or len(set(names)) != len(names):
                raise BadInput("foreign.zip_tricks", file=file)
            if any(name.startswith(("/", "\\")) or ".." in name.replace("\\", "/").split("/") for name in names):
                raise BadInput("foreign.zip_tricks", file=file)
            if any(info.flag_bits & 0x1 for info in infos):
                raise BadInput("foreign.locked", file=file)
            _unpack(file, parts, infos)
    except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, OSError, EOFError, ValueError) as problem:
        raise BadInput("foreign.not_a_workbook", file=file, detail=str(problem)[:120] or "-") from problem


def _unpack(file: str, parts: zipfile.ZipFile, infos: list[zipfile.ZipInfo]) -> None:
    left = LARGEST_UNPACKED
    for info in infos:
        with parts.open(info) as stream:
            before = b""
            while piece := stream.read(1 << 20):
                left -= len(piece)
                if left < 0:
                    raise BadInput("foreign.unpacks_too_large", file=file, limit_mb=LARGEST_UNPACKED / 1e6)
                if any(word in before + piece for word in _ENTITIES):
                    raise BadInput("foreign.entities", file=file)
                before = piece[-32:]
