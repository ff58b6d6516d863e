"""Lines to channel values in inside units.

A line that does not match the whole pattern, or whose named groups are not plain decimal numbers, is counted and
dropped. A line that matches but says "lost", or a value out of range, gives NaN with its reason.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from waywright.instruments.batches import Flaw, Flaws
from waywright.instruments.description import Description
from waywright.quantities import Kind, unit
from waywright.readings import Floats

# float() also takes underscores and digits of other scripts; a line that may hold such goes through this.
_NUMBER = re.compile(
    r"\s*(?:[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[-+]?nan|[-+]?inf(?:inity)?)\s*", re.ASCII | re.I
)
_NAN = float("nan")

Row = tuple[list[float], bool]


@dataclass(frozen=True, slots=True, eq=False)
class Decoded:
    """The samples of some lines: ``stamp_s`` (n,) or None, ``value`` and ``flaw`` (n, channels), lines refused."""

    stamp_s: Floats | None
    value: Floats
    flaw: Flaws | None
    malformed: int


class Decoder:
    """The compiled pattern of a description. Never raises, whatever the lines hold."""

    def __init__(self, stated: Description) -> None:
        self._match = re.compile(stated.stream.pattern, re.ASCII).fullmatch
        stamp = stated.stream.time_stamp
        self._stamp_factor = unit(Kind.TIME, stamp.unit).factor if stamp else None
        groups = [item.group for item in stated.channel] + ([stamp.group] if stamp else [])
        # One group alone would come back as a bare text, so it is asked twice.
        self._groups = tuple(groups) if len(groups) > 1 else (groups[0], groups[0])
        self._width = len(self._groups)
        self._lost = tuple(frozenset(item.lost) for item in stated.channel)
        self._codes = frozenset(chain.from_iterable(self._lost))
        units = [item.inside for item in stated.channel]
        self._factor = np.array([item.factor for item in stated.channel])
        self._offset = np.array([item.offset for item in stated.channel])
        self._unit_factor = np.array([item.factor for item in units])
        self._unit_offset = np.array([item.offset for item in units])
        limits = [item.range or (-np.inf, np.inf) for item in stated.channel]
        self._lower, self._upper = np.array(limits, dtype=np.float64).T

    def decode(self, lines: Sequence[str]) -> Decoded:
        """Values of all lines that fit, in order."""
        flat: list[float] = []
        lost: list[tuple[int, int]] = []
        together = "\n".join(lines)
        # What is in no line of a batch need not be looked for in every line.
        plain = together.isascii() and "_" not in together and not any(code in together for code in self._codes)
        for line in lines:
            found = self._match(line)
            if found is None:
                continue
            texts = found.group(*self._groups)
            if plain:
                try:
                    flat.extend([float(text) for text in texts])
                except (ValueError, TypeError):
                    continue
            elif (row := self._careful(texts)) is not None:
                lost.extend((len(flat) // self._width, at) for at in self._lost_at(texts))
                flat.extend(row)
        numbers = np.array(flat, dtype=np.float64).reshape(-1, self._width)
        return self._inside(numbers, lost, len(lines))

    def _lost_at(self, texts: tuple[str, ...]) -> list[int]:
        return [at for at, codes in enumerate(self._lost) if texts[at] in codes]

    def _careful(self, texts: tuple[str | None, ...]) -> list[float] | None:
        """Numbers of one line with lost codes as NaN; None if a text is neither."""
        row: list[float] = []
        for at, text in enumerate(texts):
            if at < len(self._lost) and text in self._lost[at]:
                row.append(_NAN)
            elif text is None or _NUMBER.fullmatch(text) is None:
                return None
            else:
                row.append(float(text))
        return row

    def _inside(self, numbers: Floats, lost: list[tuple[int, int]], lines: int) -> Decoded:
        stamp_s: Floats | None = None
        if self._stamp_factor is not None:
            kept = np.isfinite(numbers[:, -1])
            if not kept.all():
                place = np.cumsum(kept) - 1
                lost = [(int(place[at]), channel) for at, channel in lost if kept[at]]
                numbers = numbers[kept]
            stamp_s = numbers[:, -1] * self._stamp_factor
        raw = numbers[:, : len(self._lost)]
        stated = raw * self._factor + self._offset
        # Comparisons with NaN are false: a value is good only if it is a number within its limits.
        good = (stated >= self._lower) & (stated <= self._upper) & np.isfinite(stated)
        value = stated * self._unit_factor + self._unit_offset
        flaw = None if good.all() else self._flaws(raw, stated, good, lost)
        return Decoded(stamp_s, np.where(good, value, _NAN), flaw, lines - len(numbers))

    @staticmethod
    def _flaws(raw: Floats, stated: Floats, good: np.ndarray, lost: list[tuple[int, int]]) -> Flaws:
        flaw = np.where(np.isfinite(stated), np.uint8(Flaw.OUT_OF_RANGE), np.uint8(Flaw.NOT_A_NUMBER))
        flaw[good] = Flaw.NONE
        for at, channel in lost:
            flaw[at, channel] = Flaw.LOST
        return flaw
