"""Live figures with their health: the newest value of every channel, its rate, its age, its scatter."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.instruments import Happening, SampleBatch
from waywright.jobs.begin import Begun
from waywright.quantities import Code, Direction, code, iso_sign, screen_direction
from waywright.readings.records import Floats

KEPT_S = 4.0
"""Rate and scatter are those of the last seconds of the instrument's time."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A channel now, in its inside unit and with the detector's own sign.

    ``scatter`` is the standard deviation by successive differences, which a moving axis does not inflate. None where
    nothing, or too little, has come.
    """

    channel: str
    value: float | None
    rate_hz: float
    expected_hz: float
    age_s: float | None
    scatter: float | None


class Health:
    """Keeps the last seconds of every source; told of every batch on its way."""

    def __init__(self, expected_hz: dict[str, float]) -> None:
        self._expected_hz = expected_hz
        self._batches: dict[str, deque[SampleBatch]] = {name: deque() for name in expected_hz}
        self.said: dict[str, Happening] = {}

    def look(self, source: str, item: SampleBatch | Happening) -> None:
        """What a source hands on."""
        if isinstance(item, Happening):
            self.said[source] = item
            return
        if not len(item.time_s):
            return
        kept = self._batches[source]
        kept.append(item)
        while kept[0].time_s[-1] < item.time_s[-1] - KEPT_S:
            kept.popleft()

    @property
    def heard(self) -> frozenset[str]:
        """The sources that have brought a value."""
        return frozenset(name for name, kept in self._batches.items() if kept)

    def figures(self, now_s: float) -> tuple[Figure, ...]:
        """Every channel heard so far; ``now_s`` is the moment on the same clock as the samples."""
        return tuple(figure for source in self._batches for figure in self._of_source(source, now_s))

    def newest(self) -> dict[str, float]:
        """The newest value of every channel."""
        return {
            name: float(value)
            for kept in self._batches.values()
            if kept
            for name, value in zip(kept[-1].channels, kept[-1].value[-1], strict=True)
        }

    def _of_source(self, source: str, now_s: float) -> list[Figure]:
        kept, expected_hz = self._batches[source], self._expected_hz[source]
        if not kept:
            return []
        time_s = np.concatenate([batch.time_s for batch in kept])
        value = np.concatenate([batch.value for batch in kept])
        span_s = float(time_s[-1] - time_s[0])
        age_s = max(0.0, now_s - float(time_s[-1]))
        rate_hz = 0.0 if age_s > KEPT_S or span_s <= 0 else (len(time_s) - 1) / span_s
        return [
            Figure(name, _finite(value[-1, at]), rate_hz, expected_hz, age_s, _scatter(value[:, at]))
            for at, name in enumerate(kept[-1].channels)
        ]


@dataclass(frozen=True, slots=True)
class Meaning:
    """How a channel is shown: its quantity, the direction that is positive, the factor from the detector's sign."""

    channel: str
    code: Code
    on_screen: Direction
    factor: float


def meanings_on_screen(begun: Begun) -> tuple[Meaning, ...]:
    """What every channel of a line means on the screen, by the interpretation that holds."""
    axes, found = begun.machine.axes, []
    for meaning in begun.interpretation.meanings:
        quantity = code(meaning.code)
        shown = screen_direction(quantity, axes)
        sign = iso_sign(quantity, meaning.positive, axes) * iso_sign(quantity, shown, axes)
        found.append(Meaning(meaning.channel, quantity, shown, sign * meaning.factor))
    return tuple(found)


def position_on_line(begun: Begun, read_mm: float) -> float:
    """The position of the line for what the position source reads."""
    return begun.interpretation.position_sense * (read_mm - begun.interpretation.position_offset_mm)


def units_of(meanings: Sequence[Meaning]) -> tuple[str, ...]:
    """The unit of each as it is written beside a value."""
    return tuple("µm/m" if meaning.code.is_rotation else "µm" for meaning in meanings)


def _finite(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def _scatter(value: Floats) -> float | None:
    """von Neumann's estimate: half the mean square of successive differences is the variance of white noise."""
    steps = np.diff(value)
    steps = steps[np.isfinite(steps)]
    return float(np.sqrt(np.mean(steps**2) / 2)) if len(steps) >= 4 else None
