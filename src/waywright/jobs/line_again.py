"""The same line once more at the same visit, after something was turned: same set-up, a line of its own."""

from __future__ import annotations

from dataclasses import replace

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.errors import BadInput
from waywright.visit import Line, SetUp, Visit

AS_LEFT = "as-left"


def line_again(archive: Archive, line: Line, clock: Clock, name: str | None = None) -> Line:
    """Keep a line of the same name (or a new one) and travel, as left, with the set-up and interpretation that hold.

    Raises BadInput for a line without a set-up.
    """
    setups = archive.setups(line.id)
    if not setups:
        raise BadInput("jobs.no_setup", line=line.name)
    by = archive.load(Visit, line.visit_id).technician_id
    again = replace(line, id=new_id(clock.utc()), name=name or line.name, state=AS_LEFT)
    archive.save(again, by=by)
    for setup in setups:
        _copied(archive, setup, again, clock)
    return again


def _copied(archive: Archive, setup: SetUp, line: Line, clock: Clock) -> None:
    meaning = archive.interpretation(setup.id)
    copy = replace(setup, id=new_id(clock.utc()), line_id=line.id)
    archive.save(copy)
    if meaning is not None:
        archive.save(replace(meaning, id=new_id(clock.utc()), setup_id=copy.id))
