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
from dataclasses import replace
from uuid import UUID

import numpy as np

from waywright.clocks import from_utc_microseconds, utc_microseconds
from waywright.readings.records import ChannelValue, Reading, Trace

MAGIC = b"WWR1"
NO_HASH = bytes(32)
_NO_ID = UUID(int=0)


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
    cursor = _Cursor(data)
    if cursor.take(4) != MAGIC:
        raise ValueError("not the canonical bytes of a reading")
    identity, pass_id = UUID(bytes=cursor.take(16)), UUID(bytes=cursor.take(16))
    number, position_mm = cursor.unpack("<Id")
    direction, taken_by = cursor.text(), cursor.text()
    began, ended = cursor.unpack("<qq")
    supersedes = UUID(bytes=cursor.take(16))
    values = tuple(_read_value(cursor) for _ in range(cursor.unpack("<I")[0]))
    for _ in range(cursor.unpack("<I")[0]):
        cursor.text()
        cursor.take(36)
    return Reading(
        id=identity,
        pass_id=pass_id,
        number=number,
        position_mm=position_mm,
        direction=direction or None,
        values=values,
        began_utc=from_utc_microseconds(began),
        ended_utc=from_utc_microseconds(ended),
        taken_by=taken_by,
        supersedes=None if supersedes == _NO_ID else supersedes,
        window=window,
        previous_hash=cursor.rest(32),
        hash=sealed_hash(data),
    )


def _text(value: str | None) -> bytes:
    encoded = unicodedata.normalize("NFC", value or "").encode()
    return struct.pack("<I", len(encoded)) + encoded


def _value_bytes(value: ChannelValue) -> bytes:
    numbers = struct.pack("<ddI", value.mean, value.standard_deviation, value.samples)
    return _text(value.channel) + numbers


def _read_value(cursor: _Cursor) -> ChannelValue:
    return ChannelValue(cursor.text(), *cursor.unpack("<ddI"))


def _trace_bytes(trace: Trace) -> bytes:
    digest = hashlib.sha256()
    for numbers in (trace.time_s, trace.value):
        digest.update(np.ascontiguousarray(numbers, dtype="<f8").tobytes())
    return _text(trace.channel) + struct.pack("<I", len(trace.time_s)) + digest.digest()


class _Cursor:
    """Reads canonical bytes from front to back."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        self._at = 0

    def take(self, count: int) -> bytes:
        piece = self._data[self._at : self._at + count]
        if len(piece) != count:
            raise ValueError("canonical bytes end too early")
        self._at += count
        return piece

    def unpack(self, layout: str) -> tuple[int, ...]:
        return struct.unpack(layout, self.take(struct.calcsize(layout)))

    def text(self) -> str:
        (length,) = self.unpack("<I")
        return self.take(length).decode()

    def rest(self, count: int) -> bytes:
        piece = self.take(count)
        if self._at != len(self._data):
            raise ValueError("canonical bytes are followed by something else")
        return piece
