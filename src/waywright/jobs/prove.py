"""Prove: the report of a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from waywright import __version__
from waywright.archive import Archive, open_archive
from waywright.errors import BadInput
from waywright.jobs.further import further_of_line
from waywright.jobs.judge import StraightnessResult
from waywright.jobs.measured import (
    MeasuredLine,
    MeasuredPass,
    find_line,
    joined,
    measured_line,
    on_screen,
    positive_on_screen,
    results_of_line,
)
from waywright.jobs.remember import archive_path
from waywright.quantities import Direction, code
from waywright.readings import Floats
from waywright.report import (
    LineValue,
    PassContent,
    PassCurve,
    QuantityContent,
    ReportContent,
    write_report,
)
from waywright.visit import Person

ALGORITHM_VERSION = "1"
"""Goes up whenever the same readings would give another figure; the changelog says by how much it moves."""


_EVERYDAY = ("instruments.connected", "capture.travel_end")
"""Events that every pass has; the archive keeps them, a report needs not print them."""


@dataclass(frozen=True, slots=True)
class WrittenReport:
    """Where a report lies and what it says."""

    files: tuple[Path, ...]
    results: tuple[StraightnessResult, ...]


def report_of_line(
    line: str | None,
    folder: Path,
    reference: str = "least-squares",
    window_mm: float | None = None,
    path: Path | None = None,
) -> WrittenReport:
    """Write the report of a line, by default the newest. Raises BadInput where there is nothing to report."""
    with open_archive(archive_path(path)) as archive:
        measured = measured_line(archive, find_line(archive, line))
        results = results_of_line(measured, reference, window_mm)
        content = report_content(measured, results, _technician(archive, measured), _made_utc(measured))
    written = write_report(content, folder)
    return WrittenReport((written.pdf, written.workbook, written.table), results)


def report_content(
    measured: MeasuredLine, results: Sequence[StraightnessResult], technician: str | None, made_utc: datetime
) -> ReportContent:
    """What the report of a line says."""
    if not measured.passes:
        raise BadInput("jobs.no_readings", line=measured.line.name)
    quantities = [*(_straightness(each) for each in _by_code(results)), *_rotations(measured)]
    return ReportContent(
        made_utc=made_utc,
        machine=measured.machine,
        line=measured.line,
        setup=measured.passes[-1].setup,
        quantities=tuple(quantities),
        passes=tuple(_pass(single) for single in measured.passes),
        software_version=__version__,
        algorithm_version=ALGORITHM_VERSION,
        technician=technician,
        purpose=measured.visit.purpose,
        further=further_of_line(measured),
    )


def _made_utc(measured: MeasuredLine) -> datetime:
    """Now, but never before what is reported: clocks of practice run ahead."""
    ends = [single.taken.ended_utc for single in measured.passes if single.taken.ended_utc is not None]
    return max([datetime.now(UTC), *ends])


def _technician(archive: Archive, measured: MeasuredLine) -> str | None:
    technician = measured.visit.technician_id
    return None if technician is None else archive.load(Person, technician).name


def _by_code(results: Sequence[StraightnessResult]) -> list[list[StraightnessResult]]:
    groups: dict[str, list[StraightnessResult]] = {}
    for result in results:
        groups.setdefault(result.code, []).append(result)
    return list(groups.values())


def _straightness(results: list[StraightnessResult]) -> QuantityContent:
    """The last result is the mean of the passes, or the only pass."""
    chosen = results[-1]
    order = sorted(chosen.by_reference, key=lambda name: name != chosen.reference)
    return QuantityContent(
        code=code(chosen.code),
        on_screen=Direction(str(chosen.positive)),
        values=tuple(_line_value(chosen, name) for name in order),
        position_mm=tuple(chosen.position_mm.tolist()),
        deviation=tuple(chosen.deviation_um.tolist()),
        passes=tuple(
            PassCurve(r.pass_number, r.direction or "", tuple(r.position_mm.tolist()), tuple(r.deviation_um.tolist()))
            for r in results
            if r.pass_number is not None
        ),
    )


def _rotations(measured: MeasuredLine) -> list[QuantityContent]:
    """Rotations as read, about no line."""
    wanted = [name for name in measured.codes() if code(name).is_rotation]
    return [_rotation(measured, name) for name in wanted]


def _rotation(measured: MeasuredLine, quantity: str) -> QuantityContent:
    mean = joined(measured, quantity)
    return QuantityContent(
        code=code(quantity),
        on_screen=positive_on_screen(measured, quantity),
        values=(_as_read(mean.position_mm, mean.mean),),
        position_mm=tuple(mean.position_mm.tolist()),
        deviation=tuple(mean.mean.tolist()),
        passes=tuple(
            PassCurve(
                single.taken.number,
                single.taken.direction,
                tuple(single.profile.position_mm.tolist()),
                tuple(on_screen(single, quantity).tolist()),
            )
            for single in measured.passes
        ),
    )


def _as_read(position_mm: Floats, value: Floats) -> LineValue:
    high, low = int(np.argmax(value)), int(np.argmin(value))
    largest, smallest = float(value[high]), float(value[low])
    return LineValue("none", largest - smallest, largest, float(position_mm[high]), smallest, float(position_mm[low]))


def _line_value(result: StraightnessResult, reference: str) -> LineValue:
    found = result.by_reference[reference]
    return LineValue(
        reference, found.value_um, found.largest_um, found.largest_at_mm, found.smallest_um, found.smallest_at_mm
    )


def _pass(single: MeasuredPass) -> PassContent:
    taken = single.taken
    return PassContent(
        number=taken.number,
        direction=taken.direction,
        began_utc=taken.began_utc,
        profile=single.profile,
        ended_utc=taken.ended_utc,
        outcome=taken.outcome,
        settings=taken.settings,
        conditions=taken.conditions,
        events=tuple(event for event in single.events if event.key not in _EVERYDAY),
        repeated=single.superseded,
        last_hash=single.readings[-1].hash.hex(),
    )
