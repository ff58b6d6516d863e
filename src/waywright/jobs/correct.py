"""Correct: from a readings table and a machine file to what the fitter should do."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
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
from waywright.evaluate.passes import JoinedPasses
from waywright.files import ReadingsTable, read_table
from waywright.files.machine_file import read_machine
from waywright.jobs.judge import joined_table
from waywright.jobs.measured import MeasuredLine, joined, positive_on_screen
from waywright.machine import Machine
from waywright.quantities import Code, Direction, code, iso_sign
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
    """A plan, the fitter's sheet, and the choice between work and straightness."""

    machine: Machine
    plan: Plan
    sheet: Sheet
    trade_off: tuple[TradeOff, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What the plan rests on: bed coordinates (n,), height up positive, roll with the operator's side up or None."""

    bed_mm: Floats
    height_um: Floats
    roll_um_per_m: Floats | None


def correction_of_table(machine_file: Path, table_file: Path, order: CorrectionOrder) -> Correction:
    """Plan from files. Positions are bed coordinates unless the table or the order ties them to a mark.

    Raises BadInput for a machine without a bed, a table without a height, or positions off the bed.
    """
    machine, table = read_machine(machine_file), read_table(table_file)
    zero, source = order.zero or _stated_zero(table), order.source or _stated_source(table)
    seen = _seen_in_table(machine, table, zero, order.detector_side, table_file)
    return _planned(machine, seen, zero, source, order)


def correction_of_line(measured: MeasuredLine, order: CorrectionOrder, belief: Belief | None = None) -> Correction:
    """Plan from a measured line, mean of its passes; ``belief`` is what earlier rounds told of the bed."""
    setup = measured.passes[-1].setup
    zero = order.zero or setup.zero
    seen = _seen_in_line(measured, zero)
    return _planned(measured.machine, seen, zero, order.source or setup.source, order, belief)


def learnt_from(correction: Correction, after: MeasuredLine, moves_um: Mapping[str, float] | None = None) -> Learnt:
    """What a round told: the line measured again after the moves that a correction asked for.

    ``moves_um`` per support is what was asked instead, where the fitter did otherwise than the sheet says. Raises
    BadInput where the line has no height.
    """
    plan = correction.plan
    before = plan.measured
    setup = after.passes[-1].setup
    seen = _seen_in_line(after, setup.zero)
    along = np.argsort(seen.bed_mm)

    def there(value: Floats) -> Floats:
        return np.asarray(np.interp(before.position_mm, seen.bed_mm[along], value[along]))

    both = before.roll_um_per_m is not None and seen.roll_um_per_m is not None
    return update_belief(
        plan.belief,
        plan.bed,
        before.position_mm,
        before.height_um,
        there(seen.height_um),
        plan.moves_um if moves_um is None else [moves_um.get(name, 0.0) for name in plan.supports],
        noise_um=before.noise_um,
        turning_error=plan.turning,
        quantity=before.quantity,
        roll_before_um_per_m=before.roll_um_per_m if both else None,
        roll_after_um_per_m=there(seen.roll_um_per_m) if both and seen.roll_um_per_m is not None else None,
    )


def _seen_in_line(measured: MeasuredLine, zero: PositionZero | None) -> Seen:
    codes = {positive_on_screen(measured, name): name for name in measured.codes()}
    if Direction.UP not in codes:
        raise BadInput("jobs.no_height", file=measured.line.name, columns=", ".join(measured.codes()) or "-")
    height = joined(measured, codes[Direction.UP])
    roll = codes.get(Direction.OPERATOR_SIDE_UP)
    return Seen(
        _on_bed(measured.machine, zero, height.position_mm),
        height.mean,
        joined(measured, roll).mean if roll else None,
    )


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
        quantity="carriage" if machine.bed.carriage else "guideway",
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
    return Correction(machine, plan, sheet, plan.trade_off)


def _in_positions(sheet: Sheet, machine: Machine, zero: PositionZero | None) -> Sheet:
    """Stations as the technician reads them, not as bed coordinates."""
    if zero is None:
        return sheet
    [start_mm] = _on_bed(machine, zero, np.zeros(1))

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


def _seen_in_table(machine: Machine, table: ReadingsTable, zero: PositionZero | None, side: str, file: Path) -> Seen:
    height = _column(machine, table, Direction.UP)
    if height is None:
        raise BadInput("jobs.no_height", file=str(file), columns=", ".join(table.columns) or "-")
    joined_height = _physical(table, height, Direction.UP, machine, side)
    roll = _column(machine, table, Direction.OPERATOR_SIDE_UP)
    values = None if roll is None else _physical(table, roll, Direction.OPERATOR_SIDE_UP, machine, side).mean
    return Seen(_on_bed(machine, zero, joined_height.position_mm), joined_height.mean, values)


def _column(machine: Machine, table: ReadingsTable, direction: Direction) -> Code | None:
    """The quantity of the table that lies along a physical direction: height, or the roll of a horizontal axis."""
    for name in table.columns:
        quantity = code(name)
        wanted = quantity.is_straightness or (quantity.is_rotation and quantity.direction == quantity.axis)
        if wanted and _lies_along(quantity, direction, machine):
            return quantity
    return None


def _lies_along(quantity: Code, direction: Direction, machine: Machine) -> bool:
    try:
        iso_sign(quantity, direction, machine.axes)
    except BadInput:
        return False
    return True


def _physical(table: ReadingsTable, quantity: Code, direction: Direction, machine: Machine, side: str) -> JoinedPasses:
    sign = iso_sign(quantity, direction, machine.axes, side)
    turned = ReadingsTable(
        table.position_mm, {quantity.text: sign * table.columns[quantity.text]}, table.pass_number, table.direction
    )
    return joined_table(turned.passes(), quantity.text)


def _on_bed(machine: Machine, zero: PositionZero | None, position_mm: Floats) -> Floats:
    if zero is None:
        return position_mm
    mark = next((item for item in machine.marks if item.name == zero.mark), None)
    if mark is None:
        known = ", ".join(item.name for item in machine.marks)
        raise BadInput("jobs.unknown_mark", mark=zero.mark, machine=machine.name, known=known or "-")
    return mark.bed_mm + zero.offset_mm + zero.sense * position_mm


def _stated_zero(table: ReadingsTable) -> PositionZero | None:
    """Position zero as a report's table states it."""
    notes = table.metadata
    if "zero mark" not in notes:
        return None
    sense = -1 if notes.get("positions grow") == "left" else 1
    return PositionZero(notes["zero mark"], float(notes.get("zero offset mm", "0")), sense)


def _stated_source(table: ReadingsTable) -> SourceStand | None:
    place = table.metadata.get("source on bed mm")
    return None if place is None else SourceStand("bed", float(place))


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
