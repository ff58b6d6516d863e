"""Two states of a bed laid over each other by the machine's marks: what changed, and whether supports did it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.archive import Archive
from waywright.errors import BadInput
from waywright.evaluate.change import Change, change_between
from waywright.jobs.bed_seen import Seen, seen_in_line
from waywright.jobs.measured import MeasuredLine, find_line, joined, measured_line
from waywright.machine import Machine, Support
from waywright.visit import PositionZero

_LEAST_NOISE_UM = 0.1


@dataclass(frozen=True, slots=True, eq=False)
class Compared:
    """Two lines and how they differ; ``twist`` is the change of roll (um/m, operator's side up) without its mean.

    ``support_names`` go with ``height.support_um``.
    """

    machine: Machine
    first: MeasuredLine
    second: MeasuredLine
    height: Change
    support_names: tuple[str, ...]
    twist_um_per_m: tuple[float, ...] | None


def compare(archive: Archive, first: str, second: str) -> Compared:
    """The second line minus the first, in bed coordinates.

    Raises BadInput for lines of two machines, lines that are not tied to a mark, or that share no stretch.
    """
    one, other = (measured_line(archive, find_line(archive, name)) for name in (first, second))
    if one.machine.id != other.machine.id:
        raise BadInput("history.other_machine", first=one.machine.name, second=other.machine.name)
    before, after = seen_in_line(one, _zero(one)), seen_in_line(other, _zero(other))
    supports = one.machine.bed.supports if one.machine.bed else ()
    noise_um = math.hypot(_noise_um(one), _noise_um(other))
    height = change_between(
        before.bed_mm, before.height_um, after.bed_mm, after.height_um, [s.bed_mm for s in supports], noise_um
    )
    return Compared(one.machine, one, other, height, _names(supports, height), _twist(before, after, height))


def _names(supports: Sequence[Support], height: Change) -> tuple[str, ...]:
    """Supports within the stretch, those at the same place (front and rear) together."""
    places: dict[float, list[str]] = {}
    for support in supports:
        if height.position_mm.min() < support.bed_mm < height.position_mm.max():
            places.setdefault(support.bed_mm, []).append(support.name)
    return tuple(" + ".join(names) for _, names in sorted(places.items()))


def _zero(measured: MeasuredLine) -> PositionZero:
    """Where the line lies on the bed. Raises BadInput where that was not recorded."""
    zeros = [single.setup.zero for single in measured.passes if single.setup.zero is not None]
    if not zeros:
        raise BadInput("history.no_mark", line=measured.line.name)
    return zeros[-1]


def _noise_um(measured: MeasuredLine) -> float:
    """Standard uncertainty of a station of the mean: from the passes where there are two, else from the samples."""
    name = next(each for each in measured.codes())
    mean = joined(measured, name)
    if mean.passes > 1:
        centred = mean.each - mean.each.mean(axis=1, keepdims=True)
        spread = float(np.sqrt(np.nanmean(np.nanvar(centred, axis=0, ddof=1)))) / math.sqrt(mean.passes)
        return max(spread, _LEAST_NOISE_UM)
    column = measured.passes[0].profile.column(name)
    if column is None or not np.isfinite(column.standard_deviation).any():
        return 1.0
    return max(
        float(np.sqrt(np.nanmean(column.standard_deviation**2 / np.maximum(column.samples, 1)))), _LEAST_NOISE_UM
    )


def _twist(before: Seen, after: Seen, height: Change) -> tuple[float, ...] | None:
    if before.roll_um_per_m is None or after.roll_um_per_m is None:
        return None
    rolls = [
        np.interp(height.position_mm, seen.bed_mm[order], np.asarray(seen.roll_um_per_m)[order])
        for seen in (before, after)
        for order in [np.argsort(seen.bed_mm)]
    ]
    change = rolls[1] - rolls[0]
    return tuple(float(each) for each in change - change.mean())
