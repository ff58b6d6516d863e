"""Round numbers for axes, and an exaggeration that can be said in words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from waywright.drawing.lettering import width_of

_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


def round_down(value: float) -> float:
    """The largest of 1, 2, 2.5, 5 times a power of ten that is not above ``value`` (positive)."""
    power = 10.0 ** math.floor(math.log10(value))
    return max(step * power for step in _STEPS if step * power <= value * (1 + 1e-12))


def round_up(value: float) -> float:
    """The smallest of 1, 2, 2.5, 5 times a power of ten that is not below ``value`` (positive)."""
    power = 10.0 ** math.floor(math.log10(value))
    return min(step * power for step in _STEPS if step * power >= value * (1 - 1e-12))


def ticks(low: float, high: float, about: int) -> list[float]:
    """Round values from ``low`` to ``high`` in some ``about`` steps."""
    step = round_up(max(high - low, 1e-9) / max(about, 1))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [index * step for index in range(first, last + 1)]


def decimals_of(values: Sequence[float]) -> int:
    """How many decimals ticks need so that they differ as printed."""
    step = min((b - a for a, b in pairwise(values)), default=1.0)
    return next((d for d in range(6) if abs(step * 10**d - round(step * 10**d)) < 1e-6), 6)


def room_for(places: Iterable[tuple[float, str]], size: float, gap: float = 10.0) -> list[tuple[float, str]]:
    """Centred labels thinned evenly until none touches the next: every one, every second, every fifth ..."""
    ordered = sorted(places)
    for every in range(1, len(ordered) + 1):
        kept = ordered[::every]
        if all(b[0] - a[0] >= (width_of(a[1], size) + width_of(b[1], size)) / 2 + gap for a, b in pairwise(kept)):
            return kept
    return []
