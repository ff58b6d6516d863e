"""Readings out of canonical bytes whose seal is known to hold: what opening a line waits for, so it is written short.

Two things make it quick. The readings of a pass differ in numbers alone, so the texts between the numbers are read once
and then only compared. And a frozen dataclass puts each field through ``object.__setattr__``, which costs more than all
else here: the record is filled as an object of an unfrozen class with the same slots, which then becomes the record.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from dataclasses import fields, make_dataclass
from datetime import timedelta
from itertools import zip_longest
from typing import Any, NamedTuple, cast
from uuid import UUID

from waywright.clocks import EPOCH
from waywright.readings.canonical import MAGIC, NO_ID_BYTES, id_of_pass, read_fields, text_bytes
from waywright.readings.records import ChannelValue, Reading


def read_sealed(data: bytes, seal: bytes) -> Reading:
    """The reading, without its samples, of canonical bytes whose SHA-256 is known to be ``seal``.

    What was sealed was canonical, so nothing else is looked at.
    """
    layout = _layouts.get(len(data))
    if layout is None or layout.texts_in(data) != layout.texts:
        reading = read_fields(data, seal, ())[0]
        _layouts[len(data)] = _Layout.of(reading)
        return reading
    identity, pass_id, number, position_mm, began, ended, supersedes, *rest = layout.numbers(data)
    values = tuple(map(_UnfrozenValue, layout.channels, rest[::3], rest[1::3], rest[2::3]))
    for value in values:
        value.__class__ = ChannelValue
    made = _UnfrozenReading(
        UUID(bytes=identity),
        id_of_pass(pass_id),
        number,
        position_mm,
        layout.direction,
        values,
        EPOCH + timedelta(0, 0, began),
        EPOCH + timedelta(0, 0, ended),
        layout.taken_by,
        None if supersedes == NO_ID_BYTES else UUID(bytes=supersedes),
        (),
        data[-32:],
        seal,
    )
    made.__class__ = Reading
    return cast(Reading, made)


def _unfrozen(record: type[Any]) -> Any:
    """A class with the slots of a frozen record."""
    return make_dataclass(f"Unfrozen{record.__name__}", [field.name for field in fields(record)], slots=True)


_UnfrozenValue, _UnfrozenReading = _unfrozen(ChannelValue), _unfrozen(Reading)


class _Layout(NamedTuple):
    """How to take the numbers of a reading, and the texts among which they lie, out of its bytes."""

    numbers: Callable[[bytes], tuple[Any, ...]]
    texts_in: Callable[[bytes], tuple[Any, ...]]
    texts: tuple[bytes, ...]
    direction: str | None
    taken_by: str
    channels: tuple[str, ...]

    @classmethod
    def of(cls, reading: Reading) -> _Layout:
        """The layout of a reading, and of all that differ from it in numbers alone."""
        channels = tuple(value.channel for value in reading.values)
        head = text_bytes(reading.direction) + text_bytes(reading.taken_by)
        count, *names = struct.pack("<I", len(channels)), *map(text_bytes, channels)
        texts = (MAGIC, head, count + b"".join(names[:1]), *names[1:])
        between = ("16s16sId", "qq16s", *("ddI" for _ in names))
        numbers, lengths = "<", "<"
        for text, following in zip_longest(texts, between, fillvalue=""):
            numbers += f"{len(text)}x{following}"
            lengths += f"{len(text)}s{struct.calcsize('<' + following)}x"
        taken, found = struct.Struct(numbers).unpack_from, struct.Struct(lengths).unpack_from
        return cls(taken, found, texts, reading.direction, reading.taken_by, channels)


_layouts: dict[int, _Layout] = {}
