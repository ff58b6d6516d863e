"""Practise: the main job in the invented workshop, through the same verbs as on the floor."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.archive import Archive, open_archive
from waywright.capture import Live, Watcher
from waywright.clocks import Clock, ScaledClock, SystemClock
from waywright.evaluate import straightness
from waywright.files.machine_file import write_machine
from waywright.files.setup_file import LineEntry, SetUpEntry, SetUpFile, write_setup_file
from waywright.instruments import read_instrument
from waywright.jobs.begin import Begun, keep
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.measured import MeasuredLine, joined, measured_line
from waywright.jobs.orders import CaptureOrder
from waywright.jobs.prove import report_of_line
from waywright.jobs.take import Taking, planned
from waywright.readings import Floats
from waywright.simulation import CarriageTruth, Scenario, Workshop, load_scenario
from waywright.visit import Conditions, MachineState, Pass, ReadingSink, Temperature

DEMO_FACTOR = 20.0
"""Pace of the demo's clock: nine minutes of measuring take about half a minute."""

TECHNICIAN = "Mara Quill (invented)"
ARCHIVE_NAME = "workshop.sqlite"
_CODES = {"height_um": "EYZ", "side_um": "EXZ", "roll_um_per_m": "ECZ"}


@dataclass(frozen=True, slots=True)
class TruthComparison:
    """What was measured against what only the workshop knew, at the stations measured, after the same line.

    ``measured`` and ``true`` are values about the chosen reference line (for a rotation largest minus smallest);
    ``largest_difference`` is that of any station. um, for rotations um/m.
    """

    code: str
    measured: float
    true: float
    largest_difference: float


@dataclass(frozen=True, slots=True)
class DemoOutcome:
    """The end of a demo."""

    files: tuple[Path, ...]
    archive: Path
    line_id: str
    stations: tuple[int, ...]
    results: tuple[StraightnessResult, ...]
    truth: tuple[TruthComparison, ...]


Observe = Callable[[Begun], tuple[Sequence[ReadingSink], Sequence[Watcher]]]
"""Told what is measured, gives the listeners and watchers of the passes."""


async def run_demo(
    folder: Path,
    factor: float,
    observe: Observe,
    on_armed: Callable[[Pass], None] | None = None,
    reference: str = "least-squares",
) -> DemoOutcome:
    """Measure the invented lathe forward and back, write the report into ``folder``, and compare with the truth."""
    clock: Clock = SystemClock() if factor == 1.0 else ScaledClock(factor)
    archive_file = folder / ARCHIVE_NAME
    async with Workshop.start("calm-hall", factor, folder) as workshop:
        with open_archive(archive_file, create=True, clock=clock) as archive:
            begun = begin_in(workshop, archive, clock)
            await drive_and_take(archive, begun, workshop, clock, observe, on_armed)
        written = report_of_line(str(begun.line.id), folder, reference, path=archive_file)
        with open_archive(archive_file) as archive:
            measured = measured_line(archive, begun.line)
        compared = compared_with_truth(measured, reference, workshop)
    return DemoOutcome(
        files=(*written.files, *workshop.descriptions.values()),
        archive=archive_file,
        line_id=str(begun.line.id),
        stations=tuple(len(single.readings) for single in measured.passes),
        results=written.results,
        truth=compared,
    )


def facts_of(scenario: Scenario) -> SetUpFile:
    """What the invented technician wrote down before the first reading."""
    line = LineEntry(name="carriage along the bed", axis="Z", from_mm=0.0, to_mm=scenario.travel_mm)
    setup = SetUpEntry(
        detector_side="tool",
        source=scenario.source,
        zero=scenario.zero,
        detector_offset_mm=scenario.detector_offset_mm,
        bearing_centre_mm=scenario.bearing_centre_mm,
        functional_point_mm=scenario.functional_point_mm,
        method="beam and position detector, read at standstill; level on the carriage",
    )
    state = MachineState(
        other_axes="cross slide in the middle of its travel",
        clamps="released",
        anchor_bolts="final",
        compensation="off",
        weight_compensation="none",
        warm_up="carriage driven for 30 min",
    )
    temperatures = (Temperature("air at the beam", 20.6), Temperature("bed top", 20.3), Temperature("bed foot", 20.1))
    return SetUpFile(line=line, set_up=setup, conditions=Conditions(state, temperatures))


