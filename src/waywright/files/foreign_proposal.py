"""A mapping proposed from the headings of a foreign table, to be looked over by a person before it is used."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

from waywright.errors import BadInput
from waywright.files.foreign_grid import Cell, read_grid

_UNIT = re.compile(r"[\[(/_]?\s*(um/m|µm/m|mm/m|arcsec|µm|um|mm|inch|in|m)\s*[\])]?\s*$", re.IGNORECASE)
_POSITION = re.compile(r"pos|weg|station|dist|^[xyz]\b|ort", re.IGNORECASE)
_NUMBER = re.compile(r"[+-]?[0-9]*[.,]?[0-9]+(?:[eE][+-]?[0-9]{1,3})?", re.ASCII)
_SAME = {"µm": "um", "µm/m": "um/m", "in": "inch"}
_LOOKED_AT = 40


@dataclass(frozen=True, slots=True)
class Proposal:
    """What a table seems to be: its sheets, the row of headings, the headings, and a mapping as TOML to be edited."""

    file: str
    sheet: str
    sheets: tuple[str, ...]
    header_row: int
    headings: tuple[str, ...]
    mapping: str


def proposed(path: Path, sheet: str | None = None) -> Proposal:
    """Look at a table and propose a mapping. Raises BadInput where there is nothing like a table."""
    grid = read_grid(path, sheet)
    header = _header(grid.rows)
    if header is None:
        raise BadInput("foreign.no_table", file=grid.file)
    heads = tuple(str(cell or "").strip() for cell in grid.rows[header])
    below = grid.rows[header + 1 : header + 1 + _LOOKED_AT]
    numeric = [at for at, _ in enumerate(heads) if _is_numeric(below, at)]
    first = next((at for at in numeric if _POSITION.search(heads[at])), numeric[0])
    texts = [cell for row in below for cell in row if isinstance(cell, str)]
    comma = any("," in text and _NUMBER.fullmatch(text) for text in texts)
    mapping = _toml(grid.sheet, header + 1, heads, first, [at for at in numeric if at != first], comma)
    return Proposal(grid.file, grid.sheet, grid.sheets, header + 1, heads, mapping)


def _header(rows: tuple[tuple[Cell, ...], ...]) -> int | None:
    """The last row without numbers before the first three rows with at least two numbers each."""
    for start in range(len(rows[: 4 * _LOOKED_AT])):
        if all(_numbers(row) >= 2 for row in rows[start : start + 3]) and len(rows) >= start + 3:
            return start - 1 if start else None
    return None


def _numbers(row: tuple[Cell, ...]) -> int:
    return sum(_is_number(cell) for cell in row)


def _is_number(cell: Cell) -> bool:
    return isinstance(cell, float) or (isinstance(cell, str) and bool(_NUMBER.fullmatch(cell.replace("−", "-"))))


def _is_numeric(rows: tuple[tuple[Cell, ...], ...], at: int) -> bool:
    cells = [row[at] for row in rows if at < len(row) and row[at] is not None]
    return len(cells) >= 3 and all(_is_number(cell) for cell in cells)


def _unit_of(heading: str, fallback: str) -> str:
    found = _UNIT.search(heading)
    if found is None:
        return fallback
    name = found[1].lower()
    return _SAME.get(name, name)


def _quoted(text: str) -> str:
    """A TOML string."""
    kept = "".join(sign if sign.isprintable() else " " for sign in text)
    return '"' + kept.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _name(heads: tuple[str, ...], at: int) -> str:
    """The heading; the letter where it has none or stands twice."""
    if heads[at] and heads.count(heads[at]) == 1:
        return _quoted(heads[at])
    letters = "" if at < 26 else chr(ord("A") + at // 26 - 1)
    return _quoted(letters + chr(ord("A") + at % 26))


def _toml(sheet: str, row: int, heads: tuple[str, ...], position: int, values: list[int], comma: bool) -> str:
    lines = ["format = 1", *([f"sheet = {_quoted(sheet)}"] if sheet else []), f"header_row = {row}"]
    lines += [f"decimal = {_quoted(',' if comma else '.')}", "# How the axes lie, if a value says positive = ...:"]
    lines += ['# up = "-Y"', '# operator = "+X"', "", "[position]", f"column = {_name(heads, position)}"]
    lines.append(f"unit = {_quoted(_unit_of(heads[position], 'mm'))}")
    for at in values:
        lines += ["", "[[value]]", f"column = {_name(heads, at)}"]
        lines.append('code = "EYZ"    # check: which error motion is it? see the reference of readings tables')
        lines.append(f"unit = {_quoted(_unit_of(heads[at], 'um'))}    # check")
        lines.append('sign = 1    # or positive = "up", "towards-operator" ... with the axes above')
    return "\n".join(lines) + "\n"
