"""Visits: the machines that the archive knows and what was done at them, for a list that people choose from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import ArchiveError, BadInput
from waywright.jobs.machines import find_machine
from waywright.jobs.people import person_named, who
from waywright.machine import Machine
from waywright.visit import Attachment, IssuedReport, Line, Pass, SetUp, Visit, VisitPlan
from waywright.visit.sheet import MeasuringSheet

if TYPE_CHECKING:
    from waywright.jobs.instruments_kept import InstrumentAtVisit


@dataclass(frozen=True, slots=True)
class LineAtVisit:
    """A line with its passes; ``stations`` of the last one."""

    line: Line
    passes: tuple[Pass, ...]
    stations: int

    @property
    def interrupted(self) -> Pass | None:
        """The last pass, where it did not come to its end."""
        last = self.passes[-1] if self.passes else None
        return last if last is not None and last.outcome != "finished" else None


@dataclass(frozen=True, slots=True)
class SheetAtVisit:
    """A sheet of tests, and how many of its places have their value."""

    sheet: MeasuringSheet
    filled: int
    places: int


@dataclass(frozen=True, slots=True)
class VisitAtMachine:
    """A visit with its lines and sheets."""

    visit: Visit
    technician: str | None
    lines: tuple[LineAtVisit, ...]
    plan: VisitPlan | None = None
    sheets: tuple[SheetAtVisit, ...] = ()


@dataclass(frozen=True, slots=True)
class KnownMachine:
    """A machine with its visits, the newest first."""

    machine: Machine
    visits: tuple[VisitAtMachine, ...]


def known_machines(archive: Archive) -> tuple[KnownMachine, ...]:
    """Every machine, the one visited last first."""
    people = {person.id: person.name for person in archive.people()}
    found = [KnownMachine(machine, _visits(archive, machine, people)) for machine in archive.machines()]
    return tuple(sorted(found, key=_last_visit, reverse=True))


def new_visit(
    archive: Archive, machine: Machine, clock: Clock, purpose: str | None, technician: str | None, by: str | None = None
) -> Visit:
    """Keep a visit that begins now; passes join it when they name it."""
    person = None if technician is None else person_named(archive, technician, "technician")
    people = () if person is None else (person.id,)
    now = clock.utc()
    visit = Visit(new_id(now), machine.id, purpose, now, person.id if person else None, people, machine.invented)
    archive.save(visit, by=who(archive, by or technician))
    return visit


def find_visit(archive: Archive, wanted: str | None) -> Visit:
    """The visit of an id (or its end); without one the newest. Raises BadInput unless exactly one fits."""
    visits = archive.visits()
    found = visits[-1:] if wanted is None else [v for v in visits if str(v.id).endswith(wanted.lower())]
    if len(found) != 1:
        raise BadInput("keep.which_visit", wanted=wanted or "-", found=len(found))
    return found[0]


@dataclass(frozen=True, slots=True)
class VisitRow:
    """A visit in a list."""

    visit: Visit
    machine: str
    technician: str | None
    lines: int
    sheets: int = 0


@dataclass(frozen=True, slots=True)
class VisitPage:
    """Some visits in the order in which they began; ``after`` asks for the next ones, None at the end."""

    visits: tuple[VisitRow, ...]
    after: UUID | None


@dataclass(frozen=True, slots=True)
class VisitShown:
    """A visit with all that belongs to it."""

    machine: Machine
    at: VisitAtMachine
    attachments: tuple[Attachment, ...]
    instruments: tuple[InstrumentAtVisit, ...] = ()
    reports: tuple[IssuedReport, ...] = ()


def visits_page(archive: Archive, machine: str | None, after: UUID | None, size: int) -> VisitPage:
    """The next visits, of all machines or of one. Raises BadInput for a machine that is not there."""
    names = {each.id: each.name for each in archive.machines()}
    people = {person.id: person.name for person in archive.people()}
    if machine is None:
        page = archive.page(Visit, after, size)
        return VisitPage(tuple(_row(archive, visit, names, people) for visit in page.items), page.after)
    every = sorted(archive.visits(find_machine(archive, machine).id), key=lambda visit: visit.id)
    rest = [visit for visit in every if after is None or visit.id > after]
    rows = tuple(_row(archive, visit, names, people) for visit in rest[:size])
    return VisitPage(rows, rest[size - 1].id if len(rest) > size else None)


def _row(archive: Archive, visit: Visit, names: dict[UUID, str], people: dict[UUID, str]) -> VisitRow:
    technician = people.get(visit.technician_id) if visit.technician_id else None
    lines, sheets = len(archive.lines(visit.id)), len(archive.every(MeasuringSheet, visit.id))
    return VisitRow(visit, names.get(visit.machine_id, ""), technician, lines, sheets)


def visit_shown(archive: Archive, visit: Visit) -> VisitShown:
    """A visit with its machine, lines, plan, files, instruments and issued reports."""
    from waywright.jobs.instruments_kept import instruments_at

    machine, at = archive.load(Machine, visit.machine_id), visit_at(archive, visit)
    setups = [setup for each in at.lines for setup in archive.setups(each.line.id)]
    holders: tuple[SetUp | MeasuringSheet, ...] = (*setups, *(each.sheet for each in at.sheets))
    uses = [use for holder in holders for use in holder.instruments]
    return VisitShown(
        machine=machine,
        at=at,
        attachments=archive.every(Attachment, visit.id),
        instruments=instruments_at(archive, uses, visit.began_utc.date().isoformat()),
        reports=archive.every(IssuedReport, visit.id),
    )


def visit_at(archive: Archive, visit: Visit) -> VisitAtMachine:
    """A visit with its lines, passes and plan."""
    people = {person.id: person.name for person in archive.people()}
    return _visit(archive, visit, people)


def line_of(archive: Archive, identity: UUID) -> tuple[Machine, Visit, Line]:
    """A line with the visit and the machine it belongs to. Raises BadInput where there is none of that id."""
    try:
        line = archive.load(Line, identity)
    except ArchiveError:
        raise BadInput("jobs.no_line", wanted=str(identity), archive=archive.place) from None
    visit = archive.load(Visit, line.visit_id)
    return archive.load(Machine, visit.machine_id), visit, line


def _visits(archive: Archive, machine: Machine, people: dict[UUID, str]) -> tuple[VisitAtMachine, ...]:
    return tuple(_visit(archive, visit, people) for visit in reversed(archive.visits(machine.id)))


def _visit(archive: Archive, visit: Visit, people: dict[UUID, str]) -> VisitAtMachine:
    return VisitAtMachine(
        visit,
        people.get(visit.technician_id) if visit.technician_id else None,
        tuple(_line(archive, line) for line in archive.lines(visit.id)),
        (archive.every(VisitPlan, visit.id) or (None,))[-1],
        tuple(_sheet(archive, each) for each in archive.every(MeasuringSheet, visit.id)),
    )


def _sheet(archive: Archive, sheet: MeasuringSheet) -> SheetAtVisit:
    from waywright.jobs.sheet_keep import filled_places

    return SheetAtVisit(sheet, *filled_places(archive, sheet))


def _line(archive: Archive, line: Line) -> LineAtVisit:
    passes = archive.passes(line.id)
    counts = archive.counts([taken.id for taken in passes[-1:]])
    return LineAtVisit(line, passes, counts[passes[-1].id].standing if counts else 0)


def _last_visit(known: KnownMachine) -> str:
    return known.visits[0].visit.began_utc.isoformat() if known.visits else ""
