"""From a file to its lines: size limit, encoding, delimiter, metadata. No meaning of columns here."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from waywright.errors import BadInput

LARGEST_BYTES = 10_000_000
"""About 200 000 stations; larger files are refused before they are read."""

_SHOWN = 40
_LINE_END = re.compile("\r\n|\n|\r")  # not str.splitlines, which also cuts at form feeds and at U+2028
_HIDDEN = re.compile(r"([,;\t]\s*)'('*)(?=[=@]|[+\-][^,;\t]*[(|!])")
_CALCULATED = re.compile(r"([,;\t]\s*)('*)(?=[=@]|[+\-][^,;\t]*[(|!])")
_METADATA = re.compile(r"#\s*([^:]*[^:\s])\s*:\s*(.*)")


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of one line, stripped of blanks; ``line`` counts from 1."""

    line: int
    cells: list[str]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table as text: the header row, then what follows it, and the ``# key: value`` lines."""

    file: str
    delimiter: str
    header: Row
    lines: list[tuple[int, str]]
    metadata: dict[str, str]

    def rows(self) -> Iterator[Row]:
        """The rows below the header. Raises BadInput for a broken quotation and for a wrong number of cells."""
        wanted = len(self.header.cells)
        for number, text in self.lines:
            row = _row(self.file, number, text, self.delimiter)
            if len(row.cells) != wanted:
                key = "files.table_decimal_comma" if self._looks_like_decimal_comma(row) else "files.table_ragged"
                raise BadInput(key, file=self.file, line=number, found=len(row.cells), expected=wanted)
            yield row

    def _looks_like_decimal_comma(self, row: Row) -> bool:
        return self.delimiter == "," and len(row.cells) > len(self.header.cells)


def read_sheet(path: Path) -> Sheet:
    """Read a file into its lines. Raises BadInput where it is not a text table of a fair size."""
    file = path.name
    metadata: dict[str, str] = {}
    filled: list[tuple[int, str]] = []
    for number, text in enumerate(_LINE_END.split(_decoded(path)), start=1):
        if text.lstrip().startswith("#"):
            _note(metadata, text.strip())
        elif text.strip():
            filled.append((number, text))
    if not filled:
        raise BadInput("files.table_empty", file=file)
    delimiter = _delimiter(filled[0][1])
    header = _row(file, *filled[0], delimiter)
    return Sheet(file, delimiter, header, filled[1:], metadata)


def shown(cell: str) -> str:
    """A cell as an error may quote it: never longer than a few words, nothing invisible."""
    clipped = cell if len(cell) <= _SHOWN else cell[: _SHOWN - 1] + "…"
    return "".join(sign if sign.isprintable() else "�" for sign in clipped)


def _decoded(path: Path) -> str:
    data = _bytes(path)
    if b"\x00" in data[:4096]:
        raise BadInput("files.table_not_text", file=path.name)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise BadInput("files.table_not_utf8", file=path.name, line=line) from None


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1) if _fair_size(path) else b""
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_read", file=str(path), reason=reason) from problem
    if len(data) > LARGEST_BYTES or not _fair_size(path):
        raise BadInput("files.table_too_large", file=path.name, limit_mb=LARGEST_BYTES / 1e6)
    return data


def _fair_size(path: Path) -> bool:
    return path.stat().st_size <= LARGEST_BYTES


def harmless(text: str) -> str:
    """A line of metadata in which no program finds a formula: an apostrophe before what would be one after a comma,
    semicolon or tab. :func:`as_written` takes it away again.
    """
    return _CALCULATED.sub(r"\1'\2", text)


def as_written(text: str) -> str:
    """What :func:`harmless` was given."""
    return _HIDDEN.sub(r"\1\2", text)


def _note(metadata: dict[str, str], text: str) -> None:
    found = _METADATA.fullmatch(as_written(text))
    if found:
        key, value = found[1], found[2].strip()
        metadata[key] = f"{metadata[key]}; {value}" if key in metadata else value


def _delimiter(header: str) -> str:
    """Semicolon before tab before comma: names in a header hold none of the three."""
    return next((sign for sign in (";", "\t") if sign in header), ",")


def _row(file: str, number: int, text: str, delimiter: str) -> Row:
    try:
        cells = next(csv.reader([text], delimiter=delimiter, strict=True, skipinitialspace=True))
    except csv.Error:
        raise BadInput("files.table_broken_line", file=file, line=number, found=shown(text.strip())) from None
    return Row(number, [cell.strip() for cell in cells])