def write_practice_files(scenario: str | Path, folder: Path) -> tuple[Path, Path]:
    """The machine file and the set-up file of a workshop, to practise ``capture`` with."""
    loaded = load_scenario(scenario)
    folder.mkdir(parents=True, exist_ok=True)
    machine, setup = folder / "machine.toml", folder / "line.toml"
    write_machine(loaded.machine, machine)
    write_setup_file(facts_of(loaded), setup)
    return machine, setup


def begin_in(workshop: Workshop, archive: Archive, clock: Clock) -> Begun:
    """The records of the as-found line of a workshop."""
    instruments = tuple(read_instrument(path) for path in workshop.descriptions.values())
    return keep(archive, workshop.machine, facts_of(workshop.scenario), instruments, TECHNICIAN, clock)


async def drive_and_take(
    archive: Archive,
    begun: Begun,
    workshop: Workshop,
    clock: Clock,
    observe: Observe,
    on_armed: Callable[[Pass], None] | None,
    programme: str = "whole",
) -> None:
    """Let the operator drive a programme, and take its passes: forward and backward, or forward only ("brief")."""
    passes = ("forward", "backward") if programme == "whole" else ("forward",)
    order = CaptureOrder(instruments=(), passes=passes, averaging_s=3.0)
    listeners, watchers = observe(begun)
    heard = _AllHeard({begun.position_channel, *begun.channels})
    taking = Taking(
        archive,
        begun,
        planned(begun, order, clock),
        clock,
        listeners=listeners,
        watchers=[*watchers, heard],
        on_armed=on_armed,
    )
    async with _watching(workshop, taking, heard, programme):
        await taking.run()


class _AllHeard:
    """Waits until every channel has been heard: before that no operator would be told to drive."""

    def __init__(self, channels: set[str]) -> None:
        self._channels = channels
        self._event = asyncio.Event()

    def __call__(self, live: Live) -> None:
        if self._channels <= live.latest.keys():
            self._event.set()

    async def wait(self) -> None:
        await self._event.wait()


@contextlib.asynccontextmanager
async def _watching(workshop: Workshop, taking: Taking, heard: _AllHeard, programme: str) -> AsyncIterator[None]:
    """Let the operator drive once all is heard.

    Taking stops when he has gone home: a pass that missed its last station would wait for ever.
    """

    async def watch() -> None:
        await heard.wait()
        workshop.drive(programme)
        await workshop.until_finished()
        await asyncio.sleep(1.0)
        taking.stop()

    watcher = asyncio.create_task(watch())
    try:
        yield
    finally:
        watcher.cancel()
        await asyncio.gather(watcher, return_exceptions=True)


def compared_with_truth(measured: MeasuredLine, reference: str, workshop: Workshop) -> tuple[TruthComparison, ...]:
    """What was measured against what only the workshop knows, as the machine stands now."""
    means = {name: joined(measured, name) for name in measured.codes()}
    return tuple(_compared(name, mean.position_mm, mean.mean, reference, workshop) for name, mean in means.items())


def _compared(name: str, position_mm: Floats, value: Floats, reference: str, workshop: Workshop) -> TruthComparison:
    truth: CarriageTruth = workshop.truth(position_mm)
    true = np.asarray(getattr(truth, next(field for field, known in _CODES.items() if known == name)))
    if name.startswith(("EA", "EB", "EC")):
        difference = (value - value.mean()) - (true - true.mean())
        return TruthComparison(name, float(np.ptp(value)), float(np.ptp(true)), float(np.abs(difference).max()))
    seen, real = (straightness(position_mm, item, reference) for item in (value, true))
    difference = seen.deviation_um - real.deviation_um
    return TruthComparison(name, seen.value_um, real.value_um, float(np.abs(difference).max()))
