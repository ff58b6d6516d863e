"""The sheet file: rows of tests in TOML, with ready examples for the usual machines to copy and edit.

Format 1: ``title``, ``note``, ``example``, ``burden`` and one ``[[row]]`` a test, its fields those of
:class:`waywright.visit.sheet.SheetRow`. The examples hold no tolerance of any standard: a limit is whatever you have
agreed on, from your own copy or the contract.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import msgspec

from waywright.errors import BadInput
from waywright.evaluate.sheet_rows import entries_of, kind_of_row
from waywright.files.row_budget import READY, row_budget
from waywright.files.toml_record import read_record
from waywright.quantities import unit
from waywright.verdict import Burden, tolerance
from waywright.visit.sheet import SheetRow

FORMAT = 1
TEMPLATES = ("lathe", "milling", "boring", "grinding", "rotary-table", "bed-by-level", "joint", "taper", "plate")
DIVISION = "div"


@dataclass(frozen=True, slots=True)
class SheetFile:
    """What a sheet file says. ``example`` marks one whose rows nobody has agreed on yet."""

    format: int
    title: str
    row: tuple[SheetRow, ...]
    note: str = ""
    example: bool = False
    burden: str = "supplier"
    machine: str | None = None


def read_sheet_file(path: str | Path) -> SheetFile:
    """The sheet of a file, every row checked. Raises BadInput naming the file, the row and what is allowed there."""
    place = Path(path)
    sheet = read_record(place, SheetFile)
    _check(sheet, str(path), place.parent)
    return sheet


def template_text(name: str) -> str:
    """An example as text to copy and edit. Raises BadInput for one that does not exist."""
    if name not in TEMPLATES:
        raise BadInput("sheet.no_template", name=name, known=", ".join(TEMPLATES))
    return (files("waywright.files") / "sheets" / f"{name}.toml").read_text(encoding="utf-8")


def template(name: str) -> SheetFile:
    """An example as it ships."""
    return msgspec.convert(msgspec.toml.decode(template_text(name)), SheetFile)


def sheet_of(name: str) -> SheetFile:
    """A sheet file, or an example by its name. Files that its rows name are found beside it, wherever one works."""
    if name in TEMPLATES:
        return template(name)
    folder = Path(name).resolve().parent
    sheet = read_sheet_file(name)
    return replace(sheet, row=tuple(_anchored(row, folder) for row in sheet.row))


def _anchored(row: SheetRow, folder: Path) -> SheetRow:
    own = row.budget if row.budget is None or row.budget in READY else str(folder / row.budget)
    return replace(row, files=tuple(str(folder / name) for name in row.files), budget=own)


def sheet_schema() -> dict[str, Any]:
    """JSON Schema of the sheet file, for editors."""
    return msgspec.json.schema(SheetFile)


def write_sheet_file(path: str | Path, sheet: SheetFile) -> None:
    """Write a sheet as a TOML file that reads back equal."""
    Path(path).write_text(sheet_text(sheet), encoding="utf-8")


def sheet_text(sheet: SheetFile) -> str:
    """A sheet as TOML text; what is the default of its field is left out."""
    lines = [f"format = {FORMAT}", f"title = {_value(sheet.title)}"]
    lines += [f"{name} = {_value(getattr(sheet, name))}" for name in ("note", "example", "burden", "machine")
              if getattr(sheet, name) not in ("", False, None, "supplier")]  # fmt: skip
    for row in sheet.row:
        plain = SheetRow(row.number, row.what, row.kind)
        lines += ["", "[[row]]"]
        for each in fields(row):
            value = getattr(row, each.name)
            if each.name in ("number", "what", "kind") or value != getattr(plain, each.name):
                lines.append(f"{each.name} = {_value(value)}")
    return "\n".join(lines) + "\n"


def _check(sheet: SheetFile, file: str, beside: Path) -> None:
    if sheet.format != FORMAT:
        raise BadInput("sheet.format", file=file, found=sheet.format, known=FORMAT)
    if not sheet.row:
        raise BadInput("sheet.no_rows", file=file)
    if sheet.burden not in tuple(Burden):
        raise BadInput("verdict.unknown_burden", burden=sheet.burden, known=", ".join(Burden))
    numbers = [row.number for row in sheet.row]
    for number in numbers:
        if numbers.count(number) > 1:
            raise BadInput("sheet.number_twice", file=file, number=number)
    for row in sheet.row:
        check_row(row, beside)


def check_row(row: SheetRow, beside: Path | None = None) -> None:
    """Refuse a row that could not be filled or judged. Raises BadInput naming the row."""
    kind = kind_of_row(row)
    names = [f"{place} {state}" for place, state in entries_of(row)]
    for name in names:
        if names.count(name) > 1:
            raise BadInput("sheet.place_twice", number=row.number, place=name.strip())
    if row.unit == DIVISION:
        if row.division is None or row.division_unit is None or not row.division > 0.0:
            raise BadInput("sheet.division", number=row.number)
        unit(kind.reads, row.division_unit)
    elif row.unit is not None:
        unit(kind.reads, row.unit)
    if row.tolerance is not None:
        tolerance(row.tolerance)
    if row.budget is not None:
        row_budget(row.budget, beside)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return msgspec.json.encode(str(value)).decode()
    if isinstance(value, tuple):
        return "[" + ", ".join(_value(item) for item in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{_value(key)} = {_value(item)}" for key, item in value.items()) + " }"
    return repr(value)
