"""The explanations that are tried on passes that do not agree: one column for each pass, kind and place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.passes import CommonStations
from waywright.evaluate.unknown_profile import UnknownProfile


@dataclass(frozen=True, slots=True, eq=False)
class Alternatives:
    """``block`` (passes, m, k): what one unit of each explanation adds to the readings; where and what it is.

    ``which`` is the pass, counted from 0; the explanation lies or begins between ``low_mm`` and ``high_mm``.
    """

    block: FloatArray
    kind: tuple[str, ...]
    which: tuple[int, ...]
    low_mm: tuple[float, ...]
    high_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _One:
    kind: str
    which: int
    low_mm: float
    high_mm: float
    column: FloatArray


def alternatives_of(common: CommonStations, profile: UnknownProfile) -> Alternatives:
    """Spikes at every station, steps and shifts from every station on in the order of reading.

    A shift by one station adds the rise of the profile towards the next station; the profile is the one estimated from
    all passes, which for independent errors does not depend on how the passes differ.
    """
    shape = profile.estimate(common.value)
    rises = [_rise(row) for row in shape]
    of_group = {int(g): rises[k] for k, g in enumerate(np.unique(profile.group))}
    found = [
        one
        for which in range(common.value.shape[0])
        for one in _of_pass(common, which, of_group[int(profile.group[which])])
    ]
    block = np.zeros((*common.value.shape[:2], len(found)))
    for k, one in enumerate(found):
        block[one.which, :, k] = one.column
    return Alternatives(
        block,
        tuple(one.kind for one in found),
        tuple(one.which for one in found),
        tuple(one.low_mm for one in found),
        tuple(one.high_mm for one in found),
    )


def _of_pass(common: CommonStations, which: int, rise: FloatArray) -> Iterator[_One]:
    x = common.position_mm
    order: npt.NDArray[np.intp] = np.arange(x.size) if common.ascending[which] else np.arange(x.size)[::-1]
    for station in range(x.size):
        column = np.zeros(x.size)
        column[station] = 1.0
        yield _One("spike", which, float(x[station]), float(x[station]), column)
    for first in range(1, x.size):
        column = np.zeros(x.size)
        column[order[first:]] = 1.0
        yield _One("step", which, *_gap(x, order, first), column)
    for first in range(x.size - 1):
        column = np.zeros(x.size)
        column[order[first:]] = rise[order[first:]]
        yield _One("shift", which, *_gap(x, order, first), column)


def _gap(x: FloatArray, order: npt.NDArray[np.intp], first: int) -> tuple[float, float]:
    """Between which stations something began that the station ``first`` of the order shows."""
    ends = sorted((float(x[order[max(first - 1, 0)]]), float(x[order[first]])))
    return ends[0], ends[1]


def _rise(shape: FloatArray) -> FloatArray:
    """Change of the profile from one station to the next, half of that over two, at the ends over one."""
    return np.asarray(np.gradient(shape))
