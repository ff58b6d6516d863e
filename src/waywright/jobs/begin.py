"""Begin: the records that a pass rests on, kept in the archive before the first reading.

What is not known is "not recorded"; nothing but the instruments is needed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.files.machine_file import read_machine
from waywright.files.setup_file import LineEntry, SetUpEntry, SetUpFile, read_setup_file
from waywright.instruments import Instrument, read_instrument
from waywright.jobs.instruments_kept import use_kept
from waywright.jobs.machines import keep_as_said
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.visits import find_visit
from waywright.machine import Machine
from waywright.quantities import Axes, Kind, code_along
from waywright.visit import ChannelMeaning, Conditions, Interpretation, Line, Person, PositionZero, SetUp, Visit

QUICK_LOOK = "quick look"
"""Name of a line that nobody named."""


@dataclass(frozen=True, slots=True)
class Begun:
    """A line that is ready for passes."""

    machine: Machine
    visit: Visit
    line: Line
    setup: SetUp
    interpretation: Interpretation
    conditions: Conditions
    instruments: tuple[Instrument, ...]
    position_channel: str

    @property
    def channels(self) -> tuple[str, ...]:
        """Every channel but the position, in the order of the descriptions."""
        every = (channel for instrument in self.instruments for channel in instrument.channels)
        return tuple(channel for channel in every if channel != self.position_channel)


def begin(archive: Archive, order: CaptureOrder, clock: Clock) -> Begun:
    """Read the files of an order, and keep machine, person, visit, line, set-up and interpretation.

    Raises BadInput for a file that cannot be used, and unless exactly one channel is a position.
    """
    instruments = tuple(read_instrument(path) for path in order.instruments)
    visit = None if order.visit is None else find_visit(archive, order.visit)
    machine = _machine(archive, order) if visit is None else archive.load(Machine, visit.machine_id)
    facts = _facts(order)
    return keep(archive, machine, facts, instruments, order.technician, clock, visit)


def keep(
    archive: Archive,
    machine: Machine,
    facts: SetUpFile,
    instruments: tuple[Instrument, ...],
    technician: str | None,
    clock: Clock,
    visit: Visit | None = None,
) -> Begun:
    """Keep the records of a new line at a machine, of a visit that was begun before or of a new one.

    Raises ArchiveError, and keeps nothing, while another program captures into the archive.
    """
    position_channel = _position_channel(instruments)
    check_mark(machine, facts.set_up.zero)
    with archive.claimed():
        return _kept(archive, machine, facts, instruments, technician, clock.utc(), visit, position_channel)


def _kept(
    archive: Archive,
    machine: Machine,
    facts: SetUpFile,
    instruments: tuple[Instrument, ...],
    technician: str | None,
    now: datetime,
    visit: Visit | None,
    position_channel: str,
) -> Begun:
    person = None if technician is None else _person(archive, technician)
    by = person.id if person else None
    visit = visit or Visit(new_id(now), machine.id, None, now, by, invented=machine.invented)
    line = Line(new_id(now), visit.id, **_fields(facts.line))
    uses = tuple(use_kept(archive, item, by or visit.technician_id) for item in instruments)
    setup = SetUp(new_id(now), line.id, instruments=uses, **_fields(facts.set_up))
    interpretation = Interpretation(new_id(now), setup.id, _meanings(instruments, line.axis, machine.axes))
    machine = keep_as_said(archive, machine, by or visit.technician_id)
    for record in (visit, line, setup, interpretation):
        archive.save(record, by=by or visit.technician_id)
    return Begun(machine, visit, line, setup, interpretation, facts.conditions, instruments, position_channel)


def resume(archive: Archive, line: Line, instruments: tuple[Path, ...]) -> Begun:
    """The records of a line that was begun before, to go on with it."""
    return resume_with(archive, line, tuple(read_instrument(path) for path in instruments))


def resume_with(archive: Archive, line: Line, described: tuple[Instrument, ...]) -> Begun:
    """The same with instruments whose descriptions have been read."""
    visit = archive.load(Visit, line.visit_id)
    setup = archive.setups(line.id)[-1]
    found = archive.interpretation(setup.id)
    machine = archive.load(Machine, visit.machine_id)
    interpretation = found or Interpretation(new_id(), setup.id, _meanings(described, line.axis, machine.axes))
    return Begun(machine, visit, line, setup, interpretation, Conditions(), described, _position_channel(described))


def _machine(archive: Archive, order: CaptureOrder) -> Machine:
    """From a file; what is no file may be the name of a machine that the archive knows."""
    if order.machine is not None:
        known = [machine for machine in archive.machines() if machine.name == str(order.machine)]
        return known[0] if known and not order.machine.exists() else read_machine(order.machine)
    name = f"machine with {order.up} up, {order.operator} towards the operator"
    return Machine(uuid5(NAMESPACE_URL, f"machine:{name}"), name, "not recorded", Axes(order.up, order.operator))


def _facts(order: CaptureOrder) -> SetUpFile:
    if order.set_up is not None:
        return read_setup_file(order.set_up)
    if order.axis not in ("X", "Y", "Z"):
        raise BadInput("jobs.bad_axis", axis=order.axis)
    line = LineEntry(name=order.line or QUICK_LOOK, axis="X", from_mm=order.from_mm, to_mm=order.to_mm)
    return SetUpFile(line=replace(line, axis=order.axis), set_up=SetUpEntry())  # type: ignore[arg-type]


def check_mark(machine: Machine, zero: PositionZero | None) -> None:
    """Raise BadInput where position zero is tied to a mark that the machine does not have."""
    if zero is not None and zero.mark not in [mark.name for mark in machine.marks]:
        known = ", ".join(mark.name for mark in machine.marks)
        raise BadInput("jobs.unknown_mark", mark=zero.mark, machine=machine.name, known=known or "-")


def _fields(record: LineEntry | SetUpEntry) -> dict[str, Any]:
    return {name: getattr(record, name) for name in record.__slots__}


def _person(archive: Archive, name: str) -> Person:
    known = next((person for person in archive.people() if person.name == name), None)
    person = known or Person(new_id(), name, "technician")
    archive.save(person)
    return person


def _position_channel(instruments: tuple[Instrument, ...]) -> str:
    suffix = f"_{Kind.POSITION.value}"
    found = [channel for item in instruments for channel in item.channels if channel.endswith(suffix)]
    if len(found) != 1:
        raise BadInput("jobs.position_channels", found=len(found), channels=", ".join(found) or "-")
    return found[0]


def _meanings(instruments: tuple[Instrument, ...], axis: str, axes: Axes) -> tuple[ChannelMeaning, ...]:
    """Channels mean what their nominal mounting says, until an interpretation says otherwise."""
    return tuple(
        ChannelMeaning(name, code_along(channel.positive, axis, axes).text, channel.positive)
        for item in instruments
        for name, channel in zip(item.channels, item.description.channel, strict=True)
        if channel.positive is not None
    )
