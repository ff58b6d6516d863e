"""Watch: the kept passes of a line beside each other, and which station to take again. Nothing is changed."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.archive import open_archive
from waywright.evaluate.anomalies import check_passes
from waywright.evaluate.results import Reason
from waywright.guard import Finding, PassSoFar, Remark
from waywright.guard.watching import beside_neighbours, stations_amiss
from waywright.jobs.measured import MeasuredLine, find_line, measured_line, on_screen
from waywright.jobs.remember import archive_path

_UNIT = {True: "um/m", False: "um"}


@dataclass(frozen=True, slots=True)
class Watched:
    """One finding on a line. ``passes`` are the numbers of the passes that it may lie in, ``code`` the quantity (None
    for stations, which all quantities share); ``position_mm`` is the station to take again, or where it begins.
    """

    remark: Remark
    passes: str
    code: str | None
    position_mm: float | None
    why: Reason


def watch(line: str | None = None, path: Path | None = None, false_alarm: float = 0.01) -> tuple[Watched, ...]:
    """Everything that the passes of a line (the newest without a name) say against each other."""
    with open_archive(archive_path(path)) as archive:
        return watched(measured_line(archive, find_line(archive, line)), false_alarm)


def watched(measured: MeasuredLine, false_alarm: float = 0.01) -> tuple[Watched, ...]:
    """Stations missed or doubled, then every quantity; ``false_alarm`` is shared by the quantities."""
    found = []
    for single in measured.passes:
        x = single.profile.position_mm
        if x.size > 1:
            number = str(single.taken.number)
            spacing = float(np.median(np.abs(np.diff(x))))
            found += [_plain(one, number, None) for one in stations_amiss(x, spacing)]
    codes = measured.codes()
    for code in codes:
        found += _of_quantity(measured, code, false_alarm / len(codes))
    return tuple(found)


def _of_quantity(measured: MeasuredLine, code: str, share: float) -> list[Watched]:
    passes = [
        PassSoFar(single.profile.position_mm, on_screen(single, code), single.taken.direction, 1.0)
        for single in measured.passes
        if single.profile.position_mm.size >= 3 and bool(np.isfinite(on_screen(single, code)).all())
    ]
    numbers = [str(single.taken.number) for single in measured.passes]
    if len(passes) == 1:
        only = passes[0]
        near = beside_neighbours(np.asarray(only.position_mm), np.asarray(only.value), share)
        return [_plain(one, numbers[0], code) for one in near]
    if len(passes) != len(measured.passes) or not passes:
        return []
    unit = _UNIT[measured.passes[0].profile.column(code).code.is_rotation]  # type: ignore[union-attr]
    return [
        Watched(
            Remark(anomaly.kind),
            " or ".join(numbers[which - 1] for which in anomaly.passes),
            code,
            anomaly.from_mm,
            Reason(anomaly.reason.key, {**anomaly.reason.facts, "unit": unit}),
        )
        for anomaly in check_passes([one.traverse() for one in passes], false_alarm=share).found
    ]


def _plain(one: Finding, number: str, code: str | None) -> Watched:
    return Watched(one.remark, number, code, one.position_mm, one.why)
