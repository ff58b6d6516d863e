"""State of the machine and of the air while a pass is taken."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Temperature:
    """A temperature somewhere ("air at the beam", "bed top"), typed or logged."""

    place: str
    value_degc: float
    taken_utc: datetime | None = None


@dataclass(frozen=True, slots=True)
class MachineState:
    """What else the result depends on; None is "not recorded".

    ``anchor_bolts`` is "slack", "snug" or "final"; ``compensation`` is "on" or "off" (the controller's own tables).
    ``weight_compensation`` is what balances a vertical axis or a ram ("on", "off", "none" where there is nothing).
    """

    other_axes: str | None = None
    clamps: str | None = None
    anchor_bolts: str | None = None
    compensation: str | None = None
    warm_up: str | None = None
    weight_compensation: str | None = None


@dataclass(frozen=True, slots=True)
class Conditions:
    """Machine state and temperatures of one pass."""

    machine: MachineState = field(default_factory=MachineState)
    temperatures: tuple[Temperature, ...] = ()
