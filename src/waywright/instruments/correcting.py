"""From what a channel says to what it should have said: scale, error of indication, roll of the detector."""

from __future__ import annotations

import numpy as np

from waywright.instruments.batches import Flaw, Flaws
from waywright.instruments.description import Channel, Description
from waywright.readings import Floats


class Correction:
    """The corrections of a description, on arrays (n, channels)."""

    def __init__(self, described: Description) -> None:
        self._factor = np.array([item.factor for item in described.channel])
        self._offset = np.array([item.offset for item in described.channel])
        self._errors = [(at, _table(item)) for at, item in enumerate(described.channel) if item.linearity]
        self._pair, self._turn = _mounting(described)

    def stated(self, raw: Floats) -> Floats:
        """What the instrument states, in the units of the file."""
        scaled: Floats = raw * self._factor + self._offset
        return scaled

    def true(self, stated: Floats) -> Floats:
        """Less the error of indication, linear between the points of its table and constant beyond."""
        if not self._errors:
            return stated
        corrected = stated.copy()
        for at, (indicated, error) in self._errors:
            corrected[:, at] -= np.interp(stated[:, at], indicated, error)
        return corrected

    def turned_back(self, value: Floats, flaw: Flaws | None) -> tuple[Floats, Flaws | None]:
        """The pair of channels as if the detector had no roll; where one of them has no value, neither has."""
        if self._pair is None:
            return value, flaw
        turned = value.copy()
        turned[:, self._pair] = value[:, self._pair] @ self._turn
        if flaw is not None:
            both = flaw[:, self._pair]
            worst = np.where(both == Flaw.NONE, both[:, ::-1], both)
            flaw[:, self._pair] = worst
        return turned, flaw


def _table(channel: Channel) -> tuple[Floats, Floats]:
    indicated, error = np.array(channel.linearity, dtype=np.float64).T
    return indicated, error


def _mounting(described: Description) -> tuple[list[int] | None, Floats]:
    """The columns of the pair, and the matrix that turns rows (first, second) back by the roll."""
    mounting = described.mounting
    if mounting is None or mounting.pair is None:
        return None, np.eye(2)
    names = [item.name for item in described.channel]
    roll_rad = np.radians(mounting.roll_deg)
    cosine, sine = np.cos(roll_rad), np.sin(roll_rad)
    return [names.index(name) for name in mounting.pair], np.array([[cosine, sine], [-sine, cosine]])
