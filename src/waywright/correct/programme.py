"""The linear programme behind a plan: smallest remainder with offset and tilt free, then the least turning.

Minimise e with ``|now + influence m - free r| <= e`` at every station, limits on the moves, and every support loaded;
then, with e allowed up to a limit, minimise the turning (raising preferred). Solved with HiGHS (Q. Huangfu and
J. A. J. Hall, Mathematical Programming Computation 10 (2018) 119). Long lines have many stations and few that
matter: the programme starts with some and takes in the worst violated until none is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.linear_programme import Programme

RAISE_COST, LOWER_COST = 1.0, 1.2
HOLLOW_COST = 20.0
"""Remainder (um) that one um of missing press at a support is worth: only paid where nothing else is possible."""

TOLERANCE_UM = 0.01
_FEW = 160
_NOTHING = 1e-7


@dataclass(frozen=True, slots=True)
class Problem:
    """What a plan must satisfy. n stations, s supports, r freedoms of the reference.

    ``now_um`` (n,), ``influence`` (n, s) per um of move, ``free`` (n, r), ``lowest_um`` and ``highest_um`` (s,) limits
    of the moves, ``press_um`` (s,) and ``press_by`` (s, s): how far each seat is pressed, less what it must keep
    (a negative value gapes); supports that may pull have ``resting`` False.
    """

    now_um: FloatArray
    influence: FloatArray
    free: FloatArray
    lowest_um: FloatArray
    highest_um: FloatArray
    press_um: FloatArray
    press_by: FloatArray
    resting: BoolArray

    @property
    def supports(self) -> int:
        """Number of supports."""
        return int(self.influence.shape[1])

    def fixed(self, moves_um: FloatArray, which: BoolArray) -> Problem:
        """The same with some moves fixed."""
        low = np.where(which, moves_um, self.lowest_um)
        return replace(self, lowest_um=low, highest_um=np.where(which, moves_um, self.highest_um))

    def only(self, touched: BoolArray) -> Problem:
        """The same with all other supports left alone."""
        return self.fixed(np.zeros(self.supports), ~touched)


@dataclass(frozen=True, slots=True)
class Solution:
    """Moves (s,) in um, the reference (r,), the remainder e in um, and how much press is missing in sum, um."""

    moves_um: FloatArray
    reference: FloatArray
    remainder_um: float
    missing_um: float

    @property
    def worth_um(self) -> float:
        """What is made small: the remainder, and missing press dearly."""
        return self.remainder_um + HOLLOW_COST * self.missing_um


def least_remainder(problem: Problem) -> Solution:
    """The moves with the smallest remainder."""
    return Stated(problem).least_remainder()


def least_moves(problem: Problem, remainder_um: float) -> Solution:
    """The least turning that keeps the remainder below a limit (which must be reachable)."""
    return Stated(problem).least_moves(remainder_um)


def remainder(problem: Problem, moves_um: FloatArray) -> Solution:
    """The remainder of given moves with the best offset and tilt."""
    return least_remainder(problem.fixed(moves_um, np.ones(problem.supports, dtype=np.bool_)))


class Stated:
    """A problem stated once and asked several times; each answer starts from the last.

    Variables: moves, reference, e, missing press; and, once turning has a price, how far each support is lowered (the
    moves are then raising).
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._rows = chosen_rows(problem)
        self._matrix, right = constraints(problem, self._rows)
        self._priced = False
        self._programme = Programme(remainder_cost(problem), self._matrix, right, limits(problem))

    def least_remainder(self) -> Solution:
        """The moves with the smallest remainder; to be asked before turning has a price."""
        return self._generated(None)

    def touch(self, touched: BoolArray) -> None:
        """From now on only these supports (supports,) may be moved; to be asked before turning has a price."""
        limited = np.column_stack([self.problem.lowest_um, self.problem.highest_um]) * touched[:, None]
        self._programme.bound(np.arange(touched.size, dtype=np.int32), limited)

    def least_moves(self, remainder_um: float) -> Solution:
        """The least turning that keeps the remainder below a limit (which must be reachable)."""
        self._price()
        e = self.problem.supports + self.problem.free.shape[1]
        self._programme.bound(np.array([e], dtype=np.int32), np.array([[0.0, remainder_um]]))
        return self._generated(remainder_um)

    def _price(self) -> None:
        """Raising and lowering each have their price; the remainder has none."""
        if self._priced:
            return
        problem, count = self.problem, self.problem.supports
        raised, lowered = (
            _raising(problem.lowest_um, problem.highest_um),
            _raising(-problem.highest_um, -problem.lowest_um),
        )
        self._programme.bound(np.arange(count, dtype=np.int32), raised)
        self._programme.charge(np.arange(count, dtype=np.int32), np.full(count, RAISE_COST))
        self._programme.charge(np.array([count + problem.free.shape[1]], dtype=np.int32), np.zeros(1))
        self._programme.add_columns(np.full(count, LOWER_COST), -self._matrix[:, :count], lowered)
        self._priced = True

    def _generated(self, limit_um: float | None) -> Solution:
        problem = self.problem
        while True:
            solution = self._solution(self._programme.solved())
            left = problem.now_um + problem.influence @ solution.moves_um - problem.free @ solution.reference
            allowed = solution.remainder_um if limit_um is None else max(limit_um, solution.remainder_um)
            worst = np.setdiff1d(_worst(np.abs(left), allowed + TOLERANCE_UM, _stretches(problem)), self._rows)
            if not worst.size:
                return replace(solution, remainder_um=float(np.abs(left).max()))
            self._take_in(worst)

    def _take_in(self, rows: npt.NDArray[np.intp]) -> None:
        """Stations that were left out and are violated."""
        matrix, right = stations(self.problem, rows)
        self._rows, self._matrix = np.union1d(self._rows, rows), np.vstack([self._matrix, matrix])
        lowering = [-matrix[:, : self.problem.supports]] if self._priced else []
        self._programme.add_rows(np.hstack([matrix, *lowering]), right)

    def _solution(self, x: FloatArray) -> Solution:
        count, freedoms = self.problem.supports, self.problem.free.shape[1]
        e = count + freedoms
        missing = int(self.problem.resting.sum())
        moves = x[:count] - x[e + 1 + missing :] if self._priced else x[:count]
        return Solution(moves, x[count:e], float(x[e]), float(x[e + 1 : e + 1 + missing].sum()))


