"""Live adjusting from a terminal: a closed loop without a motor. The reading, its target, the turns to go, the alarms.

The detector is parked; while a support is turned the position must not move and the reading must not jump. Nothing is
turned by this program.
"""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import TracebackType
from typing import Self

import numpy as np

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.correct.live import Tightening, ToGo, tightening
from waywright.errors import BadInput
from waywright.instruments import Happening, SampleBatch
from waywright.jobs.begin import Begun, resume
from waywright.jobs.connected import Connected
from waywright.jobs.rounds import Answered, alarmed, checked_confirmed, turned
from waywright.jobs.turning import Turning, Watched, alarm_of, begin_turning, left_to_turn, plan_of_round
from waywright.quantities import Direction, code, iso_sign, screen_direction
from waywright.visit import Line
from waywright.visit.adjustment import Adjustment, Alarm

START_S, SHOWN_S, AT_ONCE_S = 2.0, 0.4, 0.1
"""How long the reading at the start is averaged, how long what is shown, and how long the position for the alarm."""

DOUBT_PART = 0.3
"""The expected change at a station of the technician's own choice is no surer than this."""

JUMP_LOOKS = 2

LEAST_MOTION_MM, NOISE_TIMES = 0.2, 8.0
"""Any motion of the position beyond its noise is an alarm."""


@dataclass(frozen=True, slots=True)
class LiveAdjust:
    """What is shown now: the reading (um, up positive), its target, what is still to turn, the alarm that stops it.

    ``neighbours_um`` are the changes expected over the other supports when the move is done.
    """

    support: str
    position_mm: float | None = None
    reading_um: float | None = None
    start_um: float | None = None
    target_um: float | None = None
    left: ToGo | None = None
    sinking: Tightening | None = None
    neighbours_um: dict[str, float] = field(default_factory=dict)
    alarm: Alarm | None = None


Watch = Callable[[LiveAdjust], None]


class Heard:
    """The newest samples of position and height, and their means over short times."""

    def __init__(self, begun: Begun) -> None:
        self._position = begun.position_channel
        self._channel, self._factor = _height_channel(begun)
        self._sense = begun.interpretation.position_sense
        self._offset_mm = begun.interpretation.position_offset_mm
        self._positions: deque[tuple[float, float]] = deque(maxlen=4000)
        self._heights: deque[tuple[float, float]] = deque(maxlen=4000)

    def look(self, _source: str, item: SampleBatch | Happening) -> None:
        """A batch on its way."""
        if isinstance(item, Happening):
            return
        for channel, into, factor, offset in (
            (self._position, self._positions, float(self._sense), self._offset_mm),
            (self._channel, self._heights, self._factor, 0.0),
        ):
            if channel in item.channels:
                value = factor * (item.value[:, item.channels.index(channel)] - offset)
                into.extend((float(t), float(v)) for t, v in zip(item.time_s, value, strict=True) if np.isfinite(v))

    def position(self, over_s: float) -> tuple[float, float] | None:
        """Mean and standard deviation of the position over the last seconds, mm."""
        return _mean(self._positions, over_s)

    def height_um(self, over_s: float) -> float | None:
        """Mean of the height over the last seconds, um, up positive."""
        found = _mean(self._heights, over_s)
        return None if found is None else found[0]


def _mean(samples: Sequence[tuple[float, float]], over_s: float) -> tuple[float, float] | None:
    if not samples:
        return None
    newest = samples[-1][0]
    values = [value for time_s, value in samples if time_s > newest - over_s]
    return float(np.mean(values)), float(np.std(values))


def _height_channel(begun: Begun) -> tuple[str, float]:
    """The channel of the height, and the factor that makes up positive. Raises BadInput where there is none."""
    axes, side = begun.machine.axes, begun.setup.detector_side or "tool"
    for meaning in begun.interpretation.meanings:
        quantity = code(meaning.code)
        if quantity.is_straightness and screen_direction(quantity, axes) == Direction.UP:
            sign = iso_sign(quantity, meaning.positive, axes, side) * iso_sign(quantity, Direction.UP, axes, side)
            return meaning.channel, sign * meaning.factor
    raise BadInput("adjust.no_height_channel", line=begun.line.name)


