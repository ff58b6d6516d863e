"""Turning one support of a round: the target of the reading, how far it still is, and what must not happen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from waywright.archive import Archive
from waywright.correct import Source
from waywright.correct.live import LiveTarget, ToGo, live_target, to_go
from waywright.correct.plan import Plan
from waywright.errors import BadInput, WaywrightError
from waywright.jobs.bed_seen import on_bed
from waywright.jobs.beliefs import as_believed
from waywright.jobs.correct import Correction, CorrectionOrder, correction_of_line
from waywright.jobs.measured import measured_line
from waywright.visit import Line, SetUp, Statement
from waywright.visit.adjustment import Adjustment, Alarm, BedBelief

MOVED_MM = 2.0
"""The carriage is locked while a support is turned; this is above the noise of a position source."""
JUMP_UM, JUMP_SHARE = 25.0, 0.6
WRONG_WAY_UM, WRONG_WAY_SHARE = 15.0, 0.25


@dataclass(frozen=True, slots=True, eq=False)
class Turning:
    """One support that is being turned. ``target`` is None where no reading answers to it; ``why`` then says why.

    ``start_mm`` and ``start_um`` are position and reading when it began.
    """

    made: Adjustment
    plan: Plan
    support: str
    asked_um: float
    target: LiveTarget | None = None
    start_mm: float | None = None
    start_um: float | None = None
    why: WaywrightError | None = None


@dataclass(frozen=True, slots=True)
class Watched:
    """The last reading that was looked at, to see a jump from it, also across a moment without a reading."""

    height_um: float | None = None

    def then(self, height_um: float | None) -> Watched:
        """What is to be compared with next."""
        return self if height_um is None else Watched(height_um)


def plan_of_round(archive: Archive, made: Adjustment) -> Correction:
    """The plan of a round again, on the belief that it was made on, with the moves as they were kept."""
    line = measured_line(archive, archive.load(Line, made.before_line_id))
    asked = {move.support: move.asked_um for move in made.moves}
    bed = line.machine.bed
    others = tuple(each.name for each in bed.supports if each.name not in asked) if bed else ()
    belief = None if made.belief_before_id is None else as_believed(archive.load(BedBelief, made.belief_before_id))
    found = correction_of_line(line, CorrectionOrder(goal_um=made.goal_um, locked=others), belief)
    return replace(found, plan=_with_moves(found.plan, asked))


def _with_moves(plan: Plan, asked_um: Mapping[str, float]) -> Plan:
    return replace(plan, moves_um=np.array([asked_um.get(name, 0.0) for name in plan.supports]))


def begin_turning(
    made: Adjustment,
    correction: Correction,
    support: str,
    setup: SetUp,
    position_mm: float | None,
    height_um: float | None,
) -> Turning:
    """Start one support at the reading of now; without a reading there is no target, and the turns alone count."""
    asked = next((move.asked_um for move in made.moves if move.support == support), 0.0)
    plan = _with_moves(correction.plan, {move.support: move.asked_um for move in made.moves})
    turning = Turning(made, plan, support, asked, start_mm=position_mm, start_um=height_um)
    if position_mm is None or height_um is None:
        return turning
    try:
        [station_mm] = on_bed(correction.machine, setup.zero, np.array([position_mm]))
        return replace(turning, target=live_target(plan, support, float(station_mm), height_um, _source(setup)))
    except BadInput as problem:
        where = {"station_mm": position_mm} if "station_mm" in problem.facts else {}
        return replace(turning, why=BadInput(problem.key, **{**problem.facts, **where}))


def _source(setup: SetUp) -> Source | None:
    stand = setup.source
    return Source(stand.bed_mm) if stand is not None and stand.on == "bed" and stand.bed_mm is not None else None


def left_to_turn(turning: Turning, height_um: float | None) -> ToGo | None:
    """What is still to turn at a reading; None where nothing is read."""
    if turning.target is None or height_um is None:
        return None
    return to_go(turning.plan, turning.target, height_um)


def alarm_of(
    turning: Turning,
    position_mm: float | None,
    height_um: float | None,
    before: Watched,
    now: datetime,
    *,
    moved_mm: float = MOVED_MM,
) -> Alarm | None:
    """Something that must stop the wrench: the carriage moves, the reading jumps, or runs the wrong way.

    ``moved_mm`` is what counts as motion; less than :data:`MOVED_MM` where the noise of the position is known.
    """
    statement = _moved(turning, position_mm, moved_mm) or _read(turning, height_um, before)
    return None if statement is None else Alarm(statement, now, turning.support)


def _moved(turning: Turning, position_mm: float | None, limit_mm: float) -> Statement | None:
    if turning.start_mm is None or position_mm is None:
        return None
    moved_mm = position_mm - turning.start_mm
    return Statement("rounds.alarm_moved", {"moved_mm": abs(moved_mm)}) if abs(moved_mm) > limit_mm else None


def _read(turning: Turning, height_um: float | None, before: Watched) -> Statement | None:
    target = turning.target
    if height_um is None:
        return None
    whole = 0.0 if target is None else target.target_um - target.start_um
    if before.height_um is not None:
        jump = height_um - before.height_um
        if abs(jump) > max(JUMP_UM, JUMP_SHARE * abs(whole)):
            return Statement("rounds.alarm_jump", {"jump_um": jump, "support": turning.support})
    if target is None:
        return None
    gone = (height_um - target.start_um) * float(np.sign(whole))
    if gone < -max(WRONG_WAY_UM, WRONG_WAY_SHARE * abs(whole)):
        return Statement("rounds.alarm_wrong_way", {"gone_um": -gone, "support": turning.support})
    return None
