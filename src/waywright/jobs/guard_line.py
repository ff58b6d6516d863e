"""Watch: the kept passes of a line beside each other, and which station to take again. Nothing is changed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from itertools import groupby, pairwise
from pathlib import Path
from uuid import UUID

import numpy as np

from waywright.archive import Archive, open_archive
from waywright.capture import error_of
from waywright.errors import BadInput
from waywright.evaluate.results import Reason
from waywright.guard import (
    Finding,
    PassSoFar,
    Remark,
    beside_neighbours,
    closings,
    compared,
    coverage_for,
    drifting,
    scatter_beside,
    screen_stations,
    temperature_change,
    unclosed,
)
from waywright.jobs.measured import MeasuredLine, MeasuredPass, find_line, measured_line
from waywright.jobs.remember import archive_path
from waywright.jobs.screening import planned_mm, tolerance_um
from waywright.quantities import code as code_of

_SLIPPED = (Remark.STEP, Remark.SHIFT, Remark.CANNOT_TELL)
_SHORTEST_H = 0.25


@dataclass(frozen=True, slots=True)
class Watched:
    """One finding on a line. ``passes`` are the numbers of the passes that it may lie in, ``code`` the quantity (None
    for stations and temperatures, which all quantities share); ``position_mm`` is the station to take again, or where
    it begins.
    """

    remark: Remark
    passes: str
    code: str | None
    position_mm: float | None
    why: Reason


@dataclass(frozen=True, slots=True)
class Meant:
    """What was meant: places of the stations (where planned) and the tolerance in um (where recorded); and the standard
    errors of readings by id and channel, where their samples were looked at.
    """

    planned_mm: tuple[float, ...] = ()
    tolerance_um: float | None = None
    errors: Mapping[tuple[UUID, str], float] = field(default_factory=dict)


def watch(line: str | None = None, path: Path | None = None, false_alarm: float = 0.01) -> tuple[Watched, ...]:
    """Everything that the passes of a line (the newest without a name) say against each other."""
    with open_archive(archive_path(path)) as archive:
        found = find_line(archive, line)
        measured = measured_line(archive, found)
        meant = Meant(planned_mm(archive, found), tolerance_um(archive, found), _errors(archive, measured))
        return watched(measured, false_alarm, meant)


def watched(measured: MeasuredLine, false_alarm: float = 0.01, meant: Meant | None = None) -> tuple[Watched, ...]:
    """Temperatures, then each set-up: stations missed or doubled, scatter, the values of each quantity alone or beside
    each other, closures and drift. ``false_alarm`` is shared by set-ups, quantities and tests.
    """
    found = list(_temperatures(measured))
    setups = [list(passes) for _, passes in groupby(measured.passes, key=lambda one: one.setup.id)]
    codes = measured.codes()
    for passes in setups:
        for name in codes:
            share = false_alarm / (3.0 * len(setups) * len(codes))
            found += _of_quantity(passes, name, share, meant or Meant(), stations=name == codes[0])
    return tuple(found)


def _of_quantity(passes: list[MeasuredPass], name: str, share: float, meant: Meant, *, stations: bool) -> list[Watched]:
    """One quantity in the passes of one set-up; stations are the same for all quantities and said once."""
    numbers = [one.taken.number for one in passes]
    so_far = [_so_far(one, name, passes[0].taken.began_utc, meant) for one in passes]
    found = []
    for number, single in zip(numbers, so_far, strict=True):
        amiss = screen_stations(single, meant.planned_mm or None) if stations else []
        found += [_plain(one, str(number), None) for one in amiss]
        found += [_plain(one, str(number), name) for one in scatter_beside(single, (), share / len(passes))]
    beside, noise = _beside(so_far, numbers, name, share)
    slipped = {number for one in beside if one.remark in _SLIPPED for number in one.passes.split(" or ")}
    meant = replace(meant, tolerance_um=None if code_of(name).is_rotation else meant.tolerance_um)
    whole = _whole(so_far, numbers, share, meant, (passes[0].taken.settings.smallest_step_mm, noise))
    return found + beside + [one for one in whole if slipped.isdisjoint(one.passes.split(", "))]


def _beside(so_far: list[PassSoFar], numbers: list[int], name: str, share: float) -> tuple[list[Watched], float]:
    """What the passes say beside each other (one pass: its neighbours), and the noise of one reading by that."""
    if len(so_far) == 1:
        alone = beside_neighbours(*so_far[0].arrays(), share, so_far[0].said)
        return [_plain(one, str(numbers[0]), name) for one in alone], 0.0
    checked = compared(so_far[-1], so_far[:-1], share)
    if checked is None:
        return [], 0.0
    found = [
        Watched(
            Remark(anomaly.kind),
            " or ".join(str(numbers[which - 1]) for which in anomaly.passes),
            name,
            anomaly.from_mm,
            Reason(anomaly.reason.key, {**anomaly.reason.facts, "unit": so_far[0].unit}),
        )
        for anomaly in checked.found
    ]
    return found, checked.noise


def _whole(
    so_far: list[PassSoFar], numbers: list[int], share: float, meant: Meant, reach_and_noise: tuple[float, float]
) -> list[Watched]:
    """Every pass against those before: closures; then drift, once."""
    reach_mm, noise = reach_and_noise
    name = so_far[0].name
    coverage = coverage_for(share / (len(closings(so_far, reach_mm)) + 1))
    found = []
    for last in range(1, len(so_far)):
        beyond = unclosed(so_far[: last + 1], reach_mm, meant.tolerance_um, coverage, numbers, noise)
        found += [_plain(one, str(numbers[last]), name) for one in beyond]
    drift = drifting(so_far, meant.tolerance_um, coverage, noise)
    return [*found, *([_plain(drift, ", ".join(map(str, numbers)), name)] if drift is not None else [])]


def _so_far(single: MeasuredPass, name: str, began: datetime, meant: Meant) -> PassSoFar:
    """A quantity of a kept pass as the guard takes it, positive as on the screen."""
    column = single.profile.column(name)
    if column is None:
        raise BadInput("jobs.quantity_not_measured", quantity=name, line="")
    x = single.profile.position_mm
    samples = np.maximum(column.samples, 1)
    plain = column.standard_deviation / np.sqrt(samples)
    meanings = single.interpretation.meanings if single.interpretation else ()
    channel = next((item.channel for item in meanings if item.code == name), "")
    return PassSoFar(
        x,
        column.screen,
        single.taken.direction,
        float(np.median(np.abs(np.diff(x)))) if x.size > 1 else 1.0,
        sample_sd=column.standard_deviation,
        samples=int(samples.min()),
        error=np.array([meant.errors.get((one.id, channel), plain[k]) for k, one in enumerate(single.readings)]),
        time_s=np.array([(reading.began_utc - began).total_seconds() for reading in single.readings]),
        name=name,
        unit="um/m" if column.code.is_rotation else "um",
    )


def _errors(archive: Archive, measured: MeasuredLine) -> dict[tuple[UUID, str], float]:
    """Standard errors of all readings by their samples."""
    return {
        (reading.id, value.channel): error_of(reading, value.channel)
        for single in measured.passes
        for reading in archive.readings(single.taken.id, with_window=True)
        for value in reading.values
    }


def _temperatures(measured: MeasuredLine) -> list[Watched]:
    """Places whose temperature, as recorded with the passes, changed too fast from one pass to the next."""
    found = []
    for before, after in pairwise(measured.passes):
        hours = max(_SHORTEST_H, (after.taken.began_utc - before.taken.began_utc).total_seconds() / 3600.0)
        known = {item.place: item.value_degc for item in before.taken.conditions.temperatures}
        for item in after.taken.conditions.temperatures:
            change = temperature_change(known.get(item.place, item.value_degc), item.value_degc, hours)
            if change is not None:
                found.append(_plain(change, str(after.taken.number), None))
    return found


def _plain(one: Finding, passes: str, code: str | None) -> Watched:
    return Watched(one.remark, passes, code, one.position_mm, one.why)