class LiveAdjusting:
    """One support turned under the instruments; make it, then await :meth:`run` until :meth:`stop`."""

    def __init__(
        self,
        archive: Archive,
        made: Adjustment,
        support: str,
        instruments: Sequence[Path],
        clock: Clock,
        watch: Watch,
        sinks_um: float | None = None,
    ) -> None:
        checked_confirmed(made)
        self._archive, self._made, self._support, self._clock, self._watch = archive, made, support, clock, watch
        self._begun = resume(archive, archive.load(Line, made.before_line_id), tuple(instruments))
        self._correction = plan_of_round(archive, made)
        self._sinks_um = sinks_um
        self._stopped = asyncio.Event()
        self._seen: deque[Watched] = deque(maxlen=JUMP_LOOKS)
        self.alarms: list[Alarm] = []
        self.last = LiveAdjust(support)

    def stop(self) -> None:
        """The fitter is done with this support."""
        self._stopped.set()

    async def run(self) -> Adjustment:
        """Listen, show, alarm; what happened is kept with the round, and the support as turned as asked."""
        heard = Heard(self._begun)
        async with Connected(self._begun, self._clock, heard.look):
            turning, moved_mm = await self._armed(heard)
            while not self._stopped.is_set():
                self._look(heard, turning, moved_mm)
                await asyncio.sleep(0.1)
        made = alarmed(self._archive, self._made, self.alarms) if self.alarms else self._made
        if self._sinks_um is not None:
            return made
        return turned(self._archive, made, self._support, None, self._clock, answer=self._answer())

    async def _armed(self, heard: Heard) -> tuple[Turning, float]:
        """Wait for the reading at the start; the position's own noise says what counts as motion."""
        await self._clock.sleep(START_S)
        while heard.position(START_S) is None or heard.height_um(START_S) is None:
            await asyncio.sleep(0.1)
        at = heard.position(START_S)
        assert at is not None
        setup = self._begun.setup
        turning = begin_turning(self._made, self._correction, self._support, setup, at[0], heard.height_um(START_S))
        if self._sinks_um is not None:  # a nut is tightened: the support may sink, whatever the plan moved
            turning = replace(turning, target=None)
        return turning, max(LEAST_MOTION_MM, NOISE_TIMES * at[1])

    def _look(self, heard: Heard, turning: Turning, moved_mm: float) -> None:
        at, height_um = heard.position(AT_ONCE_S), heard.height_um(SHOWN_S)
        position_mm = None if at is None else at[0]
        alarm = self.last.alarm or alarm_of(
            turning, position_mm, height_um, self._before(), self._clock.utc(), moved_mm=moved_mm
        )
        if alarm is not None and alarm is not self.last.alarm:
            self.alarms.append(alarm)
        self._seen.append((self._seen[-1] if self._seen else Watched()).then(height_um))
        target = turning.target
        shown = LiveAdjust(self._support, position_mm, height_um, alarm=alarm)
        if target is not None:
            shown = replace(
                shown,
                start_um=target.start_um,
                target_um=target.target_um,
                left=left_to_turn(turning, height_um),
                neighbours_um=target.neighbours_um,
            )
        if self._sinks_um is not None and height_um is not None and turning.start_um is not None:
            shown = replace(shown, sinking=tightening(turning.start_um, height_um, self._sinks_um))
        self.last = shown
        self._watch(shown)

    def acknowledge(self) -> None:
        """Somebody has seen the alarm; a new one can come."""
        self.last = replace(self.last, alarm=None)
        self._seen.clear()

    def _before(self) -> Watched:
        """The look two before this one: a jump that falls between two looks is seen whole."""
        return self._seen[0] if self._seen else Watched()

    def _answer(self) -> Answered | None:
        shown = self.last
        if shown.reading_um is None or shown.start_um is None or shown.target_um is None or shown.position_mm is None:
            return None
        change_um, wanted_um = shown.reading_um - shown.start_um, shown.target_um - shown.start_um
        doubts = [each.doubt_um for each in self._correction.sheet.instructions if each.support == self._support]
        doubt_um = max(doubts[0] if doubts else 0.0, DOUBT_PART * abs(wanted_um))
        return Answered(shown.position_mm, wanted_um, change_um, doubt_um)


class Parked:
    """Instruments of a line listened to while the detector is parked; an asynchronous context manager."""

    def __init__(self, begun: Begun, clock: Clock) -> None:
        self._heard, self._clock = Heard(begun), clock
        self._connected = Connected(begun, clock, self._heard.look)

    async def __aenter__(self) -> Self:
        await self._connected.__aenter__()
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None
    ) -> None:
        await self._connected.__aexit__(kind, error, at)

    async def height_um(self, over_s: float) -> float:
        """The mean of the height over the time from now on."""
        await self._clock.sleep(over_s)
        while (mean := self._heard.height_um(over_s)) is None:
            await asyncio.sleep(0.05)
        return mean
