"""What a line holds besides its values: checksum, counter, time stamp; how it is asked for; what can be commanded."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import Meta, Struct

from waywright.quantities import Direction

Group = Annotated[str, Meta(pattern="^[A-Za-z_][A-Za-z0-9_]*$")]
Name = Annotated[str, Meta(pattern="^[a-z][a-z0-9_]*$", max_length=40)]
Positive = Annotated[float, Meta(gt=0)]
Unsigned = Annotated[int, Meta(ge=0, le=0xFFFFFFFF)]


class TimeStamp(Struct, frozen=True, forbid_unknown_fields=True):
    """The instrument's own clock: a named group of the pattern, its unit, and where it starts again from 0."""

    group: str
    unit: Literal["s", "ms", "us"]
    wraps_at: Positive | None = None


class Sum(Struct, frozen=True, forbid_unknown_fields=True, tag="sum", tag_field="method"):
    """The bytes of group ``span`` added up, modulo 2^bits; then its ones' or two's complement if stated."""

    group: str
    span: str
    bits: Literal[8, 16, 32] = 8
    complement: Literal["none", "ones", "twos"] = "none"
    written: Literal["hex", "decimal"] = "hex"


class Xor(Struct, frozen=True, forbid_unknown_fields=True, tag="xor", tag_field="method"):
    """The bytes of group ``span`` combined by exclusive or."""

    group: str
    span: str
    written: Literal["hex", "decimal"] = "hex"


class Crc(Struct, frozen=True, forbid_unknown_fields=True, tag="crc", tag_field="method"):
    """A cyclic redundancy check of group ``span``; ``reflected`` means least significant bit first, in and out."""

    group: str
    span: str
    bits: Literal[8, 16, 32]
    polynomial: Unsigned
    initial: Unsigned = 0
    final_xor: Unsigned = 0
    reflected: bool = False
    written: Literal["hex", "decimal"] = "hex"


Checksum = Sum | Xor | Crc


class Counter(Struct, frozen=True, forbid_unknown_fields=True):
    """A number that counts lines: each is one more than the last, and 0 follows on ``modulo - 1``."""

    group: str
    modulo: Annotated[int, Meta(ge=2)]


class Stream(Struct, frozen=True, forbid_unknown_fields=True):
    """Lines as they arrive. ``pattern`` matches one whole line, one line is one sample; value links have no pattern.

    ``delay_s`` is what passes between measuring and arrival, known from elsewhere; sample times are earlier by it.
    """

    rate_hz: Annotated[float, Meta(gt=0, le=100_000)]
    pattern: str | None = None
    time_stamp: TimeStamp | None = None
    checksum: Checksum | None = None
    counter: Counter | None = None
    decimal_comma: bool = False
    delay_s: Annotated[float, Meta(ge=0, le=60)] = 0.0


class Ask(Struct, frozen=True, forbid_unknown_fields=True):
    """``send`` is sent ``rate_hz`` times a second, but not before the line that answers the last one has come.

    After ``timeout_s`` without an answer it is asked again.
    """

    send: Annotated[str, Meta(min_length=1)]
    timeout_s: Annotated[float, Meta(gt=0, le=60)] = 1.0


class CommandValue(Struct, frozen=True, forbid_unknown_fields=True):
    """A number that a command takes, with its unit for people and its limits: beyond them the command is refused."""

    name: Name
    unit: str
    range: tuple[float, float]


class Command(Struct, frozen=True, forbid_unknown_fields=True):
    """Something the instrument can be told: ``send`` is a text with ``{name}`` or ``{name:.1f}`` for each value.

    ``answer`` is the pattern of the line that confirms it, within ``timeout_s``.
    """

    name: Name
    send: Annotated[str, Meta(min_length=1)]
    value: tuple[CommandValue, ...] = ()
    answer: str | None = None
    timeout_s: Annotated[float, Meta(gt=0, le=60)] = 2.0


class Steering(Struct, frozen=True, forbid_unknown_fields=True):
    """One direction in which a source can tilt its own beam, by a command of the description that takes one value.

    The value is a *change* of tilt, an angle; where it is positive the far end of the beam goes towards ``positive``.
    ``largest_step`` (in the unit of the value) is the most that is sent at a time.
    """

    command: Name
    value: Name
    positive: Direction
    largest_step: Positive
