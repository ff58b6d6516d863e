"""What a plan rests on: heights and roll of a measured line or a table, in bed coordinates, up positive."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.passes import JoinedPasses
from waywright.files import ReadingsTable
from waywright.jobs.judge import joined_table
from waywright.jobs.measured import MeasuredLine, joined, positive_on_screen
from waywright.machine import Machine
from waywright.quantities import Code, Direction, code, iso_sign
from waywright.readings import Floats
from waywright.visit import PositionZero, SourceStand


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """What the plan rests on: bed coordinates (n,), height up positive, roll with the operator's side up or None."""

    bed_mm: Floats
    height_um: Floats
    roll_um_per_m: Floats | None


def seen_in_line(measured: MeasuredLine, zero: PositionZero | None, side: bool = False) -> Seen:
    """Height and roll of a measured line, mean of its passes; with ``side`` the side, towards the operator positive.

    Raises BadInput where it has none.
    """
    codes = {positive_on_screen(measured, name): name for name in measured.codes()}
    way = Direction.TOWARDS if side else Direction.UP
    if way not in codes:
        key = "adjust.no_side" if side else "jobs.no_height"
        raise BadInput(key, file=measured.line.name, columns=", ".join(measured.codes()) or "-")
    height = joined(measured, codes[way])
    roll = codes.get(Direction.OPERATOR_SIDE_UP)
    return Seen(
        on_bed(measured.machine, zero, height.position_mm),
        height.mean,
        joined(measured, roll).mean if roll else None,
    )


def shared_part(measured: MeasuredLine) -> float:
    """How much of the stretch that any pass has measured all passes share, 0 to 1; segments are joined, not shared."""
    if len({single.setup.segment for single in measured.passes}) > 1:
        return 1.0
    ends = [(float(one.profile.position_mm.min()), float(one.profile.position_mm.max())) for one in measured.passes]
    whole = max(high for _, high in ends) - min(low for low, _ in ends)
    shared = min(high for _, high in ends) - max(low for low, _ in ends)
    return max(shared, 0.0) / whole if whole > 0.0 else 1.0


def seen_in_table(
    machine: Machine, table: ReadingsTable, zero: PositionZero | None, side: str, file: Path, sideways: bool = False
) -> Seen:
    """Height and roll of a table, mean of its passes. Raises BadInput where it has no height."""
    way = Direction.TOWARDS if sideways else Direction.UP
    height = _column(machine, table, way)
    if height is None:
        raise BadInput(
            "adjust.no_side" if sideways else "jobs.no_height", file=str(file), columns=", ".join(table.columns) or "-"
        )
    joined_height = _physical(table, height, way, machine, side)
    roll = _column(machine, table, Direction.OPERATOR_SIDE_UP)
    values = None if roll is None else _physical(table, roll, Direction.OPERATOR_SIDE_UP, machine, side).mean
    return Seen(on_bed(machine, zero, joined_height.position_mm), joined_height.mean, values)


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


def on_bed(machine: Machine, zero: PositionZero | None, position_mm: Floats) -> Floats:
    """Positions as read, in bed coordinates. Raises BadInput for a mark that the machine does not have."""
    if zero is None:
        return position_mm
    mark = next((item for item in machine.marks if item.name == zero.mark), None)
    if mark is None:
        known = ", ".join(item.name for item in machine.marks)
        raise BadInput("jobs.unknown_mark", mark=zero.mark, machine=machine.name, known=known or "-")
    return mark.bed_mm + zero.offset_mm + zero.sense * position_mm


def stated_zero(table: ReadingsTable) -> PositionZero | None:
    """Position zero as a report's table states it."""
    notes = table.metadata
    if "zero mark" not in notes:
        return None
    sense = -1 if notes.get("positions grow") == "left" else 1
    return PositionZero(notes["zero mark"], float(notes.get("zero offset mm", "0")), sense)


def stated_source(table: ReadingsTable) -> SourceStand | None:
    """Where the source stood, as a report's table states it."""
    place = table.metadata.get("source on bed mm")
    return None if place is None else SourceStand("bed", float(place))


def levelling_value_um(measured: MeasuredLine) -> float:
    """The value that levelling goes by: that of the height about its best line, and of roll over the gauge; the worse.

    Raises BadInput where the line has no height.
    """
    seen, bed = seen_in_line(measured, measured.passes[-1].setup.zero), measured.machine.bed
    height_um = float(straightness(seen.bed_mm, seen.height_um, "minimum-zone").value_um)
    if seen.roll_um_per_m is None or bed is None:
        return height_um
    gauge_m = (bed.gauge_mm or bed.row_distance_mm or 1000.0) / 1000.0
    return max(height_um, gauge_m * float(np.ptp(seen.roll_um_per_m)))
