"""The set-up file: what a pass should know, written down once before the first reading (TOML).

Everything but the line's name and axis may be missing ("not recorded") and can be added later::

    format = 1

    [line]
    name = "carriage along the bed"
    axis = "Z"
    from_mm = 0.0
    to_mm = 5200.0

    [set_up]
    detector_side = "tool"
    source = { on = "bed", bed_mm = 6250.0 }
    zero = { mark = "tailstock mark", sense = -1 }

    [conditions.machine]
    anchor_bolts = "final"

    [[conditions.temperatures]]
    place = "air at the beam"
    value_degc = 20.4
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field, fields, is_dataclass
from pathlib import Path
from typing import Any, Literal

from waywright.files.toml_record import read_record
from waywright.visit import Conditions, PositionZero, SourceStand
from waywright.visit.lines import Offset

MACHINE_AXIS = Literal["X", "Y", "Z"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineEntry:
    """A line without its place in the archive."""

    name: str
    axis: MACHINE_AXIS
    subject: Literal["axis-motion", "guideway"] = "axis-motion"
    from_mm: float | None = None
    to_mm: float | None = None
    state: Literal["as-found", "as-left"] = "as-found"
    guideway: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpEntry:
    """A set-up without its place in the archive; see :class:`waywright.visit.SetUp`."""

    segment: int = 1
    detector_side: Literal["tool", "work"] | None = None
    source: SourceStand | None = None
    zero: PositionZero | None = None
    detector_offset_mm: Offset | None = None
    bearing_centre_mm: Offset | None = None
    functional_point_mm: Offset | None = None
    method: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUpFile:
    """The whole file."""

    line: LineEntry
    set_up: SetUpEntry = field(default_factory=SetUpEntry)
    conditions: Conditions = field(default_factory=Conditions)
    format: Literal[1] = 1


def read_setup_file(path: Path) -> SetUpFile:
    """Read and check a set-up file. Raises BadInput naming the file, the key and what is allowed."""
    return read_record(path, SetUpFile)


def write_setup_file(facts: SetUpFile, path: Path) -> None:
    """Write a set-up file that :func:`read_setup_file` reads back to the same record."""
    lines: list[str] = []
    _write_table(lines, (), _stated(facts))
    path.write_text("\n".join(lines).strip() + "\n", encoding="utf-8")


def _stated(value: object) -> Any:
    """A record as plain tables, without what is not recorded."""
    if is_dataclass(value) and not isinstance(value, type):
        members = {field.name: _stated(getattr(value, field.name)) for field in fields(value)}
        return {name: member for name, member in members.items() if member not in (None, {}, [])}
    return [_stated(item) for item in value] if isinstance(value, tuple) else value


def _write_table(lines: list[str], place: tuple[str, ...], table: dict[str, Any]) -> None:
    for name, value in table.items():
        if not isinstance(value, dict) and not _is_tables(value):
            lines.append(f"{name} = {_toml(value)}")
    for name, value in table.items():
        here = (*place, name)
        for item in value if _is_tables(value) else [value] if isinstance(value, dict) else []:
            heading = ".".join(here)
            lines += ["", f"[[{heading}]]" if _is_tables(value) else f"[{heading}]"]
            _write_table(lines, here, item)


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _toml(value: object) -> str:
    """A value in TOML: JSON says text, numbers and lists of numbers in the same way."""
    return json.dumps(value, ensure_ascii=False)
