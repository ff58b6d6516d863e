"""What a source hands on: samples of several channels, or something that happened to its link."""

from __future__ import annotations

from collections.abc import AsyncIterator
from dataclasses import dataclass, field
from enum import IntEnum
from typing import Protocol

import numpy as np
import numpy.typing as npt

from waywright.readings import Floats

Flaws = npt.NDArray[np.uint8]


class Flaw(IntEnum):
    """Why a value is NaN."""

    NONE = 0
    LOST = 1
    OUT_OF_RANGE = 2
    NOT_A_NUMBER = 3
    OVER_RANGE = 4


@dataclass(frozen=True, slots=True, eq=False)
class SampleBatch:
    """Samples of one source in the order received.

    ``time_s`` (n,) on the monotonic clock, never decreasing; ``value`` (n, channels) in inside units, NaN where a line
    had no value for a channel. ``flaw`` (n, channels) says why (:class:`Flaw`), None if every value is a number.
    """

    source: str
    channels: tuple[str, ...]
    time_s: Floats
    value: Floats
    flaw: Flaws | None = None


@dataclass(frozen=True, slots=True)
class Happening:
    """Something to tell about a link, as a wording key and facts.

    What is ``standing`` holds for as long as the link does, and is told anew at the start of every pass.
    """

    key: str
    facts: dict[str, str | float] = field(default_factory=dict)
    standing: bool = False


class Source(Protocol):
    """Where samples come from: an instrument on a link, or a stored stream."""

    @property
    def name(self) -> str:
        """Short name."""

    @property
    def channels(self) -> tuple[str, ...]:
        """Channels in the order of the columns."""

    @property
    def rate_hz(self) -> float:
        """Samples per second that are expected."""

    def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        """Batches and happenings as they come."""
