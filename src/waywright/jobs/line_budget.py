"""The budget of a kept line: what the visit itself has measured takes the place of what was only assumed."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from waywright.evaluate import fit, slope_source
from waywright.jobs.measured import MeasuredLine, joined
from waywright.quantities import code
from waywright.readings import Floats
from waywright.uncertainty import Acts, Budget, Contribution, Judged, Measured, measured_of

SCATTER, REPEATABILITY = "scatter of a reading", "repeatability of the axis"


def judged_line(measured: MeasuredLine, quantity: str, budget: Budget) -> Judged:
    """The mean of the passes of a line with everything a budget works with: source, joins, angle, other deviation."""
    mean = joined(measured, quantity)
    order = np.argsort(mean.position_mm)
    x = mean.position_mm[order]
    readings = measured_of(
        x,
        mean.mean[order],
        source_mm=_source_mm(measured),
        passes=len(measured.passes),
        joins_mm=_joins_mm(measured),
        angle_um_per_m=_beside(measured, slope_source(quantity)[0], x),
        cross_um=_beside(measured, _other(measured, quantity), x),
    )
    ways = {single.taken.direction for single in measured.passes}
    return Judged(replace(readings, both_ways=len(ways) > 1), with_measured(budget, measured, quantity, readings))


def with_measured(budget: Budget, measured: MeasuredLine, quantity: str, readings: Measured) -> Budget:
    """Scatter of a reading from the samples, repeatability of the axis from the passes; only what was assumed yields.

    The samples' scatter is that of their mean. Passes are compared without the level and tilt of each, and what the
    samples already explain is taken off.
    """
    scatter, passes = _scatter_um(measured, quantity), _between_passes(measured, quantity)
    found: dict[str, tuple[float, float]] = {} if scatter is None else {SCATTER: scatter}
    if passes is not None:
        explained = 0.0 if scatter is None else scatter[0]
        found[REPEATABILITY] = (math.sqrt(max(passes[0] ** 2 - explained**2, 0.0)), passes[1])
    return replace(budget, contribution=tuple(_measured(one, found) for one in budget.contribution))


def _measured(one: Contribution, found: dict[str, tuple[float, float]]) -> Contribution:
    if one.name not in found or one.acts is not Acts.READING or one.source != "assumed":
        return one
    value, freedom = found[one.name]
    return replace(one, value=value, distribution="normal", degrees_of_freedom=freedom, source="measured", note="")


def _scatter_um(measured: MeasuredLine, quantity: str) -> tuple[float, float] | None:
    """Root mean square of the means' standard deviations, and its degrees of freedom; None where not known."""
    columns = [single.profile.column(quantity) for single in measured.passes]
    kept = [column for column in columns if column is not None]
    samples = np.concatenate([column.samples for column in kept]).astype(np.float64)
    spread = np.concatenate([column.standard_deviation for column in kept])
    usable = (samples > 1.0) & np.isfinite(spread)
    if not usable.any() or not (spread[usable] > 0.0).any():
        return None
    of_mean = spread[usable] ** 2 / samples[usable]
    return math.sqrt(float(of_mean.mean())), float((samples[usable] - 1.0).sum())


def _between_passes(measured: MeasuredLine, quantity: str) -> tuple[float, float] | None:
    """Standard deviation of a pass about the mean of the passes, without level and tilt; None with one pass."""
    each = joined(measured, quantity).each
    count, stations = each.shape
    if count < 2 or stations < 4:
        return None
    x = np.linspace(-1.0, 1.0, stations)
    line = np.stack([np.ones(stations), x], axis=1)
    left = each - each.mean(axis=0)
    left = fit(line, left.T).residual
    freedom = (count - 1) * (stations - 2)
    return math.sqrt(float((left**2).sum()) / freedom), float(freedom)


def _source_mm(measured: MeasuredLine) -> float | None:
    """Where the source stands as a position of the line, if that was recorded."""
    setup = measured.passes[-1].setup
    bed, zero, source = measured.machine.bed, setup.zero, setup.source
    if bed is None or zero is None or source is None or source.bed_mm is None:
        return None
    mark = next((mark for mark in measured.machine.marks if mark.name == zero.mark), None)
    return None if mark is None else (source.bed_mm - mark.bed_mm - zero.offset_mm) / zero.sense


def _joins_mm(measured: MeasuredLine) -> tuple[float, ...]:
    """The middle of the overlap of neighbouring segments."""
    reach: dict[int, list[float]] = {}
    for single in measured.passes:
        reach.setdefault(single.setup.segment, []).extend(single.profile.position_mm.tolist())
    parts = sorted((min(places), max(places)) for places in reach.values())
    return tuple((one[1] + other[0]) / 2.0 for one, other in pairwise(parts))


def _other(measured: MeasuredLine, quantity: str) -> str | None:
    """The other straightness of the same axis."""
    return next((name for name in measured.codes() if name != quantity and code(name).is_straightness), None)


def _beside(measured: MeasuredLine, quantity: str | None, position_mm: Floats) -> Floats | None:
    """Another quantity of the line at the same stations, if it was measured."""
    if quantity is None or quantity not in measured.codes():
        return None
    mean = joined(measured, quantity)
    order = np.argsort(mean.position_mm)
    return np.interp(position_mm, mean.position_mm[order], mean.mean[order])
