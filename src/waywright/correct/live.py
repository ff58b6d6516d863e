"""Live adjusting: what the reading must become at one parked station, and how far it still is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.correct.plan import Plan, expected_reading_change
from waywright.correct.seen import Source
from waywright.correct.turning import Turn, turn_for
from waywright.errors import BadInput

LEAST_ANSWER = 0.1
"""A station that moves by less than this per um of lift does not show what the support does."""


@dataclass(frozen=True, slots=True)
class LiveTarget:
    """``target_um`` for the reading at ``station_mm`` while one support is turned, in the frame of the source.

    ``per_um`` is the change of the reading per um of lift. ``neighbours_um`` are the changes expected of the bed over
    the other supports, as read by an indicator on the floor.
    """

    support: str
    move_um: float
    station_mm: float
    start_um: float
    target_um: float
    per_um: float
    neighbours_um: dict[str, float]


@dataclass(frozen=True, slots=True)
class ToGo:
    """How far a live reading is from its target: lift still to make, and the turn for it (None: there)."""

    lift_um: float
    turn: Turn | None
    done_part: float


def live_target(plan: Plan, support: str, station_mm: float, start_um: float, source: Source | None) -> LiveTarget:
    """The target for one support of a plan. Raises BadInput for a station that hardly answers to it."""
    if support not in plan.supports:
        raise BadInput("correct.unknown_support", support=support, supports=", ".join(plan.supports))
    index = plan.supports.index(support)
    alone = np.zeros(len(plan.supports))
    alone[index] = plan.moves_um[index]
    change = float(expected_reading_change(plan, alone, [station_mm], source)[0])
    move = float(plan.moves_um[index])
    if move == 0.0:
        raise BadInput("correct.not_in_plan", support=support)
    if abs(change) < LEAST_ANSWER * abs(move):
        raise BadInput("correct.station_does_not_answer", support=support, station_mm=station_mm)
    stiffness, setting = plan.belief.stiffness, plan.belief.setting_um
    shape = plan.model.rest(stiffness, setting + alone).shape - plan.model.rest(stiffness, setting).shape
    over = plan.model.at @ shape
    others = {name: float(v) for name, v in zip(plan.supports, over, strict=True) if name != support}
    return LiveTarget(support, move, station_mm, start_um, start_um + change, change / move, others)


def to_go(plan: Plan, target: LiveTarget, reading_um: float) -> ToGo:
    """What is still to turn at a live reading."""
    support = plan.model.supports[plan.supports.index(target.support)]
    lift = (target.target_um - reading_um) / target.per_um
    whole = target.target_um - target.start_um
    part = (reading_um - target.start_um) / whole
    if abs(lift) < max(support.smallest_step_um / 2, 1e-9):
        return ToGo(lift, None, part)
    return ToGo(lift, turn_for(support, lift), part)


@dataclass(frozen=True, slots=True)
class Tightening:
    """How far a bolted support has sunk of what tightening should take: ``sunk_um`` of ``expected_um``."""

    sunk_um: float
    expected_um: float

    @property
    def stop(self) -> bool:
        """The nut is where it should be."""
        return self.sunk_um >= self.expected_um


def tightening(start_um: float, reading_um: float, expected_um: float) -> Tightening:
    """Sinking while a nut is tightened; readings up positive, ``expected_um`` a positive amount."""
    return Tightening(start_um - reading_um, expected_um)
