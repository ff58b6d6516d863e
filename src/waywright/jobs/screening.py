"""What the readings of a pass are screened beside: passes of the same set-up, the planned stations, the tolerance."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from typing import Any

from waywright.archive import Archive
from waywright.capture import Beside, TakenBefore
from waywright.errors import BadInput
from waywright.jobs.plans import plan_of
from waywright.readings import standing
from waywright.verdict import tolerance
from waywright.visit import Evidence, Interpretation, Line, Pass, SetUp

_FEWEST = 3


def beside(archive: Archive, taken: Pass, line: Line, setup: SetUp, meaning: Interpretation) -> Beside:
    """For a pass that is about to be taken (or goes on) from a set-up."""
    earlier = (one for one in archive.passes(line.id) if one.setup_id == setup.id and one.id != taken.id)
    return Beside(
        tuple(before for one in earlier if len((before := _before(archive, one)).readings) >= _FEWEST),
        tuple(meaning.position_sense * place + meaning.position_offset_mm for place in planned_mm(archive, line)),
        tolerance_um(archive, line),
    )


def planned_mm(archive: Archive, line: Line) -> tuple[float, ...]:
    """The stations of the newest kept answer to "how many points" of a line, as positions of the line."""
    efforts = [item for item in tests_of(archive, line) if item.test == "effort"]
    stations = efforts[-1].figures.get("stations_mm") if efforts else None
    return tuple(float(place) for place in stations or ())


def tolerance_um(archive: Archive, line: Line) -> float | None:
    """The smallest tolerance of a line's straightness by the plan of its visit.

    Else the one that the newest test of its set-up was told; None where neither is recorded or the rule has no single
    limit.
    """
    length = abs(line.to_mm - line.from_mm) if line.to_mm is not None and line.from_mm is not None else None
    limits = list(_limits(archive, line, length)) if length else []
    told = [item.inputs.get("tolerance_um", _wished(item).get("tolerance_um")) for item in tests_of(archive, line)]
    known = [float(value) for value in told if isinstance(value, int | float)]
    return min(limits) if limits else known[-1] if known else None


def _limits(archive: Archive, line: Line, length_mm: float) -> Iterator[float]:
    plan = plan_of(archive, line.visit_id)
    for item in plan.items if plan is not None else ():
        rule, axis = item.tolerance, item.axis or (item.code or "")[-1:]
        fits = item.line == line.name or (item.line is None and axis == line.axis)
        if fits and item.test == "straightness" and rule is not None and not rule.example:
            with suppress(BadInput):
                yield tolerance(rule.rule).limit_um(length_mm)


def _wished(item: Evidence) -> dict[str, Any]:
    wish: dict[str, Any] = item.inputs.get("wish", {})
    return wish


def tests_of(archive: Archive, line: Line) -> list[Evidence]:
    """The tests kept at a line and its set-ups, oldest first."""
    subjects = [line.id, *(setup.id for setup in archive.setups(line.id))]
    found = [item for subject in subjects for item in archive.evidence(subject)]
    return sorted(found, key=lambda item: item.made_utc)


def _before(archive: Archive, taken: Pass) -> TakenBefore:
    left_out = {exclusion.reading_id for exclusion in archive.exclusions(taken.id)}
    held = standing(archive.readings(taken.id, with_window=True))
    return TakenBefore(taken, tuple(reading for reading in held if reading.id not in left_out))
