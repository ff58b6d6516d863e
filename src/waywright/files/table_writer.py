"""A readings table as text, and the file that is whole or not there."""

from __future__ import annotations

import math
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from waywright.errors import BadInput
from waywright.files.table_text import harmless
from waywright.quantities import code

if TYPE_CHECKING:
    from waywright.files.readings_table import ReadingsTable

Column = tuple[str, list[str]]


def text_of(table: ReadingsTable) -> str:
    """The table as CSV: metadata lines, header, rows; floats in the shortest form that reads back equal."""
    columns = list(_columns(table))
    lines = [_metadata(key, value) for key, value in table.metadata.items()]
    lines.append(",".join(name for name, _ in columns))
    lines += [",".join(row) for row in zip(*(cells for _, cells in columns), strict=True)]
    return "\n".join(lines) + "\n"


def write_text(path: Path, text: str) -> None:
    """Write beside the file and move it into place, so that nobody ever finds half of it."""
    try:
        handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(text.encode("utf-8"))
            os.chmod(beside, 0o644)
            os.replace(beside, path)
        except BaseException:
            os.unlink(beside)
            raise
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_write", file=str(path), reason=reason) from problem


def _columns(table: ReadingsTable) -> Iterator[Column]:
    yield "position_mm", [_number(value) for value in table.position_mm]
    if table.time_s is not None:
        yield "time_s", [_number(value) for value in table.time_s]
    for key, values in table.columns.items():
        yield code(key).column, [_number(value) for value in values]
    if table.pass_number is not None:
        yield "pass", [str(value) for value in table.pass_number]
    if table.direction is not None:
        yield "direction", [value or "" for value in table.direction]
    for key, values in table.standard_deviation.items():
        yield f"sd_{code(key).column}", [_number(value) for value in values]
    if table.samples is not None:
        yield "n", [_count(value) for value in table.samples]
    for key, counts in table.samples_of.items():
        yield f"n_{key}", [_count(value) for value in counts]


def _number(value: float) -> str:
    return "" if math.isnan(value) else repr(float(value))


def _count(value: int) -> str:
    return str(value) if value > 0 else ""


def _metadata(key: str, value: str) -> str:
    plain_key = key.strip() == key and key and ":" not in key and not key.startswith("#")
    if not plain_key or value.strip() != value or not _one_line(key) or not _one_line(value):
        raise BadInput("files.metadata_line", note=key)
    return harmless(f"# {key}: {value}")


def _one_line(text: str) -> bool:
    return "\n" not in text and "\r" not in text and "\x00" not in text
