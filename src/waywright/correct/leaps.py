"""The best choice of few supports, proven: no choice that is left unsolved can be better.

Leaps and bounds (G. M. Furnival and R. W. Wilson, Technometrics 16 (1974) 499): to leave a support alone never makes
the remainder smaller, so what a set of supports reaches bounds all its subsets. One linear programme serves all sets;
each starts from the last.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.programme import TOLERANCE_UM, Problem, Solution, Stated

_NOTHING_UM = 1e-6
_TRIED = 3


@dataclass(frozen=True, slots=True)
class Choice:
    """The best moves (supports,) with so many touched, their remainder, and what they are ranked by (both um)."""

    moves_um: FloatArray
    remainder_um: float
    worth_um: float


class Choices:
    """The best choice for each number of supports touched: at first found by taking away, then proven."""

    def __init__(self, problem: Problem) -> None:
        self._stated, self._problem = Stated(problem), problem
        self._turnable = problem.highest_um > problem.lowest_um
        self.most = int(self._turnable.sum())
        self._best: dict[int, Choice] = {}
        self._taken_away()

    def of(self, count: int) -> Choice:
        """The best known with at most so many touched."""
        return self._best[min(count, self.most)]

    def offer(self, moves_um: FloatArray) -> None:
        """A choice found elsewhere; its supports are used as well as they can be."""
        self._solved(np.abs(moves_um) > _NOTHING_UM)

    def prove(self, counts: Collection[int]) -> None:
        """Search until nothing can be better by more than :data:`TOLERANCE_UM` with any of these numbers."""
        none = np.zeros_like(self._turnable)
        self._search(none, self._turnable.copy(), self._solved(self._turnable), frozenset(counts))

    def _search(self, kept: BoolArray, left: BoolArray, found: Solution, counts: frozenset[int]) -> None:
        """All sets that hold ``kept`` and any of ``left``; ``found`` is what all of them together reach."""
        sizes = counts.intersection(range(int(kept.sum()), int((kept | left).sum())))
        if not any(found.worth_um < self._best[size].worth_um - TOLERANCE_UM for size in sizes):
            return
        parts = np.where(left, self._parts(found), -1.0)
        weightiest = np.arange(left.size) == int(parts.argmax())
        fewer = left & ~weightiest
        self._search(kept, fewer, self._solved(kept | fewer), counts)
        self._search(kept | weightiest, fewer, found, counts)

    def _solved(self, touched: BoolArray) -> Solution:
        """What these supports reach; remembered where it is the best for its number."""
        self._stated.touch(touched)
        found = self._stated.least_remainder()
        least = int((np.abs(found.moves_um) > _NOTHING_UM).sum())
        for count in range(least, self.most + 1):
            known = self._best.get(count)
            if known is None or found.worth_um < known.worth_um:
                self._best[count] = Choice(found.moves_um, found.remainder_um, found.worth_um)
        return found

    def _taken_away(self) -> None:
        """For each number a good choice: of those with the smallest parts drop the one whose loss costs least."""
        touched = self._turnable.copy()
        found = self._solved(touched)
        while touched.any():
            parts = self._parts(found)
            trials = []
            for support in np.flatnonzero(touched)[np.argsort(parts[touched])[:_TRIED]]:
                without = touched.copy()
                without[support] = False
                trials.append((self._solved(without), without))
            found, touched = min(trials, key=lambda trial: trial[0].worth_um)

    def _parts(self, found: Solution) -> FloatArray:
        """How much each support moves the line at most."""
        return np.asarray(np.abs(self._problem.influence * found.moves_um).max(axis=0))
