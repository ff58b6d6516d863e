"""From a bed read with one level to a line that is corrected round by round, like any other."""

from __future__ import annotations

from dataclasses import replace

from waywright.archive import Archive
from waywright.clocks import Clock, new_id
from waywright.jobs.sheet_keep import machine_of
from waywright.jobs.sheet_level import LevelPlan
from waywright.jobs.typed import append_typed, begin_typed_pass, end_typed_pass
from waywright.machine import Machine
from waywright.visit import Line, SetUp
from waywright.visit.sheet import MeasuringSheet
from waywright.wording import text

HEIGHT, ROLL = "typed.height_um", "typed.roll_um_per_m"
_SEAL = 16


def line_of_level(archive: Archive, sheet: MeasuringSheet, found: LevelPlan, clock: Clock) -> Line:
    """Heights (mean of both ways) and roll at every place, in bed coordinates, kept as a line of the sheet's visit.

    The same readings make one line only, however often it is asked for. Steps at joints are not in it.
    """
    method = text("sheet.line_method", seal=_seal(archive, sheet))
    for line in archive.lines(sheet.visit_id):
        if any(setup.method == method for setup in archive.setups(line.id)):
            return line
    machine = _described(archive, sheet, found.machine)
    x = found.bed.position_mm
    name = text("sheet.line_name", title=sheet.title)
    line = Line(new_id(clock.utc()), sheet.visit_id, name, _axis_along(machine), "guideway", float(x[0]), float(x[-1]),
                "as-left" if archive.lines(sheet.visit_id) else "as-found")  # fmt: skip
    archive.save(line)
    taken = begin_typed_pass(archive, machine, line, "forward", [HEIGHT, ROLL], clock)
    archive.save(replace(archive.load(SetUp, taken.setup_id), method=method))
    for at, height, roll in zip(x, found.bed.height_um, found.bed.across_um_per_m, strict=True):
        append_typed(archive, taken.id, float(at), {HEIGHT: float(height), ROLL: float(roll)}, clock)
    end_typed_pass(archive, taken.id, clock)
    return line


def _described(archive: Archive, sheet: MeasuringSheet, machine: Machine) -> Machine:
    """The machine of the sheet's visit, with what the machine file says of it."""
    known, _ = machine_of(archive, sheet)
    made = replace(machine, id=known.id)
    archive.save(made)
    return made


def _axis_along(machine: Machine) -> str:
    """The axis that runs along the bed."""
    return next(axis for axis in "XYZ" if machine.axes.vector(axis)[0] != 0)


def _seal(archive: Archive, sheet: MeasuringSheet) -> str:
    seals = [readings[-1].hash for taken in archive.passes(sheet.id) if (readings := archive.readings(taken.id))]
    return seals[-1].hex()[:_SEAL] if seals else "-"
