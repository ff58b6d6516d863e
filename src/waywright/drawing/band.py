"""The tolerance band: as wide as the tolerance, laid where it fits best."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

_EDGE = 1e-9  # a value exactly as large as its tolerance is inside, whatever its last bit says


@dataclass(frozen=True, slots=True)
class Band:
    """A band between ``low`` and ``high`` and, for each value, whether it lies outside."""

    low: float
    high: float
    outside: tuple[bool, ...]

    @property
    def holds_all(self) -> bool:
        """Whether nothing is outside."""
        return not any(self.outside)


def fitted_band(values: Sequence[float], width: float) -> Band:
    """Lay a band of ``width`` over values so that as few as possible are outside.

    Where all fit it lies in the middle of them. Otherwise, of all places that leave the fewest outside, the one
    nearest to the middle of all values. The band moves up and down only; the reference line gives its slope.
    """
    if not values:
        return Band(-width / 2, width / 2, ())
    ordered = sorted(values)
    slack = _EDGE * max(width, ordered[-1] - ordered[0])
    middle = (ordered[0] + ordered[-1]) / 2
    centre = min(_best_centres(ordered, width + slack, middle), key=lambda place: abs(place - middle))
    low, high = centre - width / 2, centre + width / 2
    return Band(low, high, tuple(not low - slack <= value <= high + slack for value in values))


def _best_centres(ordered: list[float], width: float, middle: float) -> list[float]:
    """For every run of values that holds as many as any can: the centre nearest to the middle that holds the run."""
    ends = [bisect_right(ordered, low + width) for low in ordered]
    most = max(end - start for start, end in enumerate(ends))
    runs = [(ordered[start], ordered[end - 1]) for start, end in enumerate(ends) if end - start == most]
    return [min(max(middle, high - width / 2), low + width / 2) for low, high in runs]
