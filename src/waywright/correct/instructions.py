"""A plan as instructions for the fitter: ordered, one support at a time, each with what the reading should do."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.linear import answer
from waywright.correct.lines import line
from waywright.correct.lines import measured as measured_line
from waywright.correct.notes import Note, note
from waywright.correct.plan import Plan
from waywright.correct.seen import Source
from waywright.correct.turning import Turn, turn_for
from waywright.machine import Support

WAIT_MIN = 10
"""Friction and seats creep: so long after the last move before a reading of micrometres counts."""

CLEAR_PART = 0.6
"""A detector is parked above a support unless the reading of another station moves much more."""

PLAY_UM = 20.0
"""A lowering move goes this much further and comes back up, so that every move ends upwards."""


@dataclass(frozen=True, slots=True)
class Instruction:
    """One support. ``steps`` are to be done in order.

    ``expected_um`` is what the reading at ``station_mm`` should do during this move, up positive, in the frame of the
    source; ``hanging`` names supports that do not carry after this move, until a later one. A detector parked at
    ``clear_mm`` sees best whether the support answers: by ``clear_um``, with the standard deviation ``doubt_um`` for
    what is not known of the bed.
    """

    order: int
    support: str
    move_um: float
    turn: Turn | None
    station_mm: float
    expected_um: float
    hanging: tuple[str, ...]
    steps: tuple[Note, ...]
    clear_mm: float = 0.0
    clear_um: float = 0.0
    doubt_um: float = 0.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A round's instructions. ``confirm`` must each be confirmed on its own before anything is turned.

    ``wait_min`` is how long the bed is left alone after the last move.
    """

    instructions: tuple[Instruction, ...]
    confirm: tuple[Note, ...]
    warnings: tuple[Note, ...]
    afterwards: tuple[Note, ...]
    wait_min: int = WAIT_MIN


def instructions(plan: Plan, source: Source | None = None) -> Sheet:
    """The sheet for a plan; ``source`` None is a source that stands off the bed."""
    order = _order(plan)
    changes = _changes(plan, order, source)
    made = tuple(
        _instruction(plan, number, index, change)
        for number, (index, change) in enumerate(zip(order, changes, strict=True), start=1)
    )
    return Sheet(made, _confirmations(plan), tuple(warnings(plan)), _afterwards(plan))


def warnings(plan: Plan) -> list[Note]:
    """What has to be known with a plan."""
    out: list[Note] = []
    bed = plan.bed
    moved = [support for support, move in zip(plan.model.supports, plan.moves_um, strict=True) if move != 0.0]
    for support in moved:
        if bed.headstock_mm is not None and bed.headstock_mm[0] <= support.bed_mm <= bed.headstock_mm[1]:
            out.append(note("correct.under_headstock", support=support.name))
    for name in plan.hollow:
        out.append(note("correct.stays_hollow", support=name))
    for name in plan.hollow_now:
        out.append(note("correct.hollow_now", support=name))
    for name in plan.lifting:
        out.append(note("adjust.lifts_off", support=name))
    if not plan.reaches_goal:
        out.append(note("correct.goal_not_reached", value_um=plan.value_um, goal_um=plan.goal_um))
    if plan.uncorrectable_um > plan.goal_um:
        out.append(note("correct.not_by_supports", value_um=plan.uncorrectable_um, goal_um=plan.goal_um))
    if plan.unseen_below_mm > 0.0:
        out.append(note("correct.unseen", length_mm=plan.unseen_below_mm))
    out.extend(note("correct.check_joint", bed_mm=joint.bed_mm) for joint in bed.joints)
    return out


def _order(plan: Plan) -> list[int]:
    """Next the move that leaves most supports carrying; raising before lowering, then the larger."""
    left = [int(i) for i in np.flatnonzero(plan.moves_um)]
    setting, order = plan.belief.setting_um.copy(), []
    stiffness = plan.belief.stiffness
    while left:

        def rank(i: int, setting: FloatArray = setting) -> tuple[int, bool, float]:
            turned = setting.copy()
            turned[i] += plan.moves_um[i]
            carrying = int(plan.model.rest(stiffness, turned).carrying.sum())
            return (-carrying, bool(plan.moves_um[i] < 0.0), -abs(float(plan.moves_um[i])))

        best = min(left, key=rank)
        setting[best] += plan.moves_um[best]
        order.append(best)
        left.remove(best)
    return order


@dataclass(frozen=True, slots=True)
class Change:
    """What a move does to the readings (n,), how sure that is (n,), and which supports hang after it."""

    reading_um: FloatArray
    doubt_um: FloatArray
    hanging: tuple[str, ...]


