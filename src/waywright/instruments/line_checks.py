"""Whether a line that fits the pattern is also whole (checksum) and the next one (counter)."""

from __future__ import annotations

import re

from waywright.instruments.checksums import check_of, number_written
from waywright.instruments.line_records import Stream


class LineChecks:
    """Checksum and counter of a description. ``failed`` counts lines by what they failed, ``missed`` counts by the
    counter how many lines never came or could not be read.

    A counter must be one on from the last line accepted, or at most as many more as lines were refused since. A line
    out of turn is refused; the one that follows on from it is taken again.
    """

    def __init__(self, stream: Stream) -> None:
        self._checksum = stream.checksum
        self._check = check_of(stream.checksum) if stream.checksum else None
        self._counter = stream.counter
        self._last: int | None = None
        self._refused_since = 0
        self.failed = {"checksum": 0, "counter": 0}
        self.missed = 0

    @property
    def wanted(self) -> bool:
        """Whether there is anything to check."""
        return self._checksum is not None or self._counter is not None

    def restart(self) -> None:
        """The link was opened anew: the counter may stand anywhere."""
        self._last = None
        self._refused_since = 0

    def refused(self) -> None:
        """A line did not even fit the pattern."""
        self._refused_since += 1

    def passes(self, line: re.Match[str]) -> bool:
        """Whether the line may be believed."""
        if not self._sums_up(line):
            self.failed["checksum"] += 1
            self._refused_since += 1
            return False
        if not self._follows(line):
            self.failed["counter"] += 1
            return False
        return True

    def _sums_up(self, line: re.Match[str]) -> bool:
        if self._checksum is None or self._check is None:
            return True
        span, said = line[self._checksum.span], line[self._checksum.group]
        if span is None or said is None:
            return False
        return self._check(span.encode()) == number_written(said, self._checksum.written)

    def _follows(self, line: re.Match[str]) -> bool:
        if self._counter is None:
            return True
        number = number_written(line[self._counter.group] or "", "decimal")
        if number is None or number >= self._counter.modulo:
            self._refused_since += 1
            return False
        last, self._last = self._last, number
        step = 1 if last is None else (number - last) % self._counter.modulo
        if step == 0:
            return False
        in_turn = step <= 1 + self._refused_since
        self._refused_since = 0
        # A step of more than half the range is a counter that was set back, not that many lines.
        if step <= self._counter.modulo // 2:
            self.missed += step - 1
        return in_turn
