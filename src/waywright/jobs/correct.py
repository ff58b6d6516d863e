"""Correct: from a readings table and a machine file to what the fitter should do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from waywright.correct import (
    Belief,
    Learnt,
    Plan,
    Sheet,
    Source,
    TradeOff,
    instructions,
    plan_correction,
    update_belief,
)
from waywright.correct.notes import Note
from waywright.errors import BadInput
from waywright.files import read_table
from waywright.files.machine_file import read_machine
from waywright.jobs.bed_seen import Seen, on_bed, seen_in_line, seen_in_table, stated_source, stated_zero
from waywright.jobs.guard_gates import correcting_states
from waywright.jobs.measured import MeasuredLine
from waywright.machine import Machine
from waywright.readings import Floats
from waywright.visit import PositionZero, SourceStand


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionOrder:
    """What is wanted of a plan; see the options of ``waywright correct``."""

    goal_um: float
    noise_um: float = 1.0
    locked: tuple[str, ...] = ()
    unlocked: tuple[str, ...] = ()
    max_supports: int | None = None
    zero: PositionZero | None = None
    source: SourceStand | None = None
    detector_side: str = "tool"


@dataclass(frozen=True, slots=True, eq=False)
class Correction:
    """A plan, the fitter's sheet, and the choice between work and straightness; ``cautions`` go with the belief."""

    machine: Machine
    plan: Plan
    sheet: Sheet
    trade_off: tuple[TradeOff, ...]
    order: CorrectionOrder
    cautions: tuple[Note, ...] = field(default=())


def correction_of_table(machine_file: Path, table_file: Path, order: CorrectionOrder) -> Correction:
    """Plan from files. Positions are bed coordinates unless the table or the order ties them to a mark.

    Raises BadInput for a machine without a bed, a table without a height, or positions off the bed.
    """
    machine, table = read_machine(machine_file), read_table(table_file)
    zero, source = order.zero or stated_zero(table), order.source or stated_source(table)
    seen = seen_in_table(machine, table, zero, order.detector_side, table_file)
    return _planned(machine, seen, zero, source, order)


def correction_of_line(measured: MeasuredLine, order: CorrectionOrder, belief: Belief | None = None) -> Correction:
    """Plan from a measured line, mean of its passes; ``belief`` is what earlier rounds told of the bed.

    What speaks against correcting by passes taken in unlike states, or with the compensation on, stands first among
    the warnings.
    """
    setup = measured.passes[-1].setup
    zero = order.zero or setup.zero
    seen = seen_in_line(measured, zero)
    found = _planned(measured.machine, seen, zero, order.source or setup.source, order, belief)
    states = correcting_states(measured)
    objections = [Note(one.key, dict(one.facts)) for one in states.objections] if states is not None else []
    return replace(found, sheet=replace(found.sheet, warnings=(*objections, *found.sheet.warnings)))


def learnt_between(
    before: MeasuredLine, after: MeasuredLine, belief: Belief, moves_um: Mapping[str, float], noise_um: float = 1.0
) -> Learnt:
    """What a round told: the line measured before and again after ``moves_um`` per support; others were not turned.

    ``belief`` is the one the round was planned on. Raises BadInput where a line has no height.
    """
    bed = before.machine.bed
    if bed is None or not bed.supports:
        raise BadInput("jobs.no_supports", machine=before.machine.name)
    first, second = (seen_in_line(line, line.passes[-1].setup.zero) for line in (before, after))
    along = np.argsort(second.bed_mm)

    def there(value: Floats) -> Floats:
        return np.asarray(np.interp(first.bed_mm, second.bed_mm[along], value[along]))

    both = first.roll_um_per_m is not None and second.roll_um_per_m is not None
    return update_belief(
        belief,
        bed,
        first.bed_mm,
        first.height_um,
        there(second.height_um),
        [moves_um.get(name, 0.0) for name in belief.supports],
        noise_um=noise_um,
        quantity=_quantity(before.machine),
        roll_before_um_per_m=first.roll_um_per_m if both else None,
        roll_after_um_per_m=there(second.roll_um_per_m) if both and second.roll_um_per_m is not None else None,
    )


def _quantity(machine: Machine) -> str:
    return "carriage" if machine.bed and machine.bed.carriage else "guideway"


def _planned(
    machine: Machine,
    seen: Seen,
    zero: PositionZero | None,
    source: SourceStand | None,
    order: CorrectionOrder,
    belief: Belief | None = None,
) -> Correction:
    if machine.bed is None or not machine.bed.supports:
        raise BadInput("jobs.no_supports", machine=machine.name)
    plan = plan_correction(
        machine.bed,
        seen.bed_mm,
        seen.height_um,
        quantity=_quantity(machine),
        noise_um=order.noise_um,
        goal_um=order.goal_um,
        roll_um_per_m=seen.roll_um_per_m,
        locked=order.locked,
        unlocked=order.unlocked,
        max_supports=order.max_supports,
        belief=belief,
    )
    stand = Source(source.bed_mm) if source and source.on == "bed" and source.bed_mm is not None else None
    sheet = _in_positions(instructions(plan, stand), machine, zero)
    return Correction(machine, plan, sheet, plan.trade_off, order)


def _in_positions(sheet: Sheet, machine: Machine, zero: PositionZero | None) -> Sheet:
    """Stations as the technician reads them, not as bed coordinates."""
    if zero is None:
        return sheet
    [start_mm] = on_bed(machine, zero, np.zeros(1))

    def said(note: Note) -> Note:
        if "station_mm" not in note.facts:
            return note
        station_mm = zero.sense * (float(str(note.facts["station_mm"])) - start_mm)
        return replace(note, facts=note.facts | {"station_mm": station_mm})

    turned = tuple(
        replace(each, station_mm=zero.sense * (each.station_mm - start_mm), steps=tuple(map(said, each.steps)))
        for each in sheet.instructions
    )
    return replace(sheet, instructions=turned)


@dataclass(frozen=True, slots=True)
class CorrectionSummary:
    """A correction for programs: plain figures, and the sheet in keys and facts."""

    machine: str
    value_now_um: float
    goal_um: float
    value_um: float
    interval_um: tuple[float, float]
    uncorrectable_um: float
    moves_um: dict[str, float]
    locked: tuple[str, ...]
    sheet: Sheet
    trade_off: tuple[TradeOff, ...]


def summary(found: Correction) -> CorrectionSummary:
    """The figures of a correction; supports that stay as they are have no move."""
    plan = found.plan
    return CorrectionSummary(
        machine=found.machine.name,
        value_now_um=plan.value_now_um,
        goal_um=plan.goal_um,
        value_um=plan.value_um,
        interval_um=plan.interval_um,
        uncorrectable_um=plan.uncorrectable_um,
        moves_um={name: float(plan.moves_um[plan.supports.index(name)]) for name in touched(plan)},
        locked=plan.locked,
        sheet=found.sheet,
        trade_off=found.trade_off,
    )


def names(text: str | None) -> tuple[str, ...]:
    """Names in a list such as "3, 10"."""
    return tuple(part.strip() for part in (text or "").split(",") if part.strip())


def touched(plan: Plan) -> Sequence[str]:
    """The supports that a plan moves."""
    return [name for name, move in zip(plan.supports, plan.moves_um, strict=True) if move]
