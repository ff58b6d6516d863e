"""An instrument is a TOML file that says what its bytes mean: records, and the checks that need more than one key.

The records are msgspec structures: frozen, closed against unknown keys, and the source of the JSON Schema for editors.
Units are those of the file; the decoder brings values to inside units.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from msgspec import Meta, Struct

from waywright.quantities import Direction, Kind, Unit, unit

FORMAT = 1

Port = Annotated[int, Meta(ge=1, le=65535)]
Positive = Annotated[float, Meta(gt=0)]
Name = Annotated[str, Meta(pattern="^[a-z][a-z0-9_]*$", max_length=40)]
KindWord = Literal["displacement", "angle", "position", "temperature"]

KIND = {
    "displacement": Kind.DISPLACEMENT,
    "angle": Kind.ANGLE,
    "position": Kind.POSITION,
    "temperature": Kind.TEMPERATURE,
}
DISPLACEMENTS = frozenset(
    {Direction.UP, Direction.DOWN, Direction.TOWARDS, Direction.AWAY, Direction.RIGHT, Direction.LEFT}
)
DIRECTED = {"displacement": DISPLACEMENTS, "angle": frozenset(Direction) - DISPLACEMENTS}


class Certificate(Struct, frozen=True, forbid_unknown_fields=True):
    """Calibration certificate; expanded uncertainties with coverage factor ``k``. Nothing here is required."""

    number: str | None = None
    date: datetime.date | None = None
    due: datetime.date | None = None
    expanded_uncertainty_um: Positive | None = None
    expanded_uncertainty_um_per_m: Positive | None = None
    expanded_uncertainty_mm: Positive | None = None
    expanded_uncertainty_degc: Positive | None = None
    k: Positive | None = None


class TcpLink(Struct, frozen=True, forbid_unknown_fields=True, tag="tcp", tag_field="kind"):
    """The instrument listens on a TCP port."""

    host: str
    port: Port


class SerialLink(Struct, frozen=True, forbid_unknown_fields=True, tag="serial", tag_field="kind"):
    """The instrument is on a serial port (``COM3``, ``/dev/ttyUSB0``)."""

    port: str
    baud: Annotated[int, Meta(ge=50, le=10_000_000)] = 9600
    data_bits: Annotated[int, Meta(ge=5, le=8)] = 8
    parity: Literal["none", "even", "odd", "mark", "space"] = "none"
    stop_bits: Literal[1, 2] = 1


Link = TcpLink | SerialLink


class TimeStamp(Struct, frozen=True, forbid_unknown_fields=True):
    """The instrument's own clock: a named group of the pattern, its unit, and where it starts again from 0."""

    group: str
    unit: Literal["s", "ms", "us"]
    wraps_at: Positive | None = None


class Stream(Struct, frozen=True, forbid_unknown_fields=True):
    """Lines that arrive by themselves. ``pattern`` matches one whole line, one line is one sample."""

    pattern: str
    rate_hz: Annotated[float, Meta(gt=0, le=100_000)]
    time_stamp: TimeStamp | None = None


class Channel(Struct, frozen=True, forbid_unknown_fields=True):
    """One number of a line: ``inside = unit(text * factor + offset)``; ``range`` is in ``unit``, after factor, offset.

    ``positive`` is the physical direction as nominally mounted; positions and temperatures have none.
    """

    name: Name
    group: str
    kind: KindWord
    unit: str
    positive: Direction | None = None
    range: tuple[float, float] | None = None
    lost: tuple[str, ...] = ()
    factor: float = 1.0
    offset: float = 0.0

    @property
    def inside(self) -> Unit:
        """The unit of the file as a record that converts. Raises BadInput for an unknown one."""
        return unit(KIND[self.kind], self.unit)


class Description(Struct, frozen=True, forbid_unknown_fields=True):
    """The whole file. ``name`` is the first part of channel names."""

    format: Literal[1]
    name: Name
    title: str
    link: Link
    stream: Stream
    channel: Annotated[tuple[Channel, ...], Meta(min_length=1)]
    serial: str | None = None
    certificate: Certificate | None = None

    @property
    def channels(self) -> tuple[str, ...]:
        """Full names of the channels, unit included: ``beam.vertical_um``."""
        return tuple(f"{self.name}.{item.name}_{KIND[item.kind].value}" for item in self.channel)
