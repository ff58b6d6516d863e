"""How the places of a row are read: once each, pair by pair with the level turned, or all again in another state."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.plain_rows import without_zero, zero_found
from waywright.quantities import Kind

Entry = tuple[str, str]
"""Place and state."""


@dataclass(frozen=True, slots=True)
class Layout:
    """The order of the entries of a row.

    ``states`` reads all places in each of them, one state after the other; ``pairs`` makes every place of a turned row
    be read twice, at once; ``means`` makes the two halves of a turned row count by their mean. ``usual`` are the places
    where the row names none, ``exactly`` how many there must be.
    """

    states: tuple[str, ...] = ("",)
    pairs: bool = False
    means: bool = False
    usual: tuple[str, ...] = ()
    exactly: int | None = None

    def entries(self, places: tuple[str, ...], turned: bool) -> tuple[Entry, ...]:
        """What is read, in order."""
        if turned and self.pairs:
            return tuple((place, state) for place in places for state in ("", "turned"))
        states = ("", "turned") if turned and self.means else self.states
        return tuple((place, state) for state in states for place in places)

    def joined(self, reading: FloatArray, turned: bool) -> FloatArray:
        """Readings as the kind works with them: turned ones joined with their partners."""
        if turned and self.pairs:
            return without_zero(reading)
        if turned and self.means:
            half = reading.shape[0] // 2
            return np.asarray((reading[:half] + reading[half:]) / 2.0)
        return reading

    def own_figures(self, reading: FloatArray, turned: bool, kind: Kind) -> tuple[tuple[str, float, str], ...]:
        """What turning shows of the instrument itself: a level's zero and how much it moved, an artefact's part."""
        unit = "um/m" if kind is Kind.ANGLE else "um"
        if turned and self.pairs:
            zero = zero_found(reading)
            return (("zero", float(zero.mean()), unit), ("zero_moved", float(np.ptp(zero)), unit))
        if turned and self.means:
            half = reading.shape[0] // 2
            own = (reading[:half] - reading[half:]) / 2.0
            return (("own", float(np.ptp(own)), unit),)
        return ()

    def place_index(self, places: int, turned: bool) -> tuple[int, ...]:
        """The place of each entry, by number."""
        if turned and self.pairs:
            return tuple(place for place in range(places) for _ in range(2))
        states = 2 if turned and self.means else len(self.states)
        return tuple(range(places)) * states

    def turned_sign(self, places: int, turned: bool) -> tuple[int, ...]:
        """-1 for readings with the artefact turned over, +1 for the others."""
        if turned and self.means:
            return (1,) * places + (-1,) * places
        return (1,) * len(self.entries(("",) * places, turned))


ALONE = Layout()
LEVEL = Layout(pairs=True)
MEANS = Layout(means=True)
NEAR_FAR = Layout(means=True, usual=("near", "far"))
ENDS = Layout(means=True, usual=("headstock", "tailstock"), exactly=2)
HALF_TURN = Layout(usual=("0°", "180°"), exactly=2)
MANDREL = Layout(states=("at-0", "at-180"), usual=("near", "far"))
DISC = Layout(states=("at-0", "at-180"), usual=("rim", "centre"))
TWO_LINES = Layout(states=("line-1", "line-2"))
RAM = Layout(states=("off", "on"))
