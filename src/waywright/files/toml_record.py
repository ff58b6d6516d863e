"""TOML files into frozen records, strictly: an unknown key is an error that names what is allowed."""

from __future__ import annotations

import types
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

import msgspec

from waywright.errors import BadInput

Record = TypeVar("Record")
LARGEST_BYTES = 2_000_000


def read_record(path: Path, record: type[Record]) -> Record:
    """The file as a record. Raises BadInput naming the file, the key and what is allowed there."""
    try:
        tree = msgspec.toml.decode(bounded_bytes(path))
    except OSError as error:
        raise BadInput("toml.cannot_read", file=str(path), reason=error.strerror or str(error)) from error
    except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as error:
        raise BadInput("toml.not_toml", file=str(path), reason=str(error)) from error
    except RecursionError as error:
        raise BadInput("toml.too_deep", file=str(path)) from error
    _refuse_unknown_keys(path, tree, record, ())
    try:
        return msgspec.convert(tree, record)
    except msgspec.ValidationError as error:
        reason, _, place = str(error).partition(" - at `$")
        raise BadInput("toml.bad_value", file=str(path), key=place.strip("`.") or "-", reason=reason) from error


def bounded_bytes(path: Path) -> bytes:
    """The bytes of a TOML file. Raises BadInput for one that is larger than any that a person writes, and OSError."""
    with path.open("rb") as stream:
        data = stream.read(LARGEST_BYTES + 1)
    if len(data) > LARGEST_BYTES:
        raise BadInput("toml.too_large", file=str(path), limit_mb=LARGEST_BYTES / 1e6)
    return data


def _refuse_unknown_keys(path: Path, value: Any, kind: Any, place: tuple[str, ...]) -> None:
    for option in _options(kind):
        if is_dataclass(option) and isinstance(value, dict):
            hints = get_type_hints(option)
            allowed = [field.name for field in fields(option)]
            for key, item in value.items():
                if key not in hints:
                    where = ".".join([*place, key])
                    raise BadInput("toml.unknown_key", file=str(path), key=where, allowed=", ".join(allowed))
                _refuse_unknown_keys(path, item, hints[key], (*place, key))
        elif get_origin(option) in (tuple, list) and isinstance(value, list):
            for number, item in enumerate(value):
                _refuse_unknown_keys(path, item, get_args(option)[0], (*place, str(number + 1)))


def _options(kind: Any) -> tuple[Any, ...]:
    """The members of a union, or the type itself."""
    return get_args(kind) if get_origin(kind) in (Union, types.UnionType) else (kind,)
