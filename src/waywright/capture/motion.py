"""Is the axis still, and from which side did it come: judged by the position source's own noise."""

from __future__ import annotations

from collections import deque
from itertools import islice

from waywright.capture.noise import MeansNoise

# Means of two thirds of a dwell differ by 1.4 of their noise at standstill; five times that is never chance.
_CHANCE = 5.0
_SQRT2 = 2.0**0.5
_MEMORY_S = 60.0
# The noise while standing is what counts: jerky driving must not blur what later counts as still.
_LEARNED_MARGIN = 3.0
# Noise cannot make a motion invisible that is a sizeable part of a step, nor is less than a thousandth of it a motion.
_LARGEST_SHARE = 0.25
_SMALLEST_SHARE = 0.001
_TURN_SHARE = 0.1


class PositionWatch:
    """Sees one position after the other (mm) and judges stillness over a dwell, and the direction of motion."""

    def __init__(self, dwell_s: float, rate_hz: float, smallest_step_mm: float) -> None:
        self._dwell_s = dwell_s
        self._smallest_step_mm = smallest_step_mm
        third = max(1, round(dwell_s * rate_hz / 3.0))
        self._noise = MeansNoise(third, max(60, round(_MEMORY_S * rate_hz)))
        self._recent: deque[tuple[float, float]] = deque()
        self._learned_mm: deque[float] = deque(maxlen=5)
        self._limit_mm: float | None = None
        self._lowest_mm = float("inf")
        self._highest_mm = float("-inf")
        self.direction = 0

    def see(self, time_s: float, position_mm: float) -> None:
        """One more position."""
        self._noise.see(position_mm)
        self._recent.append((time_s, position_mm))
        # Three samples always stay, however slow the source is.
        while len(self._recent) > 3 and self._recent[1][0] <= time_s - self._dwell_s:
            self._recent.popleft()
        self._limit_mm = self._limit()
        self._turn(position_mm)

    def break_off(self) -> None:
        """Something is missing before the next position: the dwell begins again."""
        self._recent.clear()
        self._noise.break_off()

    def learn(self) -> None:
        """A standstill was accepted: remember what the source's noise is there."""
        if self._noise.sigma is not None:
            self._learned_mm.append(self._noise.sigma)

    @property
    def limit_mm(self) -> float | None:
        """Means of two thirds of a dwell that differ by more than this are a motion; None: not known yet."""
        return self._limit_mm

    @property
    def level_mm(self) -> float:
        """Mean of the last third of the dwell."""
        return self._third(2)

    @property
    def is_still(self) -> bool:
        """Whether the axis has stood still for the whole dwell."""
        if self._limit_mm is None or len(self._recent) < 3:
            return False
        if self._recent[-1][0] - self._recent[0][0] < self._dwell_s * (1.0 - 1e-9):
            return False
        thirds = [self._third(which) for which in range(3)]
        return max(thirds) - min(thirds) <= self._limit_mm

    def _third(self, which: int) -> float:
        count = len(self._recent)
        first, end = which * count // 3, max((which + 1) * count // 3, which * count // 3 + 1)
        return sum(position for _, position in islice(self._recent, first, end)) / (end - first)

    def _limit(self) -> float | None:
        sigma_mm = self._noise.sigma
        if sigma_mm is None:
            return None
        if self._learned_mm:
            learned = sorted(self._learned_mm)[len(self._learned_mm) // 2]
            sigma_mm = min(sigma_mm, _LEARNED_MARGIN * learned)
        chance = max(_CHANCE * _SQRT2 * sigma_mm, 1.5 * self._noise.step)
        step = self._smallest_step_mm
        return min(max(chance, _SMALLEST_SHARE * step), _LARGEST_SHARE * step)

    def _turn(self, position_mm: float) -> None:
        """Direction of the last motion that was larger than a tenth of the smallest step."""
        turn_mm = max(_TURN_SHARE * self._smallest_step_mm, 1.5 * (self._limit_mm or 0.0))
        self._lowest_mm = min(self._lowest_mm, position_mm)
        self._highest_mm = max(self._highest_mm, position_mm)
        if self.direction <= 0 and position_mm > self._lowest_mm + turn_mm:
            self.direction, self._highest_mm = 1, position_mm
        elif self.direction >= 0 and position_mm < self._highest_mm - turn_mm:
            self.direction, self._lowest_mm = -1, position_mm
