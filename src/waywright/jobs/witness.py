"""Witness: chosen stations measured again while the customer watches; ``witness_compared`` says whether both agree."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from waywright.archive import Archive
from waywright.capture import Watcher
from waywright.clocks import Clock, SystemClock, new_id
from waywright.errors import BadInput
from waywright.instruments import Instrument, read_instrument
from waywright.jobs.begin import Begun, resume_with
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.take import Taking, planned
from waywright.jobs.witness_compared import FEWEST, WitnessedValue, not_compared
from waywright.readings import Reading, StreamBlock
from waywright.visit import Line, OnTheSpot, Pass, PassEvent, ReadingSink
from waywright.wording import text


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


def keep_witness(
    archive: Archive,
    first: MeasuredLine,
    again: MeasuredLine,
    values: Sequence[WitnessedValue],
    clock: Clock | None = None,
    chosen_mm: Sequence[float] = (),
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
        "not_compared": list(not_compared(values, chosen_mm)),
        "rows": rows,
    }
    passed = all(each.agrees for each in values)
    kept = OnTheSpot(new_id(now), first.visit.id, "witness", passed, now, figures, first.line.id)
    archive.save(kept, by=first.visit.technician_id)
    return kept
