"""The readings table: the one file format for stations and readings that people make and read by hand.

One line of header with units, one row a reading::

    # machine: HR-6
    position_mm,EYZ_um,EXZ_um,ECZ_um_per_m,pass,direction,sd_EYZ_um,n
    0.0,12.1,-0.4,3.0,1,forward,0.4,100

Values have the ISO sign. Units of the header are converted at the border: inside a table stand mm, um and um/m.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.files.table_cells import Cells
from waywright.files.table_header import Heading, headings
from waywright.files.table_text import Sheet, read_sheet
from waywright.files.table_writer import text_of, write_text
from waywright.quantities import code
from waywright.readings.records import Floats

Counts = npt.NDArray[np.int64]
FEWEST_STATIONS = 3


@dataclass(frozen=True, slots=True, eq=False)
class ReadingsTable:
    """Readings by position; all arrays (n,) and read-only, in the order of the rows.

    ``columns`` maps an ISO 230-1 code to values in ISO sign (um, for rotations um/m), NaN where one is missing;
    ``standard_deviation`` the same codes to theirs, NaN where not recorded. ``samples`` is the number of samples of
    every value, ``samples_of`` per code where they differ, 0 where not recorded. ``direction`` is how each station was
    reached, "forward", "backward" or None; ``time_s`` is when, from any moment common to all.
    Raises BadInput where lengths differ, a code is unknown, a position is not finite or a value is infinite.
    """

    position_mm: Floats
    columns: Mapping[str, Floats]
    pass_number: Counts | None = None
    direction: tuple[str | None, ...] | None = None
    standard_deviation: Mapping[str, Floats] = field(default_factory=dict)
    samples: Counts | None = None
    samples_of: Mapping[str, Counts] = field(default_factory=dict)
    metadata: Mapping[str, str] = field(default_factory=dict)
    time_s: Floats | None = None

    def __post_init__(self) -> None:
        self._set("position_mm", _values("position_mm", self.position_mm))
        self._set("columns", _by_code(self.columns, finite=False))
        self._set("standard_deviation", _by_code(self.standard_deviation, finite=False))
        self._set("samples_of", MappingProxyType({code(key).text: _counts(v) for key, v in self.samples_of.items()}))
        self._set("pass_number", None if self.pass_number is None else _counts(self.pass_number))
        self._set("samples", None if self.samples is None else _counts(self.samples))
        self._set("direction", None if self.direction is None else tuple(self.direction))
        self._set("time_s", None if self.time_s is None else _values("time_s", self.time_s))
        self._set("metadata", MappingProxyType(dict(self.metadata)))
        self._check_lengths()

    def passes(self) -> tuple[ReadingsTable, ...]:
        """One table a pass: by ``pass_number``, without it by ``direction``, without both the table itself."""
        groups = list(self._rows_by_pass().values())
        return (self,) if len(groups) == 1 else tuple(self._part(rows) for rows in groups)

    def _rows_by_pass(self) -> dict[object, list[int]]:
        keys = self.direction if self.pass_number is None else self.pass_number.tolist()
        groups: dict[object, list[int]] = {}
        for row in range(self.position_mm.size):
            groups.setdefault(keys[row] if keys is not None else None, []).append(row)
        return groups

    def _part(self, rows: list[int]) -> ReadingsTable:
        return ReadingsTable(
            self.position_mm[rows],
            {key: values[rows] for key, values in self.columns.items()},
            None if self.pass_number is None else self.pass_number[rows],
            None if self.direction is None else tuple(self.direction[row] for row in rows),
            {key: values[rows] for key, values in self.standard_deviation.items()},
            None if self.samples is None else self.samples[rows],
            {key: values[rows] for key, values in self.samples_of.items()},
            self.metadata,
            None if self.time_s is None else self.time_s[rows],
        )

    def _set(self, name: str, value: object) -> None:
        object.__setattr__(self, name, value)

    def _check_lengths(self) -> None:
        for name, size in self._sizes():
            if size != self.position_mm.size:
                raise BadInput("files.record_lengths", column=name, values=size, positions=self.position_mm.size)

    def _sizes(self) -> Iterator[tuple[str, int]]:
        for prefix, group in (("", self.columns), ("sd_", self.standard_deviation), ("n_", self.samples_of)):
            yield from ((prefix + key, values.size) for key, values in group.items())
        if self.pass_number is not None:
            yield "pass", self.pass_number.size
        if self.samples is not None:
            yield "n", self.samples.size
        if self.direction is not None:
            yield "direction", len(self.direction)
        if self.time_s is not None:
            yield "time_s", self.time_s.size


def read_table(path: str | Path, *, allow_missing: bool = False) -> ReadingsTable:
    """Read a readings table.

    Comma, semicolon or tab between columns (decimal comma with the latter two), UTF-8 with or without byte order
    mark, at most 10 MB. Raises BadInput that names file, line and column of whatever cannot be used, and where there
    are fewer than three stations or a position stands twice in one pass. An empty cell among the values is an error, or
    with ``allow_missing`` NaN.
    """
    sheet = read_sheet(Path(path))
    names = headings(sheet.file, sheet.header)
    columns, lines = _columns(sheet, names, allow_missing)
    if not lines:
        raise BadInput("files.table_header_only", file=sheet.file, line=sheet.header.line)
    table = _table(sheet, names, columns)
    _check_stations(sheet.file, table, lines)
    return table


def write_table(path: str | Path, table: ReadingsTable) -> None:
    """Write a readings table (comma, decimal point, UTF-8) that :func:`read_table` reads back equal to the last bit.

    The file is complete or not there. Raises BadInput where metadata do not fit on a line or the file cannot be
    written.
    """
    write_text(Path(path), text_of(table))


def _columns(
    sheet: Sheet, names: list[Heading], allow_missing: bool
) -> tuple[list[list[str | None] | array[float]], array[int]]:
    cells = Cells(sheet.file, comma_allowed=sheet.delimiter != ",")
    readers = {
        "position": cells.number, "time": cells.number,
        "value": cells.number_or_missing if allow_missing else cells.number,
        "sd": cells.spread, "samples": cells.count,
        "n": cells.count, "pass": cells.pass_number, "direction": cells.direction,
    }  # fmt: skip
    columns: list[list[str | None] | array[float]] = [[] if h.role == "direction" else array("d") for h in names]
    plan = [
        (readers[heading.role], heading.name, column.append) for heading, column in zip(names, columns, strict=True)
    ]
    lines = array("L")
    for row in sheet.rows():
        lines.append(row.line)
        for (read, name, append), cell in zip(plan, row.cells, strict=True):
            append(read(row.line, name, cell))  # type: ignore[arg-type]
    return columns, lines


def _table(sheet: Sheet, names: list[Heading], columns: list[list[str | None] | array[float]]) -> ReadingsTable:
    found: dict[str, dict[str, Floats]] = {}
    direction: tuple[str | None, ...] | None = None
    for heading, column in zip(names, columns, strict=True):
        if isinstance(column, list):
            direction = tuple(column)
        else:
            found.setdefault(heading.role, {})[heading.key[1]] = _inside(heading, column)
    return ReadingsTable(
        found["position"][""],
        found["value"],
        _whole(found.get("pass", {}).get("")),
        direction,
        found.get("sd", {}),
        _whole(found.get("n", {}).get("")),
        {key: values.astype(np.int64) for key, values in found.get("samples", {}).items()},
        sheet.metadata,
        found.get("time", {}).get(""),
    )


def _inside(heading: Heading, column: array[float]) -> Floats:
    values = np.array(column, dtype=np.float64)
    return values if heading.unit is None else values * heading.unit.factor


def _whole(values: Floats | None) -> Counts | None:
    return None if values is None else values.astype(np.int64)


def _check_stations(file: str, table: ReadingsTable, lines: array[int]) -> None:
    stations = int(np.unique(table.position_mm).size)
    for rows in table._rows_by_pass().values():
        _refuse_repeated(file, table, lines, rows)
    if stations < FEWEST_STATIONS:
        raise BadInput("files.table_few_stations", file=file, stations=stations, needed=FEWEST_STATIONS)


def _refuse_repeated(file: str, table: ReadingsTable, lines: array[int], rows: list[int]) -> None:
    seen: dict[float, int] = {}
    for row in rows:
        position = float(table.position_mm[row])
        first = seen.setdefault(position, row)
        if first != row:
            raise BadInput(
                "files.table_position_twice", file=file, line=lines[row], first_line=lines[first], position_mm=position
            )


def _by_code(given: Mapping[str, npt.ArrayLike], finite: bool = True) -> Mapping[str, Floats]:
    return MappingProxyType({code(key).text: _values(key, values, finite) for key, values in given.items()})


def _values(name: str, given: npt.ArrayLike, finite: bool = True) -> Floats:
    values = np.array(given, dtype=np.float64)
    if values.ndim != 1 or np.isinf(values).any() or (finite and np.isnan(values).any()):
        raise BadInput("files.record_values", column=name)
    values.flags.writeable = False
    return values


def _counts(given: npt.ArrayLike) -> Counts:
    values = np.array(given, dtype=np.int64)
    values.flags.writeable = False
    return values
