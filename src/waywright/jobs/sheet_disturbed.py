"""Uncertainty of any result of tables: every reading moved a little, and the evaluation asked again.

The value is linear in pieces, so that the derivative by each reading is exact; contributions act on the readings of
every table as on a line of its own. What noise adds on average to a largest minus smallest is not in it.
"""

from __future__ import annotations

import csv
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.files.table_text import harmless, read_sheet
from waywright.jobs.asked import Asked, replaced
from waywright.quantities import Kind, unit
from waywright.readings import Floats
from waywright.uncertainty import Budget, coverage_factor, welch_satterthwaite
from waywright.uncertainty.effects import Measured, effects
from waywright.uncertainty.of_row import RowPart, RowReadings, RowUncertainty, acting

_STEP = 0.01
_SUFFIXES = {
    "_um": (Kind.DISPLACEMENT, "um"), "_um_per_m": (Kind.ANGLE, "um/m"), "_mm_per_m": (Kind.ANGLE, "mm/m"),
    "_arcsec": (Kind.ANGLE, "arcsec"), "_urad": (Kind.ANGLE, "urad"), "_nm": (Kind.DISPLACEMENT, "nm"),
}  # fmt: skip
MOST_READINGS = 400


@dataclass(frozen=True, slots=True, eq=False)
class _Column:
    """One column of readings of a table, in um or um/m, and where its rows lie."""

    file: Path
    place: int
    kind: Kind
    factor: float
    value: Floats
    position_mm: Floats | None


def disturbed_uncertainty(asked: Asked, budget: Budget, value_of: Callable[[Asked], float]) -> RowUncertainty:
    """Uncertainty of ``value_of`` the question. Raises BadInput for tables too large to be moved reading by reading."""
    columns = [column for file in dict.fromkeys(asked.files) for column in _columns(file)]
    if sum(column.value.size for column in columns) > MOST_READINGS:
        raise BadInput("sheet.too_many_readings", most=MOST_READINGS)
    with tempfile.TemporaryDirectory() as folder:
        slopes = [_slopes(asked, column, value_of, Path(folder)) for column in columns]
    parts = []
    for number, one in enumerate(budget.contribution):
        moved = [slope @ _act(budget, number, column) for slope, column in zip(slopes, columns, strict=True)]
        size = one.standard_uncertainty * float(np.sqrt(sum(float((each**2).sum()) for each in moved)))
        parts.append(RowPart(one.name, str(one.acts), one.value, one.unit, one.distribution, one.source,
                             one.degrees_of_freedom, size))  # fmt: skip
    standard = float(np.sqrt(sum(part.contribution**2 for part in parts)))
    factor = coverage_factor(welch_satterthwaite(standard, [(p.contribution, p.degrees_of_freedom) for p in parts]))
    return RowUncertainty(standard, factor * standard, factor, tuple(parts), 0.0)


def _act(budget: Budget, number: int, column: _Column) -> Floats:
    """What one unit of a contribution does to the readings of a column, (n, k)."""
    x = column.position_mm
    if column.kind is Kind.DISPLACEMENT and x is not None and np.ptp(x) > 0.0:
        return effects(budget, Measured(x, column.value))[number].matrix
    at = np.zeros_like(column.value) if x is None else x
    measured = RowReadings(column.value, column.kind is Kind.ANGLE, at, np.ones_like(at))
    return acting(budget.contribution[number], measured)


def _slopes(asked: Asked, column: _Column, value_of: Callable[[Asked], float], folder: Path) -> Floats:
    """Derivative of the value by each reading of a column (n,)."""
    found = np.zeros(column.value.size)
    for row in range(column.value.size):
        ends = []
        for step in (_STEP, -_STEP):
            moved = column.value.copy()
            moved[row] += step
            path = _written(column, moved, folder)
            options = {name: replaced(value, {column.file: path}) for name, value in asked.options.items()}
            ends.append(value_of(Asked(asked.kind, options)))
        found[row] = (ends[0] - ends[1]) / (2.0 * _STEP)
    return found


def _columns(file: Path) -> Sequence[_Column]:
    sheet = read_sheet(file)
    names = [name.strip() for name in sheet.header.cells]
    rows = list(sheet.rows())
    lowered = [name.lower() for name in names]
    at = next((k for k, name in enumerate(lowered) if name == "position_mm"), None)
    position = None if at is None else _numbers(rows, at)
    made = []
    for place, name in enumerate(names):
        known = next((_SUFFIXES[end] for end in sorted(_SUFFIXES, key=len, reverse=True) if name.endswith(end)), None)
        if known is None or lowered[place].startswith(("sd_", "mandrel_sag", "holder_sag", "position")):
            continue
        factor = unit(known[0], known[1]).factor
        made.append(_Column(file, place, known[0], factor, _numbers(rows, place) * factor, position))
    return made


def _numbers(rows: Sequence[object], place: int) -> Floats:
    return np.array([float(row.cells[place].replace(",", ".")) for row in rows])  # type: ignore[attr-defined]


def _written(column: _Column, value: Floats, folder: Path) -> Path:
    """The table with one column as it would have been."""
    sheet = read_sheet(column.file)
    path = folder / column.file.name
    with path.open("w", encoding="utf-8", newline="") as out:
        for name, note in sheet.metadata.items():
            out.write(harmless(f"# {name}: {note}") + "\n")
        writer = csv.writer(out, delimiter=sheet.delimiter)
        writer.writerow(sheet.header.cells)
        for row, number in zip(sheet.rows(), value / column.factor, strict=True):
            cells = list(row.cells)
            cells[column.place] = repr(float(number))
            writer.writerow(cells)
    return path
