"""History: all visits of a machine on one time line, and what its figures did from visit to visit.

A figure over time is that of the bed left alone: what an adjustment changed during a visit is taken off, so that the
next visit's "as found" goes on from the last "as left". The value itself is largest minus smallest and is shown as
found; the trend of shape is told by bow and twist, which have a sign.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.evaluate.trend import Trend, trend
from waywright.jobs.computed import Rules, computed
from waywright.jobs.measured import measured_line
from waywright.jobs.plans import plan_of
from waywright.machine import Machine
from waywright.quantities import code
from waywright.visit import KeptResult, Line, Visit, VisitPlan

_YEAR_S = 365.25 * 86400.0
_FIRST_YEAR = (91, 182, 365)
_SOON = 28


@dataclass(frozen=True, slots=True)
class State:
    """A line at a visit with its results."""

    visit: Visit
    line: Line
    results: tuple[KeptResult, ...]


@dataclass(frozen=True, slots=True)
class Point:
    """A figure at a visit: as found, as left, and with all adjustments taken off (``alone``)."""

    visit_id: UUID
    began_utc: datetime
    found: float
    left: float
    alone: float
    expanded_uncertainty: float | None
    verdict: str | None


@dataclass(frozen=True, slots=True)
class Course:
    """One figure of one line over the visits. ``figure`` is "value", "bow", "level" or "twist"."""

    line: str
    axis: str
    quantity: str
    figure: str
    unit: str
    points: tuple[Point, ...]
    trend: Trend | None
    limit: float | None


@dataclass(frozen=True, slots=True)
class NextCheck:
    """When to come again, and why (a key of ``wording``)."""

    by: datetime
    why: str


@dataclass(frozen=True, slots=True)
class MachineHistory:
    """Everything over time."""

    machine: Machine
    states: tuple[State, ...]
    courses: tuple[Course, ...]
    next_check: NextCheck | None


def history(archive: Archive, machine: Machine) -> MachineHistory:
    """The history of a machine. Raises BadInput where nothing was measured yet.

    Results that are kept are used as they are; others are computed now.
    """
    states = tuple(_states(archive, machine))
    if not states:
        raise BadInput("history.none", machine=machine.name)
    courses = tuple(_courses(states))
    return MachineHistory(machine, states, courses, _next_check(states, courses))


def _states(archive: Archive, machine: Machine) -> Iterator[State]:
    for visit in archive.visits(machine.id):
        plan = plan_of(archive, visit.id)
        for line in archive.lines(visit.id):
            results = archive.every(KeptResult, line.id)
            if not results and archive.passes(line.id):
                results = _now(archive, line, plan)
            if results:
                yield State(visit, line, results)


def _now(archive: Archive, line: Line, plan: VisitPlan | None) -> tuple[KeptResult, ...]:
    try:
        return computed(measured_line(archive, line), plan, Rules(), SystemClock().utc())
    except BadInput:
        return ()


_FIGURES = {
    "bow": ("bow_um", "bow_expanded_um"),
    "level": ("slope_um_per_m", "slope_expanded_um_per_m"),
}
_MEAN_ROLL = "mean_um_per_m"


def _courses(states: tuple[State, ...]) -> Iterator[Course]:
    """One course for each figure of each quantity of each line, lines paired by axis, subject and guideway."""
    grouped: dict[tuple[str, str, str | None, str], dict[UUID, list[tuple[State, KeptResult]]]] = {}
    for state in states:
        for result in state.results:
            key = (state.line.axis, state.line.subject, state.line.guideway, result.quantity)
            grouped.setdefault(key, {}).setdefault(state.visit.id, []).append((state, result))
    for (axis, _, _, quantity), visits in grouped.items():
        for figure in ("value", "bow", "level") if code(quantity).is_straightness else ("twist", "level"):
            course = _course(axis, quantity, figure, list(visits.values()))
            if course.points:
                yield course


def _course(axis: str, quantity: str, figure: str, visits: list[list[tuple[State, KeptResult]]]) -> Course:
    points: list[Point] = []
    for visit in visits:
        first, last = _ends(visit)
        found, left = _value(first[1], figure), _value(last[1], figure)
        if found is None or left is None:
            continue
        taken_off = sum(point.found - point.left for point in points) if figure != "value" else 0.0
        points.append(
            Point(
                first[0].visit.id,
                first[0].visit.began_utc,
                found,
                left,
                found + taken_off,
                _expanded(first[1], figure),
                last[1].verdict,
            )
        )
    name, last_result = visits[-1][-1][0].line.name, visits[-1][-1][1]
    unit = {"value": last_result.unit, "bow": "um"}.get(figure, "um/m")
    limit = last_result.limit if figure == "value" else None
    return Course(name, axis, quantity, figure, unit, tuple(points), _trend(points), limit)


def _ends(visit: list[tuple[State, KeptResult]]) -> tuple[tuple[State, KeptResult], tuple[State, KeptResult]]:
    """The first as found and the last as left of a visit; without one, the first and the last measured."""
    found = [each for each in visit if each[0].line.state == "as-found"] or visit
    left = [each for each in visit if each[0].line.state == "as-left"] or found[:1]
    return found[0], left[-1]


def _value(result: KeptResult, figure: str) -> float | None:
    if figure in ("value", "twist"):
        return result.value
    return result.figures.get(_FIGURES[figure][0], result.figures.get(_MEAN_ROLL) if figure == "level" else None)


def _expanded(result: KeptResult, figure: str) -> float | None:
    if figure in ("value", "twist"):
        return result.expanded_uncertainty
    return result.figures.get(
        _FIGURES[figure][1], result.expanded_uncertainty if _MEAN_ROLL in result.figures else None
    )


def _trend(points: list[Point]) -> Trend | None:
    """None for a single visit. Figures without a stated uncertainty take the scatter of the visits."""
    if len(points) < 2:
        return None
    stated = [point.expanded_uncertainty for point in points if point.expanded_uncertainty]
    fallback = max(stated, default=0.0) or _scatter(points)
    if fallback <= 0.0:
        return None
    began = points[0].began_utc
    years = [(point.began_utc - began).total_seconds() / _YEAR_S for point in points]
    uncertain = [(point.expanded_uncertainty or fallback) / 2.0 for point in points]
    return trend(years, [point.alone for point in points], uncertain)


def _scatter(points: list[Point]) -> float:
    """Twice the standard deviation over the visits."""
    return 2.0 * statistics.stdev(point.alone for point in points)


def _next_check(states: tuple[State, ...], courses: tuple[Course, ...]) -> NextCheck | None:
    """The earliest of all reasons to come again."""
    first, last = states[0].visit.began_utc, states[-1].visit.began_utc
    age = (last - first).days
    months = [days for days in _FIRST_YEAR if days > age + 14]
    reasons = [
        NextCheck(first + timedelta(days=months[0]), "history.next_first_year")
        if months
        else NextCheck(last + timedelta(days=365), "history.next_yearly")
    ]
    for course in courses:
        if not course.points or course.points[-1].began_utc != last:
            continue
        if course.figure == "value" and course.points[-1].verdict not in (None, "conforms"):
            reasons.append(NextCheck(last + timedelta(days=_SOON), "history.next_not_in"))
        if course.trend is not None and course.trend.told == "event":
            reasons.append(NextCheck(last + timedelta(days=_SOON), "history.next_event"))
        if (reached := _reaches(course, last)) is not None:
            reasons.append(NextCheck(reached, "history.next_reaches"))
    return min(reasons, key=lambda reason: reason.by)


def _reaches(course: Course, last: datetime) -> datetime | None:
    """When a settling value with its uncertainty comes to its limit."""
    if course.limit is None or course.trend is None or course.trend.told != "settlement":
        return None
    point, slope = course.points[-1], course.trend.per_year
    room = course.limit - point.left - (point.expanded_uncertainty or 0.0)
    if slope <= 0.0 or room <= 0.0:
        return None
    return last + timedelta(seconds=min(room / slope, 50.0) * _YEAR_S)
