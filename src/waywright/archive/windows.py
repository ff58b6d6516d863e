"""Samples of a reading's window as bytes: MessagePack of ``[[[channel, n], ...], packed numbers]``.

The numbers are the times and values of every trace one after the other, packed as in :mod:`waywright.readings.stream`.
The canonical bytes of the reading seal them.
"""

from __future__ import annotations

import msgspec
import numpy as np

from waywright.errors import BadInput
from waywright.readings import Trace, packed, unpacked

_Packed = tuple[list[tuple[str, int]], bytes]


def pack_window(window: tuple[Trace, ...]) -> bytes | None:
    """The bytes of a window, None for an empty one. Raises BadInput if a trace has not as many times as values."""
    if not window:
        return None
    for trace in window:
        if trace.time_s.shape != trace.value.shape:
            raise BadInput("archive.uneven_window", channel=trace.channel)
    heads = [(trace.channel, len(trace.time_s)) for trace in window]
    numbers = np.concatenate([part for trace in window for part in (trace.time_s, trace.value)])
    return msgspec.msgpack.encode((heads, packed(numbers)))


def unpack_window(data: bytes | None) -> tuple[Trace, ...]:
    """The traces of :func:`pack_window`. Raises msgspec.MsgspecError, zlib.error or ValueError for damaged bytes."""
    if data is None:
        return ()
    heads, blob = msgspec.msgpack.decode(data, type=_Packed)
    numbers = unpacked(blob, (2 * sum(count for _, count in heads),))
    traces, at = [], 0
    for channel, count in heads:
        times, values = numbers[at : at + count], numbers[at + count : at + 2 * count]
        traces.append(Trace(channel, times, values))
        at += 2 * count
    return tuple(traces)
