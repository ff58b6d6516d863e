"""Sheets in the archive: begun from a file or an example, found again, their values in sealed readings.

A value is a reading of a pass of its own whose parent is the sheet; the channel names row, place and state. Nothing is
ever changed: a value typed again is a further reading, a value taken back an exclusion.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.evaluate.sheet_rows import entries_of, kind_of_row, places_of
from waywright.files.machine_file import read_machine
from waywright.files.sheet_file import SheetFile
from waywright.jobs.instruments_said import uses_said
from waywright.jobs.new_machine import plain_machine
from waywright.machine import Machine
from waywright.quantities import Axes, Kind
from waywright.readings import Reading
from waywright.visit import Pass, PassSettings, Person, Visit
from waywright.visit.sheet import MeasuringSheet, SheetRow
from waywright.wording import text

POSITION = "entry.position_mm"
_UNRECORDED_AXES = Axes(up="+Y", operator="+Z")


@dataclass(frozen=True, slots=True)
class Entry:
    """One value of a sheet: where it belongs and where it lies. ``index`` counts all entries of the sheet from 0."""

    index: int
    row: SheetRow
    place: str
    state: str
    at_mm: float
    channel: str


@dataclass(frozen=True, slots=True)
class SheetOrder:
    """What is begun: ``machine`` is a machine file, a name, or nothing; ``technician`` a name.

    With a ``visit`` the machine is the visit's. ``instruments`` are serial numbers or just names, and where ``files``
    are to be read, description files.
    """

    machine: str | None = None
    technician: str | None = None
    purpose: str | None = None
    invented: bool = False
    visit: Visit | None = None
    instruments: tuple[str, ...] = ()
    files: bool = False


def begin_sheet(archive: Archive, sheet: SheetFile, order: SheetOrder, clock: Clock) -> MeasuringSheet:
    """Keep a sheet, with a visit of its own where none is named. A name of a machine, or none, will do."""
    visit = order.visit or _visit(archive, sheet, order, clock)
    uses = uses_said(archive, order.instruments, visit.technician_id, files=order.files)
    kept = MeasuringSheet(new_id(clock.utc()), visit.id, sheet.title, sheet.row, sheet.note, sheet.example,
                          sheet.burden, uses)  # fmt: skip
    archive.save(kept, by=visit.technician_id)
    return kept


def _visit(archive: Archive, sheet: SheetFile, order: SheetOrder, clock: Clock) -> Visit:
    now = clock.utc()
    machine = _machine(archive, order.machine or sheet.machine, order.invented)
    person = _person(archive, order.technician, clock)
    visit = Visit(new_id(now), machine.id, order.purpose or sheet.title, now, person.id if person else None,
                  invented=order.invented or machine.invented)  # fmt: skip
    for record in (machine, visit):
        archive.save(record, by=visit.technician_id)
    return visit


def sheets_kept(archive: Archive) -> tuple[MeasuringSheet, ...]:
    """All sheets, oldest first."""
    return tuple(sorted(archive.every(MeasuringSheet), key=lambda sheet: sheet.id))


def find_sheet(archive: Archive, wanted: str | None) -> MeasuringSheet:
    """A sheet by its id, the end of it or its title; the newest without one. Raises BadInput for none or several."""
    kept = sheets_kept(archive)
    if not kept:
        raise BadInput("sheet.none_kept", archive=str(archive.path))
    if wanted is None:
        return kept[-1]
    found = [sheet for sheet in kept if str(sheet.id).endswith(wanted.lower())]
    found = found or [sheet for sheet in kept if sheet.title == wanted][-1:]
    if len(found) != 1:
        raise BadInput("sheet.which", wanted=wanted, found=len(found))
    return found[0]


def change_rows(archive: Archive, sheet: MeasuringSheet, rows: tuple[SheetRow, ...], reason: str) -> MeasuringSheet:
    """The sheet with other rows, as a new revision; values stay with the places that still exist."""
    changed = replace(sheet, rows=rows)
    archive.save(changed, reason=reason)
    return changed


def entries(sheet: MeasuringSheet) -> tuple[Entry, ...]:
    """Every value that the sheet asks for, in order."""
    found: list[Entry] = []
    for row in sheet.rows:
        names = places_of(row) if entries_of(row) else ()
        at = dict(zip(names, row.at_mm or (0.0,) * len(names), strict=True))
        for place, state in entries_of(row):
            found.append(Entry(len(found), row, place, state, at[place], channel_of(row, place, state)))
    return tuple(found)


def channel_of(row: SheetRow, place: str, state: str) -> str:
    """The channel of a value: row, place, state, and the unit as its end."""
    suffix = "um_per_m" if kind_of_row(row).reads is Kind.ANGLE else "um"
    return f"{row.number}.{place}{' ' + state if state else ''}_{suffix}"


def values_of(archive: Archive, sheet: MeasuringSheet) -> dict[str, Reading]:
    """The reading that holds for each channel: the newest that was not taken back."""
    held: dict[str, Reading] = {}
    for taken in archive.passes(sheet.id):
        back = {item.reading_id for item in archive.exclusions(taken.id)}
        for reading in archive.readings(taken.id):
            if reading.id not in back:
                held[reading.values[0].channel] = reading
    return held


def filled_places(archive: Archive, sheet: MeasuringSheet) -> tuple[int, int]:
    """How many places of a sheet have their value, and how many there are."""
    wanted = {entry.channel for entry in entries(sheet)}
    return len(wanted & set(values_of(archive, sheet))), len(wanted)


def open_pass(archive: Archive, sheet: MeasuringSheet, clock: Clock) -> Pass:
    """The pass that values go into: the one not ended, otherwise a new one."""
    passes = archive.passes(sheet.id)
    if passes and passes[-1].outcome is None:
        return passes[-1]
    channels = tuple(entry.channel for entry in entries(sheet))
    now = clock.utc()
    taken = Pass(new_id(now), sheet.id, sheet.id, len(passes) + 1, "forward", POSITION, channels, now,
                 PassSettings(None, 0.0, 0.0))  # fmt: skip
    archive.begin_pass(taken)
    return taken


def machine_of(archive: Archive, sheet: MeasuringSheet) -> tuple[Machine, Visit]:
    """Machine and visit of a sheet."""
    visit = archive.load(Visit, sheet.visit_id)
    return archive.load(Machine, visit.machine_id), visit


def technician_of(archive: Archive, visit: Visit) -> str | None:
    """Who reads, by name."""
    return None if visit.technician_id is None else archive.load(Person, visit.technician_id).name


def _machine(archive: Archive, named: str | None, invented: bool) -> Machine:
    if named and named.endswith(".toml"):
        return read_machine(Path(named))
    name = named or text("sheet.machine_not_named")
    known = next((machine for machine in archive.machines() if machine.name == name), None)
    made = known or plain_machine(name, "", _UNRECORDED_AXES)
    return Machine(made.id, made.name, made.kind, made.axes, invented=True) if invented and known is None else made


def _person(archive: Archive, name: str | None, clock: Clock) -> Person | None:
    if not name:
        return None
    known = next((each for each in archive.people() if each.name == name), None)
    person = known or Person(new_id(clock.utc()), name, "technician")
    archive.save(person)
    return person
