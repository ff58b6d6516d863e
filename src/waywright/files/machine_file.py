"""The machine file: one TOML file that says what stays true of a machine between visits.

Format 1::

    format = 1
    name = "HR-6"
    kind = "roll lathe"
    [axes]
    up = "-Y"
    operator = "+X"
    [bed]
    length_mm = 6400
    bending_n_m2 = "unknown"        # "unknown" is a normal answer
    [bed.carriage]
    pad_spacing_mm = 700
    [bed.every_support]             # holds for each support that does not say otherwise
    kind = "wedge-shoe"
    lift_um_per_turn = 160
    [[bed.support]]
    name = "1"
    bed_mm = 150
    [[mark]]
    name = "tailstock end"
    bed_mm = 0
    [[travel]]
    axis = "Z"
    from_mm = 300
    to_mm = 5500

Names in the file are the field names of the records in :mod:`waywright.machine`, units included.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import MISSING, asdict, fields
from pathlib import Path
from typing import Any
from uuid import NAMESPACE_URL, UUID, uuid5

import msgspec

from waywright.errors import BadInput
from waywright.files.toml_record import bounded_bytes
from waywright.machine import Bed, Carriage, Joint, Machine, Mark, Support, Travel, checked_bed
from waywright.quantities import Axes

FORMAT = 1
UNKNOWN = "unknown"
_LISTS = {"support": "supports", "joint": "joints"}
_TOP_LISTS = {"mark": "marks", "travel": "travels"}

Table = dict[str, Any]


def read_machine(path: str | Path) -> Machine:
    """The machine that a file describes. Raises BadInput naming the key and the support that is wrong."""
    place = Path(path)
    try:
        data = tomllib.loads(bounded_bytes(place).decode("utf-8-sig"))
    except FileNotFoundError:
        raise BadInput("machine.file_missing", path=str(place)) from None
    except OSError as error:
        raise BadInput("toml.cannot_read", file=str(place), reason=error.strerror or str(error)) from None
    except RecursionError:
        raise BadInput("toml.too_deep", file=str(place)) from None
    except ValueError as error:  # no TOML, no UTF-8, a number of thousands of digits
        raise BadInput("machine.file_not_toml", path=str(place), reason=str(error)) from None
    return machine_from(data, str(place))


def machine_from(data: Mapping[str, Any], path: str) -> Machine:
    """The machine in tables already read from TOML or JSON; ``path`` is named in errors."""
    table = dict(data)
    if (version := table.pop("format", None)) != FORMAT:
        raise BadInput("machine.file_format", path=path, format=version)
    axes = table.pop("axes", {})
    bed = table.pop("bed", None)
    lists = {
        plural: tuple(
            _record(record, item, path, _row(single, item, number))
            for number, item in enumerate(_rows(table, single, path), start=1)
        )
        for (single, plural), record in zip(_TOP_LISTS.items(), (Mark, Travel), strict=True)
    }
    table.setdefault("id", str(uuid5(NAMESPACE_URL, f"machine:{table.get('name')}:{table.get('serial')}")))
    _known(Machine, table, path, "machine")
    table.update(axes=asdict(_record(Axes, axes, path, "axes")))
    machine: Machine = _converted(Machine, {**table, "marks": (), "travels": ()}, path, "machine")
    made = None if bed is None else checked_bed(_bed(bed, path))
    return _completed(machine, made, lists)


def write_machine(machine: Machine, path: str | Path) -> None:
    """Write the machine as a file that :func:`read_machine` reads back to the same record."""
    Path(path).write_text(machine_text(machine), encoding="utf-8")


def machine_text(machine: Machine) -> str:
    """The text of the machine file."""
    top = {"format": FORMAT, **_stated(machine)}
    bed = top.pop("bed", None)
    lists = {single: top.pop(plural, ()) for single, plural in _TOP_LISTS.items()}
    top["axes"] = _stated(machine.axes)
    if bed is not None:
        for single, plural in _LISTS.items():
            bed[single] = bed.pop(plural, ())
        top["bed"] = {key: value for key, value in bed.items() if value != ()}
    top.update({key: value for key, value in lists.items() if value})
    return "\n".join(_lines(top, "")).strip() + "\n"


def _completed(machine: Machine, bed: Bed | None, lists: Mapping[str, Any]) -> Machine:
    kept = {item.name: getattr(machine, item.name) for item in fields(Machine)}
    return Machine(**{**kept, **lists, "bed": bed})


def _bed(data: Table, path: str) -> Bed:
    table = dict(data)
    common = table.pop("every_support", {})
    _known(Support, common, path, "bed.every_support")
    supports = tuple(
        _record(Support, {**common, **item}, path, _row("bed.support", item, number))
        for number, item in enumerate(_rows(table, "support", path), start=1)
    )
    joints = tuple(
        _record(Joint, item, path, _row("bed.joint", item, number))
        for number, item in enumerate(_rows(table, "joint", path), start=1)
    )
    carriage = table.pop("carriage", None)
    made: Bed = _record(Bed, table, path, "bed")
    kept = {item.name: getattr(made, item.name) for item in fields(Bed)}
    kept.update(supports=supports, joints=joints)
    kept["carriage"] = None if carriage is None else _record(Carriage, carriage, path, "bed.carriage")
    return Bed(**kept)


def _rows(table: Table, key: str, path: str) -> list[Table]:
    rows = table.pop(key, [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise BadInput("machine.file_wrong_type", path=path, place=key, reason=f"[[{key}]]")
    return rows


def _row(place: str, item: Mapping[str, Any], number: int) -> str:
    return f"{place}[{item.get('name', number)}]"


def _record(record: type[Any], data: Mapping[str, Any], path: str, place: str) -> Any:
    known = {key: value for key, value in data.items() if value != UNKNOWN}
    _known(record, known, path, place)
    for item in fields(record):
        if item.name not in known and item.default is MISSING and item.default_factory is MISSING:
            raise BadInput("machine.file_missing_key", path=path, place=place, entry=item.name)
    return _converted(record, known, path, place)


def _known(record: type[Any], data: Mapping[str, Any], path: str, place: str) -> None:
    allowed = {item.name for item in fields(record)} - set(_LISTS.values()) - set(_TOP_LISTS.values())
    for key in data:
        if key not in allowed:
            raise BadInput(
                "machine.file_unknown_key", path=path, place=place, entry=key, known=", ".join(sorted(allowed))
            )


def _converted(record: type[Any], data: Mapping[str, Any], path: str, place: str) -> Any:
    try:
        return msgspec.convert(data, record, str_keys=True)
    except msgspec.ValidationError as error:
        raise BadInput("machine.file_wrong_type", path=path, place=place, reason=str(error)) from None


def _stated(record: Any) -> Table:
    """Fields that say more than their default."""
    out: Table = {}
    for item in fields(record):
        value = getattr(record, item.name)
        if value is None or (item.default is not MISSING and value == item.default):
            continue
        out[item.name] = _plain(value)
    return out


def _plain(value: Any) -> Any:
    if isinstance(value, UUID):
        return str(value)
    if hasattr(value, "__dataclass_fields__"):
        return _stated(value)
    if isinstance(value, tuple):
        return tuple(_plain(item) for item in value)
    return value


def _lines(table: Table, prefix: str) -> list[str]:
    """Plain values first, then sub-tables: the order TOML asks for."""
    lines = [f"{key} = {_literal(value)}" for key, value in table.items() if not _is_table(value)]
    for key, value in table.items():
        name = f"{prefix}{key}"
        if isinstance(value, dict):
            lines += ["", f"[{name}]", *_lines(value, f"{name}.")]
        elif _is_table(value):
            for row in value:
                lines += ["", f"[[{name}]]", *_lines(row, f"{name}.")]
    return lines


def _is_table(value: Any) -> bool:
    return isinstance(value, dict) or (isinstance(value, tuple) and bool(value) and isinstance(value[0], dict))


def _literal(value: Any) -> str:
    if isinstance(value, tuple):
        return "[" + ", ".join(_literal(item) for item in value) + "]"
    return msgspec.json.encode(value).decode()  # strings, numbers and booleans look the same in TOML
