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
from functools import lru_cache
from uuid import UUID

import numpy as np

from waywright.clocks import from_utc_microseconds, utc_microseconds
from waywright.readings.records import ChannelValue, Reading, Trace

MAGIC = b"WWR1"
NO_HASH = bytes(32)
_NO_ID = UUID(int=0)
NO_ID_BYTES = bytes(16)
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
        text_bytes(reading.direction),
        text_bytes(reading.taken_by),
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
        reading, at = read_fields(data, sealed_hash(data), window)
        (count,) = _COUNT.unpack_from(data, at)
        at += 4
        for _ in range(count):
            at += 4 + _COUNT.unpack_from(data, at)[0] + 36
    except struct.error as error:
        raise ValueError("canonical bytes end too early") from error
    if len(data) != at + 32:
        raise ValueError("canonical bytes end too early or are followed by something else")
    return reading


def read_fields(data: bytes, seal: bytes, window: tuple[Trace, ...]) -> tuple[Reading, int]:
    """The reading and where its traces begin. Raises struct.error where the bytes end too early."""
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
        id_of_pass(data[20:36]),
        number,
        position_mm,
        direction or None,
        tuple(values),
        from_utc_microseconds(began),
        from_utc_microseconds(ended),
        taken_by,
        None if supersedes == NO_ID_BYTES else UUID(bytes=supersedes),
        window,
        data[-32:],
        seal,
    )
    return reading, at


@lru_cache(maxsize=64)
def id_of_pass(stored: bytes) -> UUID:
    """The id of a pass, which is the same for all its readings."""
    return UUID(bytes=stored)


def text_bytes(value: str | None) -> bytes:
    """A text as the canonical bytes have it."""
    encoded = unicodedata.normalize("NFC", value or "").encode()
    return struct.pack("<I", len(encoded)) + encoded


def _value_bytes(value: ChannelValue) -> bytes:
    numbers = struct.pack("<ddI", value.mean, value.standard_deviation, value.samples)
    return text_bytes(value.channel) + numbers


def _trace_bytes(trace: Trace) -> bytes:
    digest = hashlib.sha256()
    for numbers in (trace.time_s, trace.value):
        digest.update(np.ascontiguousarray(numbers, dtype="<f8").tobytes())
    return text_bytes(trace.channel) + struct.pack("<I", len(trace.time_s)) + digest.digest()
