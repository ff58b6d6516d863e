"""Visits: the machines that the archive knows and what was done at them, for a list that people choose from."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from waywright.archive import Archive
from waywright.errors import BadInput
from waywright.machine import Machine
from waywright.readings import standing
from waywright.visit import Line, Pass, Visit


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
class VisitAtMachine:
    """A visit with its lines."""

    visit: Visit
    technician: str | None
    lines: tuple[LineAtVisit, ...]


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


def line_of(archive: Archive, identity: UUID) -> tuple[Machine, Visit, Line]:
    """A line with the visit and the machine it belongs to. Raises BadInput where there is none of that id."""
    for visit in archive.visits():
        for line in archive.lines(visit.id):
            if line.id == identity:
                return archive.load(Machine, visit.machine_id), visit, line
    raise BadInput("jobs.no_line", wanted=str(identity), archive=str(archive.path))


def _visits(archive: Archive, machine: Machine, people: dict[UUID, str]) -> tuple[VisitAtMachine, ...]:
    return tuple(
        VisitAtMachine(
            visit,
            people.get(visit.technician_id) if visit.technician_id else None,
            tuple(_line(archive, line) for line in archive.lines(visit.id)),
        )
        for visit in reversed(archive.visits(machine.id))
    )


def _line(archive: Archive, line: Line) -> LineAtVisit:
    passes = archive.passes(line.id)
    stations = len(standing(archive.readings(passes[-1].id))) if passes else 0
    return LineAtVisit(line, passes, stations)


def _last_visit(known: KnownMachine) -> str:
    return known.visits[0].visit.began_utc.isoformat() if known.visits else ""