def _changes(plan: Plan, order: list[int], source: Source | None) -> list[Change]:
    """For each move in turn, the change of the reading at every station, and which supports hang after it."""
    seen = plan.measured
    rows = line(
        plan.model,
        measured_line(seen.position_mm, seen.height_um, None, seen.row, seen.quantity, seen.noise_um),
        source,
    ).rows
    setting, stiffness = plan.belief.setting_um.copy(), plan.belief.stiffness
    root = _root(plan)
    before = answer(plan.model, stiffness, plan.model.rest(stiffness, setting))
    out: list[Change] = []
    for index in order:
        setting[index] += plan.moves_um[index]
        after = answer(plan.model, stiffness, plan.model.rest(stiffness, setting, None))
        hanging = tuple(name for name, touches in zip(plan.supports, after.rest.carrying, strict=True) if not touches)
        slopes = rows @ np.hstack([after.to_stiffness - before.to_stiffness, after.to_setting - before.to_setting])
        doubt = np.sqrt(((slopes @ root) ** 2).sum(axis=1))
        out.append(Change(rows @ (after.rest.shape - before.rest.shape), doubt, hanging))
        before = after
    return out


def _root(plan: Plan) -> FloatArray:
    """A root of the belief's covariance."""
    values, vectors = np.linalg.eigh(np.array(plan.belief.covariance))
    root: FloatArray = vectors * np.sqrt(np.maximum(values, 0.0))
    return root


def _instruction(plan: Plan, order: int, index: int, change: Change) -> Instruction:
    support, move = plan.model.supports[index], float(plan.moves_um[index])
    at = int(np.abs(plan.measured.position_mm - support.bed_mm).argmin())
    clear = _clearest(at, change.reading_um)
    station, expected = float(plan.measured.position_mm[at]), float(change.reading_um[at])
    turn = turn_for(support, move)
    steps = _steps(support, move, turn, station, expected)
    watched = (float(each[clear]) for each in (plan.measured.position_mm, change.reading_um, change.doubt_um))
    return Instruction(order, support.name, move, turn, station, expected, change.hanging, steps, *watched)


def _clearest(nearest: int, change: FloatArray) -> int:
    """Where a parked detector sees best whether a support answers: above it, or where the reading moves much more."""
    most = int(np.abs(change).argmax())
    return nearest if abs(change[nearest]) >= CLEAR_PART * abs(change[most]) else most


def _steps(support: Support, move: float, turn: Turn | None, station: float, expected: float) -> tuple[Note, ...]:
    name = support.name
    steps = [note("correct.step_slacken", support=name)] if support.anchored else []
    steps.append(_main_step(support, move, turn))
    if move < 0.0 and support.kind != "shim-pack":
        steps.append(note("correct.step_come_back", support=name, play_um=PLAY_UM))
    way = "rise" if expected > 0.0 else "fall"
    steps.append(note(f"correct.step_reading_{way}", station_mm=station, change_um=abs(expected)))
    if support.anchored:
        steps.append(note("correct.step_tighten", support=name))
    return tuple(steps)


def _main_step(support: Support, move: float, turn: Turn | None) -> Note:
    way = "raise" if move > 0.0 else "lower"
    if support.kind == "side-jack":
        way = "push" if move > 0.0 else "ease"
    facts: dict[str, object] = {"support": support.name, "move_um": abs(move)}
    if turn is None:
        return Note(f"correct.step_{way}", facts)
    facts |= {"degrees": turn.degrees, "turns": turn.words, "direction": turn.direction}
    amount = "turns" if turn.words else "degrees"
    return Note(f"correct.step_{way}_{amount}_{turn.direction}", facts)


def _confirmations(plan: Plan) -> tuple[Note, ...]:
    """Each is confirmed separately; none of them is about measuring."""
    kinds = {support.kind for support, move in zip(plan.model.supports, plan.moves_um, strict=True) if move}
    largest = float(np.abs(plan.moves_um).max(initial=0.0))
    out = [note("correct.confirm_axis_locked"), note("correct.confirm_vertical_supported")]
    if kinds & {"jack-screw", "shim-pack"}:
        out.append(note("correct.confirm_cribbed"))
    out.append(note("correct.confirm_makers_limit", move_um=largest))
    return tuple(out)


def _afterwards(plan: Plan) -> tuple[Note, ...]:
    low, high = plan.interval_um
    return (
        note("correct.then_every_support_carries"),
        note("correct.step_wait", minutes=WAIT_MIN),
        note("correct.then_measure", value_um=plan.value_um, low_um=low, high_um=high),
    )
