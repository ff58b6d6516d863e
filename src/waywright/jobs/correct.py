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
    one_rail,
    plan_correction,
    second_rail_heights,
    update_belief,
)
from waywright.correct.notes import Note
from waywright.correct.target import crown, crown_for_mass
from waywright.errors import BadInput
from waywright.files import read_table
from waywright.files.machine_file import read_machine
from waywright.jobs.bed_seen import Seen, on_bed, seen_in_line, seen_in_table, shared_part, stated_source, stated_zero
from waywright.jobs.guard_gates import correcting_states
from waywright.jobs.measured import MeasuredLine
from waywright.machine import Bed, Machine
from waywright.readings import Floats
from waywright.visit import PositionZero, SourceStand

RAILS = {"master": "front", "other": "rear"}
"""Of two separate rails the front one is the master; the other follows by cross level and gauge."""


LEAST_SHARED = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrectionOrder:
    """What is wanted of a plan; see the options of ``waywright correct``.

    ``for_mass`` crowns a guideway measured without the carriage so that the moving mass runs straight on it.
    ``quantity`` is "guideway" or "carriage"; None is the carriage where the machine has one.
    """

    goal_um: float
    noise_um: float = 1.0
    locked: tuple[str, ...] = ()
    unlocked: tuple[str, ...] = ()
    max_supports: int | None = None
    crown_um: float = 0.0
    for_mass: bool = False
    settling_um: float = 0.0
    side: bool = False
    rail: str | None = None
    quantity: str | None = None
    zero: PositionZero | None = None
    source: SourceStand | None = None
    detector_side: str = "tool"


@dataclass(frozen=True, slots=True, eq=False)
class Correction:
    """A plan, the fitter's sheet, and the choice between work and straightness; ``cautions`` go with the belief."""

    machine: Machine
    plan: Plan
    sheet: Sheet
    order: CorrectionOrder
    cautions: tuple[Note, ...] = field(default=())

    @property
    def trade_off(self) -> tuple[TradeOff, ...]:
        """Value against number of supports touched; computed when first asked."""
        return self.plan.trade_off


def correction_of_table(machine_file: Path, table_file: Path, order: CorrectionOrder) -> Correction:
    """Plan from files. Positions are bed coordinates unless the table or the order ties them to a mark.

    Raises BadInput for a machine without a bed, a table without a height, or positions off the bed.
    """
    machine, table = read_machine(machine_file), read_table(table_file)
    zero, source = order.zero or stated_zero(table), order.source or stated_source(table)
    seen = seen_in_table(machine, table, zero, order.detector_side, table_file, order.side)
    seen = _of_rail(machine, seen, order)
    return _planned(machine, seen, zero, source, order)


def correction_of_line(measured: MeasuredLine, order: CorrectionOrder, belief: Belief | None = None) -> Correction:
    """Plan from a measured line, mean of its passes; ``belief`` is what earlier rounds told of the bed.

    What speaks against correcting by passes taken in unlike states, or with the compensation on, stands first among
    the warnings.
    """
    setup = measured.passes[-1].setup
    zero = order.zero or setup.zero
    seen = _of_rail(measured.machine, seen_in_line(measured, zero, order.side), order)
    found = _planned(measured.machine, seen, zero, order.source or setup.source, order, belief)
    states = correcting_states(measured)
    objections = [Note(one.key, dict(one.facts)) for one in states.objections] if states is not None else []
    short = _short_passes(measured, seen)
    return replace(found, sheet=replace(found.sheet, warnings=(*objections, *short, *found.sheet.warnings)))


def _short_passes(measured: MeasuredLine, seen: Seen) -> tuple[Note, ...]:
    """A plan rests on what all passes share; a pass that was cut short leaves little of it."""
    shared = shared_part(measured)
    if shared >= LEAST_SHARED:
        return ()
    length_mm = float(np.ptp(seen.bed_mm))
    return (Note("adjust.passes_share_little", {"shared": shared, "length_mm": length_mm}),)


