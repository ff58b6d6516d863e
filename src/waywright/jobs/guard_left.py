"""After adjusting, and on day two: whether a result is final, and whether the line is still what it was."""

from __future__ import annotations

import math
from datetime import datetime
from pathlib import Path

import numpy as np

from waywright.archive import Archive, open_archive
from waywright.errors import BadInput
from waywright.guard import GateResult, after_adjusting, baseline_check
from waywright.jobs.evidence import Keep
from waywright.jobs.guard_gates import compared_states, keep_gate, state_of
from waywright.jobs.measured import MeasuredLine, MeasuredPass, find_line, measured_line, on_screen
from waywright.jobs.remember import archive_path
from waywright.jobs.screening import tolerance_um
from waywright.readings import Reading
from waywright.visit import Adjustment, Line

_APART_H = 1.0 / 3.0
_UM = "_um"


def left(
    where: Keep,
    found: str | None = None,
    *,
    tolerance: float | None = None,
    creep_um_per_h: float | None = None,
    waited_min: float | None = None,
    keep: bool = False,
) -> GateResult:
    """Whether a line as left is final, or provisional with a day to check it again.

    ``found`` names the line as found (without it the first line of the visit with that name and axis). What is not told
    is taken from the record: the creep from a station that was read again after twenty minutes or more, the wait from
    the last move of the kept rounds. Raises BadInput where no tolerance is recorded or told.
    """
    with open_archive(archive_path(where.archive)) as archive:
        line = find_line(archive, where.line)
        measured, before = measured_line(archive, line), measured_line(archive, _as_found(archive, line, found))
        allowed = tolerance if tolerance is not None else tolerance_um(archive, line)
        if allowed is None:
            raise BadInput("guard_gates.no_tolerance", line=line.name)
        for one in (measured, before):
            if not one.passes:
                raise BadInput("jobs.no_readings", line=one.line.name)
        last = measured.passes[-1].taken
        gate = after_adjusting(
            state_of(before.passes[-1].taken.conditions),
            state_of(last.conditions),
            creep_um_per_h=creep_um_per_h if creep_um_per_h is not None else creep(archive, measured),
            tolerance_um=allowed,
            waited_min=waited_min if waited_min is not None else _waited_min(archive, measured),
            day=last.began_utc.date(),
        )
        if keep:
            keep_gate(archive, gate, line.id, where.by)
    return gate


def states(first: str, second: str, path: Path | None = None) -> GateResult:
    """Whether two lines, by name or id, were measured in like states. Raises BadInput for one without readings."""
    with open_archive(archive_path(path)) as archive:
        lines = [measured_line(archive, find_line(archive, name)) for name in (first, second)]
    gate = compared_states(lines[0], lines[1])
    if gate is None:
        raise BadInput("jobs.no_readings", line=next(one.line.name for one in lines if not one.passes))
    return gate


def creep(archive: Archive, measured: MeasuredLine) -> float | None:
    """The fastest change of a displacement at a station read again twenty minutes or more later, in um per hour."""
    rates = [
        rate
        for single in measured.passes
        for rate in _rates({reading.id: reading for reading in archive.readings(single.taken.id)})
    ]
    return max(rates, key=abs) if rates else None


def _rates(readings: dict[object, Reading]) -> list[float]:
    found = []
    for again in readings.values():
        first = readings.get(again.supersedes)
        hours = 0.0 if first is None else (again.began_utc - first.began_utc).total_seconds() / 3600.0
        for value in again.values:
            old = None if first is None else first.value(value.channel)
            if old is not None and value.channel.endswith(_UM) and hours >= _APART_H:
                found.append((value.mean - old.mean) / hours)
    return found


def _waited_min(archive: Archive, measured: MeasuredLine) -> float | None:
    """From the last move that was told to the beginning of the line."""
    began = measured.passes[0].taken.began_utc
    moved: list[datetime] = [
        move.done_utc
        for adjustment in archive.every(Adjustment, measured.visit.id)
        for move in adjustment.moves
        if move.done_utc is not None and move.done_utc <= began
    ]
    return (began - max(moved)).total_seconds() / 60.0 if moved else None


def _as_found(archive: Archive, line: Line, wanted: str | None) -> Line:
    if wanted is not None:
        return find_line(archive, wanted)
    alike = [
        one
        for one in archive.lines(line.visit_id)
        if (one.axis, one.subject) == (line.axis, line.subject) and one.state == "as-found" and one.id != line.id
    ]
    named = [one for one in alike if one.name == line.name]
    if not alike:
        raise BadInput("guard_gates.no_as_found", line=line.name)
    return (named or alike)[0]


def baseline(where: Keep, *, keep: bool = False, coverage: float = 3.0) -> GateResult:
    """Day two: the three stations of the newest pass beside the newest earlier pass of the same set-up.

    Both ends and the station nearest the middle count; the worst quantity decides. Raises BadInput where there are no
    two passes of one set-up, or stations are farther apart than half the spacing.
    """
    with open_archive(archive_path(where.archive)) as archive:
        line = find_line(archive, where.line)
        before, today = _two(measured_line(archive, line))
        judged = [_baseline(before, today, name, coverage) for name in _codes(before, today)]
        gate = next((one for one in judged if not one.open), judged[0])
        if keep:
            keep_gate(archive, gate, line.id, where.by)
    return gate


def _two(measured: MeasuredLine) -> tuple[MeasuredPass, MeasuredPass]:
    if len(measured.passes) < 2:
        raise BadInput("guard_gates.two_passes", line=measured.line.name)
    today = measured.passes[-1]
    earlier = [one for one in measured.passes[:-1] if one.setup.id == today.setup.id and len(one.readings) > 3]
    if not earlier:
        raise BadInput("guard_gates.two_passes", line=measured.line.name)
    return earlier[-1], today


def _codes(before: MeasuredPass, today: MeasuredPass) -> list[str]:
    known = [column.code.text for column in before.profile.columns if column.code.is_straightness]
    return [name for name in known if today.profile.column(name) is not None]


def _baseline(before: MeasuredPass, today: MeasuredPass, name: str, coverage: float) -> GateResult:
    x = today.profile.position_mm
    order = np.argsort(x)
    middle = int(np.abs(x - (x.min() + x.max()) / 2.0).argmin())
    three = [int(order[0]), middle, int(order[-1])] if x.size >= 3 else list(range(x.size))
    old_x, old_y, new_y = before.profile.position_mm, on_screen(before, name), on_screen(today, name)
    reach_mm = 0.5 * float(np.median(np.abs(np.diff(old_x))))
    same = [int(np.abs(old_x - x[k]).argmin()) for k in three]
    for k, old in zip(three, same, strict=True):
        if abs(float(old_x[old] - x[k])) > reach_mm:
            raise BadInput("guard_gates.other_stations", position_mm=float(x[k]))
    pairs = zip(three, same, strict=True)
    error = max(math.hypot(_error(before, name, old), _error(today, name, k)) for k, old in pairs)
    noise = max(error, math.sqrt(2.0) * _noise(before, name))
    return baseline_check(
        [float(old_y[k]) for k in same], [float(new_y[k]) for k in three], noise, coverage, [float(x[k]) for k in three]
    )


def _error(single: MeasuredPass, name: str, k: int) -> float:
    column = single.profile.column(name)
    if column is None:
        return 0.0
    return float(column.standard_deviation[k]) / math.sqrt(max(1.0, float(column.samples[k])))


def _noise(single: MeasuredPass, name: str) -> float:
    """Standard deviation of one reading as its own samples show it, at the median station."""
    return float(np.median([_error(single, name, k) for k in range(len(single.readings))]))
