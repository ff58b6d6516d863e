"""Witness: chosen stations measured again while the customer watches, and whether both agree within their uncertainty.

Compared are differences about their own best line, because straightness does not depend on where a beam points that
day. What both measurements share (a detector's nonlinearity, a bow of the air) cancels and is not counted: allowed is
what the scatter of the readings and the repeatability of the axis explain, for all stations together in 95 of 100
cases.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from statistics import NormalDist
from typing import Any

import numpy as np

from waywright.archive import Archive
from waywright.capture import Watcher
from waywright.clocks import Clock, SystemClock, new_id
from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.instruments import Instrument, read_instrument
from waywright.jobs.begin import Begun, resume_with
from waywright.jobs.line_budget import judged_line
from waywright.jobs.line_stated import ready_method
from waywright.jobs.measured import MeasuredLine, joined
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.take import Taking, planned
from waywright.jobs.uncertain import budget_of
from waywright.quantities import code
from waywright.readings import Floats, Reading, StreamBlock
from waywright.uncertainty import Acts
from waywright.visit import Line, OnTheSpot, Pass, PassEvent, ReadingSink
from waywright.wording import text

FEWEST, PROBABILITY = 4, 0.95


@dataclass(frozen=True, slots=True)
class WitnessedValue:
    """One station and quantity: first and again about their line, the difference, what is allowed; um."""

    code: str
    position_mm: float
    first: float
    again: float
    difference: float
    allowed: float

    @property
    def agrees(self) -> bool:
        """Within the uncertainty of both."""
        return abs(self.difference) <= self.allowed


def begin_witness(archive: Archive, line: Line, instruments: tuple[Instrument, ...], clock: Clock) -> Begun:
    """A line of its own beside the one that is witnessed, from the same set-up."""
    begun = resume_with(archive, line, instruments)
    own = replace(line, id=new_id(clock.utc()), name=text("witness.line_name", line=line.name))
    setup = replace(begun.setup, id=new_id(clock.utc()), line_id=own.id)
    meaning = replace(begun.interpretation, id=new_id(clock.utc()), setup_id=setup.id)
    for record in (own, setup, meaning):
        archive.save(record, by=begun.visit.technician_id)
    return replace(begun, line=own, setup=setup, interpretation=meaning)


class ChosenStations:
    """Hears readings and says when every chosen station has one; a reading sink that keeps nothing."""

    def __init__(
        self,
        chosen_mm: Sequence[float],
        begun: Begun,
        within_mm: float,
        told: Callable[[ChosenStations], None] | None = None,
    ) -> None:
        self._left, self._told = set(chosen_mm), told
        self._meaning, self._within_mm = begun.interpretation, within_mm
        self.stop: Any = None

    @property
    def left(self) -> tuple[float, ...]:
        """Stations that still have no reading."""
        return tuple(sorted(self._left))

    def begin_pass(self, taken: Pass) -> None:
        """Nothing to do."""

    def keep_reading(self, reading: Reading) -> None:
        """Tick off the station; stop when it was the last."""
        place = self._meaning.position_sense * (reading.position_mm - self._meaning.position_offset_mm)
        reached = {each for each in self._left if abs(each - place) <= self._within_mm}
        self._left -= reached
        if reached and self._told is not None:
            self._told(self)
        if not self._left and self.stop is not None:
            self.stop()

    def keep_stream(self, block: StreamBlock) -> None:
        """Nothing to do."""

    def note(self, event: PassEvent) -> None:
        """Nothing to do."""

    def end_pass(self, ended: Pass) -> None:
        """Nothing to do."""


def stations_of(said: str) -> tuple[float, ...]:
    """Stations in a list such as "0, 1200, 2400". Raises BadInput for anything else."""
    try:
        return tuple(float(part) for part in said.replace(";", ",").split(",") if part.strip())
    except ValueError as problem:
        raise BadInput("witness.no_stations", said=said) from problem


@dataclass(frozen=True, slots=True)
class Onlookers:
    """Who sees the pass while it is taken; ``told`` hears of every chosen station that was reached."""

    listeners: Sequence[ReadingSink] = ()
    watchers: Sequence[Watcher] = ()
    on_armed: Callable[[Pass], None] | None = None
    told: Callable[[ChosenStations], None] | None = None


def prepared_witness(
    archive: Archive,
    line: Line,
    instruments: Sequence[Path],
    chosen_mm: Sequence[float],
    clock: Clock,
    onlookers: Onlookers = Onlookers(),
) -> tuple[Begun, Taking]:
    """A line of its own and a pass over chosen stations, ready to run; it ends when every one has a reading.

    Raises BadInput for too few stations.
    """
    if len(set(chosen_mm)) < FEWEST:
        raise BadInput("witness.few_stations", stations=len(set(chosen_mm)), needed=FEWEST)
    begun = begin_witness(archive, line, tuple(read_instrument(path) for path in instruments), clock)
    order = CaptureOrder(instruments=tuple(instruments))
    stations = ChosenStations(chosen_mm, begun, order.smallest_step_mm, onlookers.told)
    # Stations are shown in any order: the end of the travel ends nothing while some are still to come.
    plans = [replace(plan, travel_end_mm=None) for plan in planned(begun, order, clock)]
    taking = Taking(
        archive, begun, plans, clock,
        listeners=[*onlookers.listeners, stations], watchers=onlookers.watchers, on_armed=onlookers.on_armed,
    )  # fmt: skip
    stations.stop = taking.finish
    return begun, taking


def witnessed(first: MeasuredLine, again: MeasuredLine, chosen_mm: Sequence[float] = ()) -> tuple[WitnessedValue, ...]:
    """Compare a line measured again with the first; ``chosen_mm`` are the stations (within 20 mm), by default all.

    Raises BadInput where fewer than four stations or no straightness were measured twice.
    """
    names = [name for name in first.codes() if code(name).is_straightness and name in again.codes()]
    if not names:
        raise BadInput("witness.nothing_common", line=first.line.name)
    budget = budget_of(ready_method(first))
    return tuple(value for name in names for value in _compared(name, first, again, chosen_mm, budget))


def keep_witness(
    archive: Archive,
    first: MeasuredLine,
    again: MeasuredLine,
    values: Sequence[WitnessedValue],
    clock: Clock | None = None,
) -> OnTheSpot:
    """Keep what was witnessed with the visit, so that the report shows it."""
    now = (clock or SystemClock()).utc()
    rows = [
        {
            "code": each.code, "position_mm": each.position_mm, "first": each.first, "again": each.again,
            "difference": each.difference, "allowed": each.allowed,
        }
        for each in values
    ]  # fmt: skip
    figures: dict[str, Any] = {
        "line": first.line.name,
        "again_line": str(again.line.id),
        "stations": len({each.position_mm for each in values}),
        "values": len(values),
        "outside": sum(not each.agrees for each in values),
        "rows": rows,
    }
    passed = all(each.agrees for each in values)
    kept = OnTheSpot(new_id(now), first.visit.id, "witness", passed, now, figures, first.line.id)
    archive.save(kept, by=first.visit.technician_id)
    return kept


def _compared(
    name: str, first: MeasuredLine, again: MeasuredLine, chosen_mm: Sequence[float], budget: Any
) -> list[WitnessedValue]:
    before, after = joined(first, name), joined(again, name)
    places = after.position_mm[_chosen(after.position_mm, before.position_mm, chosen_mm)]
    if places.size < FEWEST:
        raise BadInput("witness.few_stations", stations=int(places.size), needed=FEWEST)
    one = np.interp(places, *_ordered(before.position_mm, before.mean))
    two = np.interp(places, *_ordered(after.position_mm, after.mean))
    one, two = _about_line(places, one), _about_line(places, two)
    k = NormalDist().inv_cdf((1.0 + PROBABILITY ** (1.0 / places.size)) / 2.0)
    variance = sum(_reading_variance(line, name, budget) for line in (first, again))
    allowed = k * math.sqrt(variance)
    return [
        WitnessedValue(name, float(place), float(a), float(b), float(b - a), allowed)
        for place, a, b in zip(places, one, two, strict=True)
    ]


def _chosen(again_mm: Floats, first_mm: Floats, chosen_mm: Sequence[float]) -> Floats:
    """Which stations of the second measurement count: chosen, and within the stretch of the first."""
    inside = (again_mm >= first_mm.min() - 1e-6) & (again_mm <= first_mm.max() + 1e-6)
    if not chosen_mm:
        return np.asarray(inside)
    near = np.abs(again_mm[:, np.newaxis] - np.array(chosen_mm)[np.newaxis, :]).min(axis=1) <= 20.0
    return np.asarray(inside & near)


def _ordered(position_mm: Floats, value: Floats) -> tuple[Floats, Floats]:
    order = np.argsort(position_mm)
    return position_mm[order], value[order]


def _about_line(position_mm: Floats, value: Floats) -> Floats:
    order = np.argsort(position_mm)
    back = np.argsort(order)
    found = straightness(position_mm[order], value[order], "least-squares").deviation_um
    return np.asarray(found[back])


def _reading_variance(line: MeasuredLine, name: str, budget: Any) -> float:
    """Of the mean at one station: everything that acts on single readings, by the number of passes."""
    judged = judged_line(line, name, budget)
    variance = sum(
        one.standard_uncertainty**2
        for one in judged.budget.contribution
        if one.acts is Acts.READING and one.unit == "um"
    )
    return float(variance) / max(1, len(line.passes))
