"""One reading: an accepted value set at a station.

A channel is named ``instrument.channel_unit`` (``beam.vertical_um``), so that no number stands without its unit. Values
are what the instrument said, decoded and in inside units, with the *detector's own* sign: directions and ISO signs are
an interpretation that can be mended later; the reading cannot.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ChannelValue:
    """Mean and standard deviation of one channel over the window; the unit is the channel's suffix."""

    channel: str
    mean: float
    standard_deviation: float
    samples: int


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """The window's samples of one channel: ``time_s`` since the start of the pass, ``value``; both (n,)."""

    channel: str
    time_s: Floats
    value: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Reading:
    """One reading of a pass, numbered from 0 in the order taken.

    ``position_mm`` is the mean of the position source as it reads; ``direction`` is the motion by which the station
    was reached ("forward", "backward" or None when it is not known). ``supersedes`` is the earlier reading at the same
    station that this one repeats; the earlier one stays. ``taken_by`` is "standstill", "hand" or "typed".
    ``previous_hash`` and ``hash`` (SHA-256) chain the readings of a pass; see :mod:`waywright.readings.canonical`.
    """

    id: UUID
    pass_id: UUID
    number: int
    position_mm: float
    direction: str | None
    values: tuple[ChannelValue, ...]
    began_utc: datetime
    ended_utc: datetime
    taken_by: str = "standstill"
    supersedes: UUID | None = None
    window: tuple[Trace, ...] = ()
    previous_hash: bytes = b""
    hash: bytes = b""

    def value(self, channel: str) -> ChannelValue | None:
        """The value of a channel, or None where this reading has none."""
        return next((item for item in self.values if item.channel == channel), None)


def standing(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """The readings that hold: those that no later one supersedes, in the order taken."""
    replaced = {reading.supersedes for reading in readings}
    return tuple(reading for reading in readings if reading.id not in replaced)