def chosen_rows(problem: Problem) -> npt.NDArray[np.intp]:
    """Stations to begin with: all of a short line; of a long one the outermost of each stretch after a rough fit."""
    count = problem.now_um.size
    if count <= _FEW:
        return np.arange(count)
    free_to_turn = problem.highest_um > problem.lowest_um
    columns = np.hstack([problem.influence[:, free_to_turn], problem.free])
    stretches = _stretches(problem)
    rough = problem.now_um - columns @ np.linalg.lstsq(columns, problem.now_um, rcond=1e-6)[0]
    ends = np.array([0, count - 1])
    return np.union1d(ends, np.concatenate([_worst(side * rough, -np.inf, stretches) for side in (1.0, -1.0)]))


def _stretches(problem: Problem) -> list[npt.NDArray[np.intp]]:
    """The line cut into short stretches, about as long as the supports are apart."""
    return np.array_split(np.arange(problem.now_um.size), max(24, problem.supports))


def _worst(off: FloatArray, allowed: float, stretches: list[npt.NDArray[np.intp]]) -> npt.NDArray[np.intp]:
    """The outermost station of each stretch, where it is outside what is allowed."""
    peaks = np.array([stretch[off[stretch].argmax()] for stretch in stretches if stretch.size], dtype=np.intp)
    return peaks[off[peaks] > allowed]


def constraints(problem: Problem, rows: npt.NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
    """Matrix and right side of ``matrix x <= right``: presses, stations above and below."""
    matrix, right = stations(problem, rows)
    pressing = np.flatnonzero(problem.resting)
    zero = np.zeros((pressing.size, problem.free.shape[1] + 1))
    loaded = np.hstack([-_near(problem.press_by[pressing]), zero, -np.eye(pressing.size)])
    return np.vstack([loaded, matrix]), np.concatenate([problem.press_um[pressing], right])


def stations(problem: Problem, rows: npt.NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
    """The part of it that keeps the stations below e, above and below."""
    influence, free, now = _near(problem.influence[rows]), problem.free[rows], problem.now_um[rows]
    e = np.ones((rows.size, 1))
    nothing = np.zeros((rows.size, int(problem.resting.sum())))
    above, below = np.hstack([influence, -free, -e, nothing]), np.hstack([-influence, free, -e, nothing])
    return np.vstack([above, below]), np.concatenate([-now, now])


def _near(influence: FloatArray) -> FloatArray:
    """Without what a support does far away: less than a nanometre for any move, and much to compute."""
    return np.where(np.abs(influence) < _NOTHING, 0.0, influence)


def limits(problem: Problem) -> FloatArray:
    """Bounds (variables, 2) of the programme."""
    freedoms, pressing = problem.free.shape[1], int(problem.resting.sum())
    reference = np.full((freedoms, 2), [-np.inf, np.inf])
    positive = np.full((1 + pressing, 2), [0.0, np.inf])
    return np.vstack([np.column_stack([problem.lowest_um, problem.highest_um]), reference, positive])


def remainder_cost(problem: Problem) -> FloatArray:
    """Cost of the variables: the remainder, and missing press dearly."""
    free = np.zeros(problem.supports + problem.free.shape[1])
    return np.concatenate([free, [1.0], np.full(int(problem.resting.sum()), HOLLOW_COST)])


def _raising(lowest_um: FloatArray, highest_um: FloatArray) -> FloatArray:
    """Bounds of the part of the moves that is upwards."""
    return np.column_stack([np.maximum(lowest_um, 0.0), np.maximum(highest_um, 0.0)])
