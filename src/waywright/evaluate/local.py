"""Straightness in a window of given length that slides along the line (ISO 230-1: local tolerance).

The windows are all those that lie inside the measured length and begin or end at a station; between two of them
the set of stations in the window stays the same. An end between two stations is interpolated linearly.
Every window must hold at least four real stations, its ends included, or a dip could pass between them unseen:
stations must stand no further apart than a third of the window. Otherwise nothing is judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.results import LocalStraightness, Reason
from waywright.evaluate.straightness import REFERENCES, straightness

FEWEST_IN_WINDOW = 4
_SAME = 1e-9  # of the line's length: closer than this is the same place


@dataclass(frozen=True, slots=True)
class _Window:
    """Stations ``first`` to ``last - 1`` inside, and whether an interpolated end stands before and after them."""

    start_mm: float
    end_mm: float
    first: int
    last: int
    before: bool
    after: bool


def local_straightness(
    position_mm: npt.ArrayLike,
    deviation_um: npt.ArrayLike,
    window_mm: float,
    reference: str = "end-points",
) -> LocalStraightness:
    """The largest straightness in any window of ``window_mm``, each about its own reference line.

    ``position_mm`` (n,) different positions in any order; ``deviation_um`` (n,) or (n, draws). With fewer than four
    stations in any window the record carries no value but a reason. Raises BadInput like ``straightness``, and
    for repeated positions, a window that is not positive or longer than the measured length.
    """
    x = positions(position_mm)
    y = values(deviation_um, x)
    order = x.argsort(kind="stable")
    x, y = x[order], y[order]
    _check(x, window_mm, reference)
    windows = list(_windows(x, window_mm))
    spacing = float(np.diff(x).max())
    fewest = min(window.last - window.first for window in windows)
    if fewest < FEWEST_IN_WINDOW:
        facts = {"spacing_mm": spacing, "needed_mm": window_mm / (FEWEST_IN_WINDOW - 1), "window_mm": window_mm}
        reason = Reason("evaluate.not_judged_spacing", facts)
        return LocalStraightness(reference, window_mm, None, None, None, None, len(windows), spacing, fewest, reason)
    value, start, before, after = _worst(x, y, windows, reference)
    return LocalStraightness(reference, window_mm, value, start, before, after, len(windows), spacing, fewest)


def _check(x: FloatArray, window_mm: float, reference: str) -> None:
    if reference not in REFERENCES:
        raise BadInput("evaluate.unknown_reference", reference=reference, known=", ".join(REFERENCES))
    if (repeated := np.flatnonzero(np.diff(x) == 0.0)).size:
        raise BadInput("evaluate.position_repeated", position_mm=float(x[repeated[0]]))
    length = float(x[-1] - x[0])
    if not 0.0 < window_mm <= length * (1.0 + _SAME):
        raise BadInput("evaluate.window_length", window_mm=window_mm, length_mm=length)


def _windows(x: FloatArray, window_mm: float) -> Iterator[_Window]:
    """Windows from left to right, each place once."""
    same = _SAME * (x[-1] - x[0])
    starts = np.sort(np.concatenate([x[x + window_mm <= x[-1] + same], (x - window_mm)[x - window_mm >= x[0] - same]]))
    previous = -np.inf
    for start in starts.tolist():
        if start - previous <= same:
            continue
        previous, end = start, start + window_mm
        first, last = int(np.searchsorted(x, start - same)), int(np.searchsorted(x, end + same))
        yield _Window(start, end, first, last, bool(x[first] > start + same), bool(x[last - 1] < end - same))


def _worst(x: FloatArray, y: FloatArray, windows: list[_Window], reference: str) -> tuple[PerDraw, ...]:
    """Largest value, where its window starts, and whether its ends are interpolated; per draw."""
    table = np.array([_value(x, y, window, reference) for window in windows])
    place = table.argmax(axis=0)
    start = np.array([window.start_mm for window in windows])
    before = np.array([window.before for window in windows])
    after = np.array([window.after for window in windows])
    value = table.max(axis=0)
    if y.ndim == 1:
        return float(value), float(start[place]), bool(before[place]), bool(after[place])
    return value, start[place], before[place], after[place]


def _value(x: FloatArray, y: FloatArray, window: _Window, reference: str) -> PerDraw:
    place, height = [x[window.first : window.last]], [y[window.first : window.last]]
    if window.before:
        place.insert(0, np.array([window.start_mm]))
        height.insert(0, _between(x, y, window.first - 1, window.start_mm))
    if window.after:
        place.append(np.array([window.end_mm]))
        height.append(_between(x, y, window.last - 1, window.end_mm))
    x_all, y_all = np.concatenate(place), np.concatenate(height)
    if reference != "end-points":
        return straightness(x_all, y_all, reference).value_um
    share = (x_all - x_all[0]) / (x_all[-1] - x_all[0])
    off = y_all - np.multiply.outer(share, y_all[-1] - y_all[0])
    return off.max(axis=0) - off.min(axis=0)


def _between(x: FloatArray, y: FloatArray, left: int, place_mm: float) -> FloatArray:
    """The reading at a place between station ``left`` and the next, with a leading axis of one."""
    share = (place_mm - x[left]) / (x[left + 1] - x[left])
    between: FloatArray = y[left : left + 1] * (1.0 - share) + y[left + 1 : left + 2] * share
    return between
