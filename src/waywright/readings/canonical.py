"""The canonical bytes of a reading, and the hash chain of a pass.

The bytes are part of the archive format: they are stored as they are, and their SHA-256 is the reading's seal. Order:

1. ``b"WWR1"``
2. id, pass id: 16 bytes each (big-endian UUID bytes)
3. number: uint32; position_mm: float64
4. direction, taken_by: text
5. began, ended: int64, microseconds since 1970-01-01T00:00:00Z
6. supersedes: 16 bytes, all zero for none
7. count of values: uint32; per value: channel: text, mean: float64, standard deviation: float64, samples: uint32
8. count of traces: uint32; per trace: channel: text, n: uint32, then SHA-256 of its times and values as float64
9. previous hash: 32 bytes, all zero for the first reading of a pass

All numbers little-endian, floats IEEE-754. Text is UTF-8 in NFC, preceded by its length in bytes as uint32; no text is
written as length 0.
"""

from __future__ import annotations

import hashlib
import struct
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from functools import lru_cache
from typing import Any, NamedTuple
from uuid import UUID

import numpy as np

from waywright.clocks import EPOCH, from_utc_microseconds, utc_microseconds
from waywright.readings.records import ChannelValue, Reading, Trace

MAGIC = b"WWR1"
NO_HASH = bytes(32)
_NO_ID = UUID(int=0)
_NO_ID_BYTES = bytes(16)
_COUNT, _PLACE, _MIDDLE, _VALUE = (struct.Struct(layout) for layout in ("<I", "<Id", "<qq16sI", "<ddI"))


def seal(reading: Reading, previous: Reading | None) -> Reading:
    """The reading with the hash of the one before it in its pass, and its own."""
    linked = replace(reading, previous_hash=previous.hash if previous else NO_HASH)
    return replace(linked, hash=sealed_hash(canonical_bytes(linked)))


def sealed_hash(canonical: bytes) -> bytes:
    """SHA-256 of canonical bytes."""
    return hashlib.sha256(canonical).digest()


def canonical_bytes(reading: Reading) -> bytes:
    """The documented bytes of a reading (its own hash is not among them)."""
    parts = [
        MAGIC,
        reading.id.bytes,
        reading.pass_id.bytes,
        struct.pack("<Id", reading.number, reading.position_mm),
        _text(reading.direction),
        _text(reading.taken_by),
        struct.pack("<qq", utc_microseconds(reading.began_utc), utc_microseconds(reading.ended_utc)),
        (reading.supersedes or _NO_ID).bytes,
        struct.pack("<I", len(reading.values)),
        *(_value_bytes(value) for value in reading.values),
        struct.pack("<I", len(reading.window)),
        *(_trace_bytes(trace) for trace in reading.window),
        reading.previous_hash or NO_HASH,
    ]
    return b"".join(parts)


def read_canonical(data: bytes, window: tuple[Trace, ...] = ()) -> Reading:
    """The reading of canonical bytes, with its hash; ``window`` are its samples, which the bytes only seal.

    Raises ValueError if the bytes are not canonical bytes of this version.
    """
    try:
        if data[:4] != MAGIC:
            raise ValueError("not the canonical bytes of a reading")
        reading, at = _read(data, sealed_hash(data), window)
        (count,) = _COUNT.unpack_from(data, at)
        at += 4
        for _ in range(count):
            at += 4 + _COUNT.unpack_from(data, at)[0] + 36
    except struct.error as error:
        raise ValueError("canonical bytes end too early") from error
    if len(data) != at + 32:
        raise ValueError("canonical bytes end too early or are followed by something else")
    return reading


