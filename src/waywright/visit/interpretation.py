"""What the channels of a set-up mean on the machine.

A reading holds what the detector said. An interpretation maps each channel to a quantity of ISO 230-1 and says in which
physical direction the channel counts positive. It can be superseded (wrong sign, swapped channels, wrong base length);
raw readings stay as they are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

import numpy as np

from waywright.quantities import Axes, Direction, code, iso_sign, screen_direction
from waywright.readings import Reading
from waywright.visit.lines import SetUp
from waywright.visit.profile import Column, Profile


@dataclass(frozen=True, slots=True)
class ChannelMeaning:
    """``channel`` measures ``code``; its positive sense is ``positive``; ``factor`` corrects its size."""

    channel: str
    code: str
    positive: Direction
    factor: float = 1.0


@dataclass(frozen=True, slots=True)
class Interpretation:
    """Meaning of every channel of a set-up. ``position = sense * (reading - offset_mm)``."""

    id: UUID
    setup_id: UUID
    meanings: tuple[ChannelMeaning, ...]
    position_offset_mm: float = 0.0
    position_sense: int = 1
    reason: str | None = None
    made_utc: datetime | None = None
    made_by: UUID | None = None


def interpreted(readings: Sequence[Reading], interpretation: Interpretation, axes: Axes, setup: SetUp) -> Profile:
    """Readings as columns of quantities over position, in the order given.

    Deviations carry the ISO sign; each column says in which physical direction the screen calls it positive and the
    factor to it. A detector side that is not recorded counts as the tool side, and the report says "not recorded".
    """
    raw_mm = np.array([reading.position_mm for reading in readings], dtype=np.float64)
    position_mm = interpretation.position_sense * (raw_mm - interpretation.position_offset_mm)
    side = setup.detector_side or "tool"
    columns = tuple(_column(readings, meaning, axes, side) for meaning in interpretation.meanings)
    return Profile(position_mm, columns, tuple(reading.direction for reading in readings))


def _column(readings: Sequence[Reading], meaning: ChannelMeaning, axes: Axes, side: str) -> Column:
    quantity = code(meaning.code)
    to_iso = iso_sign(quantity, meaning.positive, axes, side)
    on_screen = screen_direction(quantity, axes)
    found = [reading.value(meaning.channel) for reading in readings]
    mean = np.array([item.mean if item else np.nan for item in found])
    scatter = np.array([item.standard_deviation if item else np.nan for item in found])
    samples = np.array([item.samples if item else 0 for item in found])
    return Column(
        quantity,
        to_iso * meaning.factor * mean,
        abs(meaning.factor) * scatter,
        samples,
        on_screen,
        iso_sign(quantity, on_screen, axes, side),
    )
