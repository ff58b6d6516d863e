"""The support that is being turned now: one for the whole server, so that every page and phone sees the same."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import TYPE_CHECKING, Any
from uuid import UUID

from waywright.correct.turning import Turn, turn_for
from waywright.jobs.correct import Correction
from waywright.jobs.rounds import alarmed, turned
from waywright.jobs.turning import Turning, Watched, alarm_of, begin_turning, left_to_turn, plan_of_round
from waywright.machine import Support
from waywright.visit import Line
from waywright.visit.adjustment import Adjustment, Alarm
from waywright.web.display import length, length_as_shown
from waywright.web.ring import turn_ring
from waywright.web.state import MeasuringState
from waywright.wording import text

if TYPE_CHECKING:
    from waywright.web.desk import Desk


_RING_STEPS = 180
"""The ring moves by two degrees at a time: a hand does not see less, and noise would make it tremble."""


class Adjusting:
    """Watches the reading while a support is turned; nothing is turned by this program."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._plans: dict[UUID, Correction] = {}
        self._before = Watched()
        self.turning: Turning | None = None
        self.alarm: Alarm | None = None

    def remember(self, made: Adjustment, correction: Correction) -> None:
        """The plan of a round, so that it need not be worked out again."""
        self._plans[made.id] = correction

    async def plan_of(self, made: Adjustment) -> Correction:
        """The plan of a round, worked out again after the server was ended."""
        if made.id not in self._plans:
            self._plans[made.id] = await asyncio.to_thread(plan_of_round, self._desk.archive, made)
        return self._plans[made.id]

    async def begin(self, made: Adjustment, support: str, line: Line) -> Turning:
        """From here on the reading of now is the start of the move."""
        correction = await self.plan_of(made)
        now = self._desk.state_of(line.id)
        setup = self._desk.archive.setups(line.id)[-1]
        self._before, self.alarm = Watched(), None
        self.turning = begin_turning(made, correction, support, setup, now.position_mm, height_of(now))
        self._desk.touched("turning")
        return self.turning

    def done(self, done_um: float | None, note: str | None) -> Adjustment | None:
        """The support is turned; kept with the round. Raises BadInput while something is not confirmed."""
        turning = self.turning
        if turning is None:
            return None
        made = self._desk.archive.load(Adjustment, turning.made.id)
        kept = turned(self._desk.archive, made, turning.support, done_um, self._desk.clock, note)
        self.turning = None
        self._desk.touched()
        return kept

    def leave(self) -> None:
        """Nothing is being turned any more."""
        self.turning, self.alarm = None, None
        self._desk.touched("turning")

    def seen(self) -> None:
        """Somebody has read the alarm; from the reading of now on a new one can come."""
        alarm, self.alarm = self.alarm, None
        if self.turning is not None and alarm is not None:
            made = self._desk.archive.load(Adjustment, self.turning.made.id)
            alarmed(self._desk.archive, made, [alarm])
        self.turning = None
        self._desk.touched("turning")

    def look(self, now: MeasuringState) -> None:
        """Every new figure, in the session's thread."""
        turning = self.turning
        if turning is None or self.alarm is not None:
            return
        height_um = height_of(now)
        found = alarm_of(turning, now.position_mm, height_um, self._before, self._desk.clock.utc())
        self._before = self._before.then(height_um)
        if found is not None:
            self.alarm = found
            self._desk.touched("alarm")

    def picture(self, now: MeasuringState) -> dict[str, Any]:
        """What the pages show of it: reading, target, the turn to go as words and as a ring, the alarm."""
        alarm = self.alarm
        said = None if alarm is None else text(alarm.statement.key, **alarm.statement.facts)
        return {"turn": _turn(self.turning, height_of(now)), "alarm": said}


def height_of(now: MeasuringState) -> float | None:
    """The height on the screen now, up positive; None where there is none."""
    for meaning in now.meanings:
        if meaning.on_screen.value == "up" and meaning.code.is_straightness:
            value = now.live.latest.get(meaning.channel)
            return None if value is None or value != value else meaning.factor * value  # noqa: PLR0124 - lost beam
    return None


def _turn(turning: Turning | None, height_um: float | None) -> dict[str, Any] | None:
    if turning is None:
        return None
    left, target = left_to_turn(turning, height_um), turning.target
    support = turning.plan.model.supports[turning.plan.supports.index(turning.support)]
    turn = turn_for(support, turning.asked_um) if left is None else left.turn
    words = turn_words(turn) if turn is not None else text("rounds.there" if left is not None else "rounds.by_amount")
    unit = length_as_shown()
    return {
        "support": turning.support,
        "asked": length(turning.asked_um, sign=True),
        "why": None if turning.why is None else str(turning.why),
        "target_um": None if target is None else round(target.target_um - target.start_um, 1),
        "value_um": None if target is None or height_um is None else round(height_um - target.start_um, 1),
        "per": unit.per,
        "digits": unit.decimals,
        "unit": unit.word,
        "part": None if left is None else round(left.done_part, 3),
        "words": words,
        "ring": ""
        if turn is None
        else turn_ring(replace(turn, turns=round(turn.turns * _RING_STEPS) / _RING_STEPS), words),
    }


def turn_in_short(support: Support, move_um: float) -> str:
    """How far and which way round, for a drawing; nothing where it is not known."""
    turn = turn_for(support, move_um)
    if turn is None:
        return ""
    way = text(f"rounds.{turn.direction}")
    if turn.words:
        return text("rounds.turns_in_short", turns=turn.words, direction=way)
    return text("rounds.degrees_in_short", degrees=turn.degrees, direction=way)


def turn_words(turn: Turn) -> str:
    """Turns to go in words."""
    way = text(f"rounds.{turn.direction}")
    if turn.words:
        return text("rounds.turns_to_go", turns=turn.words, direction=way)
    return text("rounds.degrees_to_go", degrees=turn.degrees, direction=way)