def read_sealed(data: bytes, seal: bytes) -> Reading:
    """The reading, without its samples, of canonical bytes whose SHA-256 is known to be ``seal``.

    What was sealed was canonical, so nothing else is looked at. Opening a line reads thousands, and those of a pass
    differ in numbers alone: what is between the numbers is read once and then only compared.
    """
    layout = _layouts.get(len(data))
    if layout is not None:
        identity, pass_id, number, position_mm, head, began, ended, supersedes, count, *rest = layout.parts(data)
        if head == layout.head and count == len(layout.names) and tuple(rest[::4]) == layout.raw_names:
            return Reading(
                UUID(bytes=identity),
                _pass_id(pass_id),
                number,
                position_mm,
                layout.direction,
                tuple(map(ChannelValue, layout.names, rest[1::4], rest[2::4], rest[3::4])),
                EPOCH + timedelta(0, 0, began),
                EPOCH + timedelta(0, 0, ended),
                layout.taken_by,
                None if supersedes == _NO_ID_BYTES else UUID(bytes=supersedes),
                (),
                data[-32:],
                seal,
            )
    reading = _read(data, seal, ())[0]
    _layouts[len(data)] = _Layout.of(reading)
    return reading


class _Layout(NamedTuple):
    """Where the numbers of a reading lie among its texts."""

    parts: Callable[[bytes], tuple[Any, ...]]
    head: bytes
    direction: str | None
    taken_by: str
    names: tuple[str, ...]
    raw_names: tuple[bytes, ...]

    @classmethod
    def of(cls, reading: Reading) -> _Layout:
        """The layout of a reading, and of all that differ from it in numbers alone."""
        head = _text(reading.direction) + _text(reading.taken_by)
        names = tuple(value.channel for value in reading.values)
        raw = tuple(_text(name) for name in names)
        layout = f"<4x16s16sId{len(head)}sqq16sI" + "".join(f"{len(name)}sddI" for name in raw)
        return cls(struct.Struct(layout).unpack_from, head, reading.direction, reading.taken_by, names, raw)


_layouts: dict[int, _Layout] = {}


def _read(data: bytes, seal: bytes, window: tuple[Trace, ...]) -> tuple[Reading, int]:
    """The reading and where its traces begin; written without calls, because it is what opening a line waits for."""
    number, position_mm = _PLACE.unpack_from(data, 36)
    (length,) = _COUNT.unpack_from(data, 48)
    at = 52 + length
    direction = data[52:at].decode()
    (length,) = _COUNT.unpack_from(data, at)
    taken_by = data[at + 4 : at + 4 + length].decode()
    at += 4 + length
    began, ended, supersedes, count = _MIDDLE.unpack_from(data, at)
    at += _MIDDLE.size
    values = []
    for _ in range(count):
        (length,) = _COUNT.unpack_from(data, at)
        at += 4 + length
        values.append(ChannelValue(data[at - length : at].decode(), *_VALUE.unpack_from(data, at)))
        at += _VALUE.size
    reading = Reading(
        UUID(bytes=data[4:20]),
        _pass_id(data[20:36]),
        number,
        position_mm,
        direction or None,
        tuple(values),
        from_utc_microseconds(began),
        from_utc_microseconds(ended),
        taken_by,
        None if supersedes == _NO_ID_BYTES else UUID(bytes=supersedes),
        window,
        data[-32:],
        seal,
    )
    return reading, at


@lru_cache(maxsize=64)
def _pass_id(stored: bytes) -> UUID:
    """The same for all readings of a pass."""
    return UUID(bytes=stored)


def _text(value: str | None) -> bytes:
    encoded = unicodedata.normalize("NFC", value or "").encode()
    return struct.pack("<I", len(encoded)) + encoded


def _value_bytes(value: ChannelValue) -> bytes:
    numbers = struct.pack("<ddI", value.mean, value.standard_deviation, value.samples)
    return _text(value.channel) + numbers


def _trace_bytes(trace: Trace) -> bytes:
    digest = hashlib.sha256()
    for numbers in (trace.time_s, trace.value):
        digest.update(np.ascontiguousarray(numbers, dtype="<f8").tobytes())
    return _text(trace.channel) + struct.pack("<I", len(trace.time_s)) + digest.digest()
