"""An instrument is a TOML file that says what its bytes mean: records, and the checks that need more than one key.

The records are msgspec structures: frozen, closed against unknown keys, and the source of the JSON Schema for editors.
Units are those of the file; the decoder brings values to inside units.
"""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from msgspec import Meta, Struct

from waywright.instruments.line_records import Ask, Command, Name, Positive, Steering, Stream
from waywright.instruments.link_records import VALUE_LINKS, Link
from waywright.quantities import Direction, Kind, Unit, unit

FORMAT = 1

KindWord = Literal["displacement", "angle", "position", "temperature"]

UNAVAILABLE = "unavailable"
"""What a value link writes in place of a number that the controller calls bad or does not have."""

VALUE_GROUP = "value"

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


class Channel(Struct, frozen=True, forbid_unknown_fields=True):
    """One number of a line: ``stated = text * factor + offset`` in ``unit``, less its error, turned by the mounting.

    ``group`` is a named group of the pattern; on a value link the node id or data item. ``positive`` is the physical
    direction as nominally mounted; positions and temperatures have none. ``range`` is in ``unit``, after factor and
    offset. ``lost`` and ``over`` are texts instead of a number: beam lost, over range. ``linearity`` lists (indicated,
    error of indication) in ``unit``, straight lines between, the end errors beyond.
    """

    name: Name
    group: str
    kind: KindWord
    unit: str
    positive: Direction | None = None
    range: tuple[float, float] | None = None
    lost: tuple[str, ...] = ()
    over: tuple[str, ...] = ()
    factor: float = 1.0
    offset: float = 0.0
    linearity: Annotated[tuple[tuple[float, float], ...], Meta(min_length=2)] | None = None

    @property
    def inside(self) -> Unit:
        """The unit of the file as a record that converts. Raises BadInput for an unknown one."""
        return unit(KIND[self.kind], self.unit)


class Mounting(Struct, frozen=True, forbid_unknown_fields=True):
    """How the detector sits. ``up`` says for people what points up ("arrow", "cable").

    ``pair`` names two channels at right angles; the detector is turned by ``roll_deg`` from the positive direction of
    the first towards that of the second, which the values of both are turned back by.
    """

    up: str | None = None
    roll_deg: Annotated[float, Meta(ge=-360, le=360)] = 0.0
    pair: tuple[Name, Name] | None = None


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
    ask: Ask | None = None
    command: tuple[Command, ...] = ()
    steering: tuple[Steering, ...] = ()
    mounting: Mounting | None = None

    @property
    def channels(self) -> tuple[str, ...]:
        """Full names of the channels, unit included: ``beam.vertical_um``."""
        return tuple(f"{self.name}.{item.name}_{KIND[item.kind].value}" for item in self.channel)

    @property
    def brings_values(self) -> bool:
        """Whether the link brings named numbers instead of lines."""
        return isinstance(self.link, VALUE_LINKS)

    @property
    def line_pattern(self) -> str:
        """The pattern of a line; value links write one number after the other, separated by blanks."""
        if self.brings_values or self.stream.pattern is None:
            return " ".join(f"(?P<{VALUE_GROUP}{at}>\\S+)" for at in range(len(self.channel)))
        return self.stream.pattern

    @property
    def channel_groups(self) -> tuple[str, ...]:
        """The group of :attr:`line_pattern` for each channel."""
        if self.brings_values:
            return tuple(f"{VALUE_GROUP}{at}" for at in range(len(self.channel)))
        return tuple(item.group for item in self.channel)