def _of_rail(machine: Machine, seen: Seen, order: CorrectionOrder) -> Seen:
    """Heights of the rail that is planned: the master's as measured, the other's from it by the cross level."""
    bed = machine.bed
    if order.rail != "other" or bed is None:
        return seen
    gauge_mm = bed.gauge_mm or bed.row_distance_mm
    if seen.roll_um_per_m is None or gauge_mm is None:
        raise BadInput("adjust.other_rail_needs_level", machine=machine.name)
    return replace(seen, height_um=second_rail_heights(seen.height_um, seen.roll_um_per_m, gauge_mm, RAILS["master"]))


def learnt_between(
    before: MeasuredLine,
    after: MeasuredLine,
    belief: Belief,
    moves_um: Mapping[str, float],
    noise_um: float = 1.0,
    hanging: Sequence[str] = (),
) -> Learnt:
    """What a round told: the line measured before and again after ``moves_um`` per support; others were not turned.

    ``belief`` is the one the round was planned on; ``hanging`` supports were seen not to carry. Raises BadInput where
    a line has no height.
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
        hanging=hanging,
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
    bed = _bed_of(machine.bed, order)
    quantity = order.quantity or _quantity(machine)
    plan = plan_correction(
        bed,
        seen.bed_mm,
        seen.height_um,
        quantity="guideway" if order.rail or order.for_mass else quantity,
        noise_um=order.noise_um,
        goal_um=_goal_um(order),
        roll_um_per_m=None if order.side or order.rail else seen.roll_um_per_m,
        locked=order.locked,
        unlocked=order.unlocked,
        max_supports=order.max_supports,
        target_um=_target(bed, seen, order),
        belief=belief,
        sideways=order.side,
    )
    stand = Source(source.bed_mm) if source and source.on == "bed" and source.bed_mm is not None else None
    sheet = _in_positions(instructions(plan, stand), machine, zero)
    return Correction(machine, plan, sheet, order)


def _bed_of(bed: Bed, order: CorrectionOrder) -> Bed:
    """The whole bed, or one of two separate rails. Raises BadInput for a rail of a bed that has none."""
    if order.rail is None:
        return bed
    if order.rail not in RAILS or bed.rails != len(RAILS):
        raise BadInput("adjust.no_such_rail", rail=order.rail, allowed=", ".join(RAILS), rails=bed.rails)
    return one_rail(bed, RAILS[order.rail])


def _goal_um(order: CorrectionOrder) -> float:
    """The goal less what is kept for settling. Raises BadInput where nothing is left of it."""
    if not 0.0 <= order.settling_um < order.goal_um:
        raise BadInput("adjust.settling_too_large", settling_um=order.settling_um, goal_um=order.goal_um)
    return order.goal_um - order.settling_um


def _target(bed: Bed, seen: Seen, order: CorrectionOrder) -> Floats | None:
    """The crown that is wanted, or None for flat."""
    if order.for_mass:
        return crown_for_mass(bed, seen.bed_mm) + crown(seen.bed_mm, order.crown_um)
    return None if order.crown_um == 0.0 else crown(seen.bed_mm, order.crown_um)


def _in_positions(sheet: Sheet, machine: Machine, zero: PositionZero | None) -> Sheet:
    """Stations as the technician reads them, not as bed coordinates."""
    if zero is None:
        return sheet
    [start_mm] = on_bed(machine, zero, np.zeros(1))

    def said(note: Note) -> Note:
        if "station_mm" not in note.facts:
            return note
        station_mm = float(zero.sense * (float(str(note.facts["station_mm"])) - start_mm))
        return replace(note, facts=note.facts | {"station_mm": station_mm})

    turned = tuple(
        replace(
            each,
            station_mm=float(zero.sense * (each.station_mm - start_mm)),
            clear_mm=float(zero.sense * (each.clear_mm - start_mm)),
            steps=tuple(map(said, each.steps)),
        )
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
