"""Typed: readings that somebody reads off a dial and types in, sealed and chained like all others."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.files.setup_file import LineEntry
from waywright.jobs.machines import keep_as_said
from waywright.jobs.take import DIRECTIONS
from waywright.machine import Machine
from waywright.quantities import Direction, code_along
from waywright.readings import ChannelValue, Reading, seal, standing
from waywright.visit import (
    ChannelMeaning,
    InstrumentUse,
    Interpretation,
    Line,
    Pass,
    PassSettings,
    Person,
    PositionZero,
    SetUp,
    Visit,
)

POSITION = "typed.position_mm"
CHANNELS = {
    "typed.height_um": Direction.UP,
    "typed.side_um": Direction.TOWARDS,
    "typed.roll_um_per_m": Direction.OPERATOR_SIDE_UP,
}
"""What can be typed for a horizontal axis, and in which physical direction it counts positive."""

_SAME_STATION_MM = 1.0


def begin_typed_line(
    archive: Archive,
    machine: Machine,
    entry: LineEntry,
    technician: str | None,
    clock: Clock,
    visit: Visit | None = None,
) -> Line:
    """A line, of a visit or of a new one, that has no instruments: its readings will be typed."""
    now = clock.utc()
    person = next((each for each in archive.people() if each.name == technician), None)
    if technician and person is None:
        person = Person(new_id(now), technician, "technician")
        archive.save(person)
    made = Visit(new_id(now), machine.id, None, now, person.id if person else None, invented=machine.invented)
    visit = visit or made
    line = Line(new_id(now), visit.id, **{name: getattr(entry, name) for name in entry.__slots__})
    keep_as_said(archive, machine, visit.technician_id)
    for record in (visit, line):
        archive.save(record, by=visit.technician_id)
    return line


def open_typed_pass(archive: Archive, line: Line) -> Pass | None:
    """The typed pass of a line that has not ended, if there is one."""
    passes = archive.passes(line.id)
    last = passes[-1] if passes else None
    return last if last is not None and last.outcome is None and last.position_channel == POSITION else None


def begin_typed_pass(
    archive: Archive,
    machine: Machine,
    line: Line,
    direction: str,
    channels: Sequence[str],
    clock: Clock,
    instruments: tuple[InstrumentUse, ...] = (),
    zero: PositionZero | None = None,
) -> Pass:
    """Begin a pass whose readings are typed: ``channels`` of :data:`CHANNELS`, every one in every reading.

    ``instruments`` are those that are read off, ``zero`` says where on the bed the places lie.

    Raises BadInput for an unknown direction or channel, for no channel, and for a vertical axis.
    """
    _check_channels(channels)
    if direction not in DIRECTIONS:
        raise BadInput("passes.bad_direction", direction=direction)
    if line.axis == machine.axes.vertical:
        raise BadInput("jobs.typed_vertical", axis=line.axis)
    now = clock.utc()
    wanted = tuple(name for name in CHANNELS if name in channels)
    setup = _setup(archive, machine, line, SetUp(new_id(), line.id, instruments=instruments, zero=zero), wanted)
    taken = Pass(
        new_id(now), line.id, setup.id, len(archive.passes(line.id)) + 1, direction, POSITION, wanted, now,
        PassSettings(None, 0.0, _SAME_STATION_MM),
    )  # fmt: skip
    archive.begin_pass(taken)
    return taken


def append_typed(
    archive: Archive, pass_id: UUID, position_mm: float, values: Mapping[str, float], clock: Clock
) -> Reading:
    """Keep one typed reading. The same position again supersedes the earlier one, which stays.

    ``values`` maps channels of :data:`CHANNELS` to um or um/m. Raises BadInput for a pass that is not typed or has
    ended, for values of other channels than those of the pass, or a value that is no number.
    """
    taken = archive.load(Pass, pass_id)
    if taken.position_channel != POSITION or taken.outcome is not None:
        raise BadInput("jobs.not_typed", number=taken.number)
    if set(values) != set(taken.channels):
        raise BadInput("jobs.typed_channels", channels=", ".join(values) or "-", allowed=", ".join(taken.channels))
    if not all(math.isfinite(value) for value in (position_mm, *values.values())):
        raise BadInput("jobs.typed_number")
    earlier = archive.readings(pass_id)
    same = next((r for r in standing(earlier) if abs(r.position_mm - position_mm) < _SAME_STATION_MM), None)
    now = clock.utc()
    reading = Reading(
        new_id(now), pass_id, len(earlier), position_mm, taken.direction,
        tuple(ChannelValue(channel, value, math.nan, 1) for channel, value in values.items()), now, now,
        taken_by="typed", supersedes=same.id if same else None,
    )  # fmt: skip
    sealed = seal(reading, earlier[-1] if earlier else None)
    archive.keep_reading(sealed)
    return sealed


def end_typed_pass(archive: Archive, pass_id: UUID, clock: Clock) -> Pass:
    """The typed pass is complete. Raises BadInput for a pass that is not typed or has ended."""
    taken = archive.load(Pass, pass_id)
    if taken.position_channel != POSITION or taken.outcome is not None:
        raise BadInput("jobs.not_typed", number=taken.number)
    ended = replace(taken, ended_utc=clock.utc(), outcome="finished")
    archive.end_pass(ended)
    return ended


def _check_channels(channels: Sequence[str]) -> None:
    if not channels or set(channels) - set(CHANNELS):
        raise BadInput("jobs.typed_channels", channels=", ".join(channels) or "-", allowed=", ".join(CHANNELS))


def _setup(archive: Archive, machine: Machine, line: Line, said: SetUp, channels: Sequence[str]) -> SetUp:
    """The set-up of earlier typed passes that says the same, or a new one with what the channels mean."""
    for setup in archive.setups(line.id):
        known = archive.interpretation(setup.id)
        same = known is not None and [meaning.channel for meaning in known.meanings] == list(channels)
        if same and said.instruments in ((), setup.instruments) and said.zero in (None, setup.zero):
            return setup
    setup = replace(said, method="read off and typed")
    ways = {channel: CHANNELS[channel] for channel in channels}
    meanings = tuple(
        ChannelMeaning(channel, code_along(way, line.axis, machine.axes).text, way) for channel, way in ways.items()
    )
    archive.save(setup)
    archive.save(Interpretation(new_id(), setup.id, meanings))
    return setup
