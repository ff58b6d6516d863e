"""Numbers that are announced only when they change: held, and written as a line at even intervals."""

from __future__ import annotations

import math
from collections.abc import Sequence

from waywright.clocks import Clock
from waywright.instruments.description import UNAVAILABLE
from waywright.instruments.links.fed import Fed


class HeldValues:
    """The newest value of each named item."""

    def __init__(self, items: Sequence[str]) -> None:
        self._values: dict[str, float | None] = dict.fromkeys(items)

    @property
    def items(self) -> tuple[str, ...]:
        """Names in the order of the channels."""
        return tuple(self._values)

    def hold(self, item: str, value: object) -> None:
        """A value was announced; one that is no number counts as unavailable."""
        self._values[item] = _number(value)

    def differs(self, item: str, value: object) -> bool:
        """Whether this is another value than the one held."""
        return self._values[item] != _number(value)

    def line(self) -> bytes:
        """All values as one line; written so that they are read back exactly."""
        words = (UNAVAILABLE if value is None else repr(value) for value in self._values.values())
        return " ".join(words).encode()


async def write_lines(fed: Fed, held: HeldValues, clock: Clock, period_s: float) -> None:
    """A line every period, for ever: an axis that stands announces nothing, and yet it is there."""
    next_s = clock.monotonic_s()
    while True:
        fed.feed(held.line())
        next_s = max(next_s + period_s, clock.monotonic_s())
        await clock.sleep(next_s - clock.monotonic_s())


def _number(value: object) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    try:
        number = float(value)
    except ValueError:
        return None
    return number if math.isfinite(number) else None
