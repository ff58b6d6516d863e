"""Checksums of lines: sum, exclusive or, cyclic redundancy check.

The parameters of a cyclic redundancy check are those of the usual model: width, polynomial without its highest bit,
initial register, bits reflected in and out, final exclusive or.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, reduce
from operator import xor

from waywright.instruments.line_records import Checksum, Crc, Sum, Xor

Check = Callable[[bytes], int]


def check_of(stated: Checksum) -> Check:
    """The function from the bytes of the span to the number that the line must carry."""
    if isinstance(stated, Xor):
        return lambda data: reduce(xor, data, 0)
    return _sum(stated) if isinstance(stated, Sum) else _crc(stated)


def number_written(text: str, written: str) -> int | None:
    """The number of a checksum or counter; None if the text is none."""
    if not text.isascii() or not text.isalnum():
        return None
    try:
        return int(text, 16 if written == "hex" else 10)
    except ValueError:
        return None


def _sum(stated: Sum) -> Check:
    modulo = 1 << stated.bits
    sign, less = {"none": (1, 0), "ones": (-1, 1), "twos": (-1, 0)}[stated.complement]
    return lambda data: (sign * sum(data) - less) % modulo


def _crc(stated: Crc) -> Check:
    mask = (1 << stated.bits) - 1
    table = _table(stated.bits, stated.polynomial & mask, stated.reflected)
    shift = stated.bits - 8
    start = _mirrored(stated.initial & mask, stated.bits) if stated.reflected else stated.initial & mask

    def reflected(data: bytes) -> int:
        register = start
        for byte in data:
            register = register >> 8 ^ table[(register ^ byte) & 0xFF]
        return (register ^ stated.final_xor) & mask

    def straight(data: bytes) -> int:
        register = start
        for byte in data:
            register = (register << 8 & mask) ^ table[(register >> shift ^ byte) & 0xFF]
        return (register ^ stated.final_xor) & mask

    return reflected if stated.reflected else straight


@cache
def _table(bits: int, polynomial: int, reflected: bool) -> tuple[int, ...]:
    """What the register becomes for each value of its leading byte."""
    top, mask = 1 << (bits - 1), (1 << bits) - 1
    rows = []
    for byte in range(256):
        register = (_mirrored(byte, 8) if reflected else byte) << (bits - 8)
        for _ in range(8):
            register = (register << 1 ^ polynomial if register & top else register << 1) & mask
        rows.append(_mirrored(register, bits) if reflected else register)
    return tuple(rows)


def _mirrored(value: int, bits: int) -> int:
    return int(f"{value:0{bits}b}"[::-1], 2)
