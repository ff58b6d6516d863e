"""What a kept line says beyond its deviations: its passes compared, both planes in space, twist."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from waywright.drawing import PRINT
from waywright.errors import BadInput
from waywright.evaluate import spatial_straightness, twist
from waywright.jobs.drawn import drawn
from waywright.jobs.judge_lines import SpatialResult, TwistResult
from waywright.jobs.line_passes import passes_of_line
from waywright.jobs.measured import MeasuredLine, joined
from waywright.jobs.told import told
from waywright.quantities import code
from waywright.report import FurtherContent

_WIDTH = 660.0


def further_of_line(measured: MeasuredLine) -> tuple[FurtherContent, ...]:
    """One entry for each quantity with two passes or more, for both planes together, and for the roll."""
    zero = measured.passes[-1].setup.zero
    grows_left = zero is not None and zero.sense < 0
    return tuple(
        FurtherContent(kind, told(result), drawn(result, PRINT, _WIDTH, grows_left))
        for kind, result in _results(measured)
    )


def _results(measured: MeasuredLine) -> Iterator[tuple[str, object]]:
    codes = [code(name) for name in measured.codes()]
    straight = [found.text for found in codes if found.is_straightness]
    for name in straight if len(measured.passes) > 1 else ():
        yield "passes", passes_of_line(measured, name)
    if len(straight) == 2 and (spatial := _spatial(measured, straight)) is not None:
        yield "spatial", spatial
    for found in codes:
        if found.is_rotation and found.direction == found.axis:
            yield "twist", _twist(measured, found.text)


def _spatial(measured: MeasuredLine, names: list[str]) -> SpatialResult | None:
    """Both planes at the same stations; None where they were not measured together."""
    first, second = (joined(measured, name) for name in names)
    if not np.array_equal(first.position_mm, second.position_mm):
        return None
    x = first.position_mm
    try:
        found = spatial_straightness(x, first.mean, second.mean)
    except BadInput:
        return None
    off = first.mean - found.horizontal.at(x), second.mean - found.vertical.at(x)
    return SpatialResult(names[0], names[1], len(measured.passes), x, off[0], off[1], found)


def _twist(measured: MeasuredLine, name: str) -> TwistResult:
    roll, bed = joined(measured, name), measured.machine.bed
    gauge_mm = bed.gauge_mm if bed is not None else None
    found = twist(roll.position_mm, roll.mean, gauge_mm)
    return TwistResult(name, len(measured.passes), roll.position_mm, roll.mean, found)
