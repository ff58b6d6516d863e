"""Complete: what is not recorded yet about a line, and adding it later as dated entries. Nothing is overwritten."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.jobs.measured import MeasuredLine
from waywright.machine import Machine
from waywright.visit import Conditions, Pass, Person, PositionZero, SetUp, SourceStand, Temperature, Visit

ADDED_LATER = "added later"


@dataclass(frozen=True, slots=True)
class Gap:
    """Something the report says "not recorded" about; ``options`` where only some answers are possible."""

    name: str
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LaterEntry:
    """A revision made after the fact."""

    recorded_utc: datetime
    kind: str


@dataclass(frozen=True, slots=True)
class Overdue:
    """An instrument whose certificate had run out when the visit began."""

    title: str
    due: str


def gaps(measured: MeasuredLine) -> tuple[Gap, ...]:
    """What is not recorded, in the order of the report."""
    return tuple(Gap(name, _options(name, measured.machine)) for name, missing in _KNOWN.items() if missing(measured))


def overdue(measured: MeasuredLine) -> tuple[Overdue, ...]:
    """Instruments that were overdue at the visit."""
    day = measured.visit.began_utc.date().isoformat()
    uses = measured.passes[-1].setup.instruments if measured.passes else ()
    dated = [(use.title, use.certificate_due) for use in uses if use.certificate_due]
    return tuple(Overdue(title, due) for title, due in dated if due < day)


def add_later(archive: Archive, measured: MeasuredLine, name: str, value: str, clock: Clock) -> None:
    """Record one of the gaps now. Raises BadInput for an unknown one, or a value that cannot be used."""
    if name not in _KNOWN:
        raise BadInput("jobs.unknown_fact", name=name, allowed=", ".join(_KNOWN))
    said = value.strip()
    options = _options(name, measured.machine)
    if not said or (options and said not in options):
        raise BadInput("jobs.bad_fact", name=name, value=said, allowed=", ".join(options) or "-")
    for record in _revised(archive, measured, name, said, clock):
        archive.save(record, by=measured.visit.technician_id, reason=ADDED_LATER)


def later_entries(archive: Archive, measured: MeasuredLine) -> tuple[LaterEntry, ...]:
    """Every entry added later, oldest first."""
    subjects = [measured.machine.id, measured.visit.id]
    subjects += [subject for single in measured.passes for subject in (single.setup.id, single.taken.id)]
    found = [
        LaterEntry(revision.recorded_utc, revision.kind)
        for subject in dict.fromkeys(subjects)
        for revision in archive.history(subject)
        if revision.reason == ADDED_LATER
    ]
    return tuple(sorted(found, key=lambda entry: entry.recorded_utc))


def _options(name: str, machine: Machine) -> tuple[str, ...]:
    if name == "zero":
        return tuple(f"{mark.name} {side}" for mark in machine.marks for side in ("→", "←"))
    return _OPTIONS.get(name, ())


_OPTIONS = {
    "detector_side": ("tool", "work"),
    "source": ("bed", "floor"),
    "anchor_bolts": ("slack", "snug", "final"),
    "compensation": ("on", "off"),
}


def _setup(measured: MeasuredLine) -> SetUp | None:
    return measured.passes[-1].setup if measured.passes else None


def _of_setup(field: str) -> Callable[[MeasuredLine], bool]:
    return lambda measured: (setup := _setup(measured)) is not None and getattr(setup, field) is None


def _of_state(field: str) -> Callable[[MeasuredLine], bool]:
    return lambda measured: any(getattr(s.taken.conditions.machine, field) is None for s in measured.passes)


_STATE = ("other_axes", "clamps", "anchor_bolts", "compensation", "weight_compensation", "warm_up")
_KNOWN: dict[str, Callable[[MeasuredLine], bool]] = {
    "serial": lambda measured: measured.machine.serial is None,
    "owner": lambda measured: measured.machine.owner is None,
    "technician": lambda measured: measured.visit.technician_id is None,
    "purpose": lambda measured: measured.visit.purpose is None,
    "method": _of_setup("method"),
    "detector_side": _of_setup("detector_side"),
    "source": _of_setup("source"),
    "zero": lambda measured: bool(measured.machine.marks) and _of_setup("zero")(measured),
    **{name: _of_state(name) for name in _STATE},
    "air_temperature": lambda measured: any(not s.taken.conditions.temperatures for s in measured.passes),
}


def _revised(archive: Archive, measured: MeasuredLine, name: str, value: str, clock: Clock) -> list[Any]:
    """The records with the value in them."""
    if name in ("serial", "owner"):
        changes: dict[str, Any] = {name: value}
        return [replace(archive.load(Machine, measured.machine.id), **changes)]
    visit = archive.load(Visit, measured.visit.id)
    if name == "purpose":
        return [replace(visit, purpose=value)]
    if name == "technician":
        person = next((p for p in archive.people() if p.name == value), None) or Person(new_id(), value, "technician")
        return [person, replace(visit, technician_id=person.id)]
    if name in _STATE or name == "air_temperature":
        passes = [archive.load(Pass, single.taken.id) for single in measured.passes]
        return [replace(p, conditions=_conditions(p.conditions, name, value, clock)) for p in passes]
    setups = {single.setup.id for single in measured.passes}
    return [_with(archive.load(SetUp, identity), name, value) for identity in sorted(setups)]


def _conditions(before: Conditions, name: str, value: str, clock: Clock) -> Conditions:
    """Only what was not recorded is filled in; what one pass already says stays."""
    if name != "air_temperature":
        known = getattr(before.machine, name)
        return before if known is not None else replace(before, machine=replace(before.machine, **{name: value}))
    if before.temperatures:
        return before
    try:
        degrees = float(value.replace(",", "."))
    except ValueError:
        raise BadInput("jobs.bad_temperature", value=value) from None
    return replace(before, temperatures=(Temperature("air at the beam", degrees, clock.utc()),))


def _with(setup: SetUp, name: str, value: str) -> SetUp:
    if name == "source":
        return replace(setup, source=SourceStand(value))
    if name == "zero":
        mark, _, side = value.rpartition(" ")
        return replace(setup, zero=PositionZero(mark, 0.0, 1 if side == "→" else -1))
    changes: dict[str, Any] = {name: value}
    return replace(setup, **changes)
