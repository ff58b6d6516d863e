"""Temperatures typed with a pass that has ended."""

from __future__ import annotations

from dataclasses import replace

from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.jobs.evidence import Keep, person_named
from waywright.jobs.measured import find_line
from waywright.jobs.remember import archive_path
from waywright.visit import Temperature


def record(place: str, value_degc: float, where: Keep, number: int | None = None) -> tuple[Temperature, ...]:
    """Add a temperature to a pass of a line (the newest without a number), as a new revision of the pass.

    Returns all temperatures of that pass. Raises BadInput for a line without that pass, or a place without a name.
    """
    if not place.strip():
        raise BadInput("guard_gates.no_place")
    clock = SystemClock()
    with open_archive(archive_path(where.archive)) as archive:
        line = find_line(archive, where.line)
        passes = [one for one in archive.passes(line.id) if number in (None, one.number)]
        if not passes:
            raise BadInput("guard_gates.no_pass", line=line.name, number=number or 1)
        now, taken = clock.utc(), passes[-1]
        read = Temperature(place.strip(), value_degc, now)
        conditions = replace(taken.conditions, temperatures=(*taken.conditions.temperatures, read))
        archive.save(replace(taken, conditions=conditions), by=person_named(archive, where.by, now))
    return conditions.temperatures
