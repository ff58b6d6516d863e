"""Lines to channel values in inside units.

A line that does not match the whole pattern, fails its checksum or counter, or whose named groups are not plain decimal
numbers, is counted and dropped. A line that is whole but says "lost" or "over range", or a value out of range, gives
NaN with its reason.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from waywright.instruments.batches import Flaw, Flaws
from waywright.instruments.correcting import Correction
from waywright.instruments.description import UNAVAILABLE, Channel, Description
from waywright.instruments.line_checks import LineChecks
from waywright.quantities import Kind, unit
from waywright.readings import Floats

# float() also takes underscores and digits of other scripts; a line that may hold such goes through this.
_NUMBER = re.compile(
    r"\s*(?:[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[-+]?nan|[-+]?inf(?:inity)?)\s*", re.ASCII | re.I
)
_NAN = float("nan")


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
        self._match = re.compile(stated.line_pattern, re.ASCII).fullmatch
        self.checks = LineChecks(stated.stream)
        self._checked = self.checks.wanted
        self._comma = stated.stream.decimal_comma
        stamp = stated.stream.time_stamp
        self._stamp_factor = unit(Kind.TIME, stamp.unit).factor if stamp else None
        groups = [*stated.channel_groups] + ([stamp.group] if stamp else [])
        # One group alone would come back as a bare text, so it is asked twice.
        self._groups = tuple(groups) if len(groups) > 1 else (groups[0], groups[0])
        self._width = len(self._groups)
        self._words = tuple(_words(item, stated.brings_values) for item in stated.channel)
        # What each text may say instead of a number; the clock of a stamp says nothing else.
        doubled = len(groups) == 1
        self._instead: tuple[dict[str, Flaw], ...] = (*self._words, self._words[0] if doubled else {})[: self._width]
        self._codes = frozenset(chain.from_iterable(self._words))
        self._correction = Correction(stated)
        units = [item.inside for item in stated.channel]
        self._unit_factor = np.array([item.factor for item in units])
        self._unit_offset = np.array([item.offset for item in units])
        limits = [item.range or (-np.inf, np.inf) for item in stated.channel]
        self._lower, self._upper = np.array(limits, dtype=np.float64).T

    def decode(self, lines: Sequence[str]) -> Decoded:
        """Values of all lines that fit, in order."""
        flat: list[float] = []
        said: list[tuple[int, int, Flaw]] = []
        together = "\n".join(lines)
        # What is in no line of a batch need not be looked for in every line.
        plain = together.isascii() and "_" not in together and not any(code in together for code in self._codes)
        plain = plain and not self._comma
        for line in lines:
            found = self._match(line)
            if found is None or (self._checked and not self.checks.passes(found)):
                if found is None:
                    self.checks.refused()
                continue
            texts = found.group(*self._groups)
            if plain:
                try:
                    flat.extend([float(text) for text in texts])
                except (ValueError, TypeError):
                    continue
            elif (row := self._careful(texts)) is not None:
                said.extend((len(flat) // self._width, at, flaw) for at, flaw in self._said_at(texts))
                flat.extend(row)
        numbers = np.array(flat, dtype=np.float64).reshape(-1, self._width)
        return self._inside(numbers, said, len(lines))

    def _said_at(self, texts: tuple[str, ...]) -> list[tuple[int, Flaw]]:
        return [(at, words[texts[at]]) for at, words in enumerate(self._words) if texts[at] in words]

    def _careful(self, texts: tuple[str | None, ...]) -> list[float] | None:
        """Numbers of one line with words for "lost" as NaN; None if a text is neither."""
        row: list[float] = []
        for at, text in enumerate(texts):
            if text in self._instead[at]:
                row.append(_NAN)
                continue
            written = text.replace(",", ".") if text is not None and self._comma else text
            if written is None or _NUMBER.fullmatch(written) is None:
                return None
            row.append(float(written))
        return row

    def _inside(self, numbers: Floats, said: list[tuple[int, int, Flaw]], lines: int) -> Decoded:
        stamp_s: Floats | None = None
        if self._stamp_factor is not None:
            kept = np.isfinite(numbers[:, -1])
            if not kept.all():
                place = np.cumsum(kept) - 1
                said = [(int(place[at]), channel, flaw) for at, channel, flaw in said if kept[at]]
                numbers = numbers[kept]
            stamp_s = numbers[:, -1] * self._stamp_factor
        raw = numbers[:, : len(self._words)]
        stated = self._correction.stated(raw)
        # Comparisons with NaN are false: a value is good only if it is a number within its limits.
        good = (stated >= self._lower) & (stated <= self._upper) & np.isfinite(stated)
        flaw = None if good.all() else self._flaws(stated, good, said)
        value = np.where(good, self._correction.true(stated) * self._unit_factor + self._unit_offset, _NAN)
        value, flaw = self._correction.turned_back(value, flaw)
        return Decoded(stamp_s, value, flaw, lines - len(numbers))

    @staticmethod
    def _flaws(stated: Floats, good: np.ndarray, said: list[tuple[int, int, Flaw]]) -> Flaws:
        flaw = np.where(np.isfinite(stated), np.uint8(Flaw.OUT_OF_RANGE), np.uint8(Flaw.NOT_A_NUMBER))
        flaw[good] = Flaw.NONE
        for at, channel, reason in said:
            flaw[at, channel] = reason
        return flaw


def _words(channel: Channel, brings_values: bool) -> dict[str, Flaw]:
    """What a channel says instead of a number, and what that means."""
    words = dict.fromkeys(channel.over, Flaw.OVER_RANGE) | dict.fromkeys(channel.lost, Flaw.LOST)
    return words | {UNAVAILABLE: Flaw.LOST} if brings_values else words
