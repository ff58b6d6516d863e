"""The whole stream of a pass, kept in compressed blocks so that standstills can be cut again later.

A block holds one source: its channel names, receive times and values. Packed form: the bytes of the float64 numbers are
grouped by significance (all first bytes, then all second bytes, ...) and compressed with zlib; lossless.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from uuid import UUID

import numpy as np

from waywright.readings.records import Floats


@dataclass(frozen=True, slots=True, eq=False)
class StreamBlock:
    """Samples of one source in the order received.

    ``time_s`` (n,) since the start of the pass; ``value`` (n, channels), NaN where a line had no value for a channel.
    """

    pass_id: UUID
    source: str
    number: int
    channels: tuple[str, ...]
    time_s: Floats
    value: Floats


def packed(numbers: Floats) -> bytes:
    """Numbers as compressed little-endian float64, grouped by byte."""
    flat = np.ascontiguousarray(numbers, dtype="<f8").reshape(-1)
    return zlib.compress(flat.view(np.uint8).reshape(-1, 8).T.tobytes(), 6)


def unpacked(data: bytes, shape: tuple[int, ...]) -> Floats:
    """The numbers of :func:`packed`, in the given shape."""
    grouped = np.frombuffer(zlib.decompress(data), np.uint8).reshape(8, -1)
    return np.ascontiguousarray(grouped.T).view("<f8").reshape(shape).astype(np.float64)
