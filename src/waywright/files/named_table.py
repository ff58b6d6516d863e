"""Tables with columns of their own: grids, lines of slopes, levels, bridges. Same form and same faults as readings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.files.table_cells import Cells
from waywright.files.table_header import spelled_unit
from waywright.files.table_text import Row, Sheet, read_sheet, shown
from waywright.quantities import Kind, Unit, unit
from waywright.readings.records import Floats


@dataclass(frozen=True, slots=True)
class Wanted:
    """A column by its name without unit: ``kind`` says which units it may have, None is a word (not a number)."""

    name: str
    kind: Kind | None
    required: bool = True

    @property
    def example(self) -> str:
        """The name as it is written in the inside unit."""
        return self.name if self.kind is None else f"{self.name}_{self.kind.value}"


@dataclass(frozen=True, slots=True, eq=False)
class NamedTable:
    """``numbers`` (n,) in the inside unit and ``words`` by column; ``lines`` are the lines of the file, one a row."""

    file: str
    numbers: Mapping[str, Floats]
    words: Mapping[str, tuple[str, ...]]
    lines: tuple[int, ...]
    metadata: Mapping[str, str]


def read_named(path: str | Path, wanted: Sequence[Wanted]) -> NamedTable:
    """Read a table of the wanted columns, in any order, each once, numbers converted to inside units.

    Raises BadInput that names file, line and column for an unknown, missing or repeated column, an unknown unit, a cell
    that is no number, an empty cell, and a table without rows.
    """
    sheet = read_sheet(Path(path))
    meaning = [_column(sheet, name, wanted) for name in sheet.header.cells]
    _check_columns(sheet, meaning, wanted)
    rows = list(sheet.rows())
    if not rows:
        raise BadInput("files.table_header_only", file=sheet.file, line=sheet.header.line)
    cells = Cells(sheet.file, comma_allowed=sheet.delimiter != ",")
    numbers, words = {}, {}
    for place, (each, measure) in enumerate(meaning):
        name = sheet.header.cells[place]
        if measure is None:
            words[each.name] = tuple(_word(sheet, row, name, row.cells[place]) for row in rows)
        else:
            values = np.array([cells.number(row.line, name, row.cells[place]) for row in rows]) * measure.factor
            values.flags.writeable = False
            numbers[each.name] = values
    return NamedTable(sheet.file, numbers, words, tuple(row.line for row in rows), sheet.metadata)


def _column(sheet: Sheet, name: str, wanted: Sequence[Wanted]) -> tuple[Wanted, Unit | None]:
    lowered = name.lower()
    for each in sorted(wanted, key=lambda one: -len(one.name)):
        if each.kind is None and lowered == each.name:
            return each, None
        if each.kind is not None and lowered == each.name:
            raise BadInput(
                "files.table_unit_missing", file=sheet.file, line=sheet.header.line, column=name, example=each.example
            )
        if each.kind is not None and lowered.startswith(each.name + "_"):
            return each, _unit(sheet, name, each.kind, name[len(each.name) + 1 :])
    raise BadInput(
        "files.named_unknown_column", file=sheet.file, line=sheet.header.line, column=shown(name),
        known=", ".join(each.example for each in wanted),
    )  # fmt: skip


def _unit(sheet: Sheet, name: str, kind: Kind, written: str) -> Unit:
    try:
        return unit(kind, spelled_unit(written))
    except BadInput as problem:
        allowed = str(problem.facts["allowed"]).replace("/", "_per_")
        raise BadInput(
            "files.table_unit_unknown", file=sheet.file, line=sheet.header.line, column=shown(name),
            found=shown(written), allowed=allowed,
        ) from None  # fmt: skip


def _check_columns(sheet: Sheet, meaning: Sequence[tuple[Wanted, Unit | None]], wanted: Sequence[Wanted]) -> None:
    seen: set[str] = set()
    for name, (each, _) in zip(sheet.header.cells, meaning, strict=True):
        if each.name in seen:
            raise BadInput("files.table_column_twice", file=sheet.file, line=sheet.header.line, column=name)
        seen.add(each.name)
    for each in wanted:
        if each.required and each.name not in seen:
            raise BadInput("files.named_column_missing", file=sheet.file, line=sheet.header.line, column=each.example)


def _word(sheet: Sheet, row: Row, name: str, cell: str) -> str:
    if not cell:
        raise BadInput("files.cell_empty", file=sheet.file, line=row.line, column=name, expected="word")
    return cell
