"""The linear programme behind a plan: smallest remainder with offset and tilt free, then the least turning.

Minimise e with ``|now + influence m - free r| <= e`` at every station, limits on the moves, and every support loaded;
then, with e allowed up to a limit, minimise the turning (raising preferred). Solved with HiGHS (Q. Huangfu and
J. A. J. Hall, Mathematical Programming Computation 10 (2018) 119). Long lines have many stations and few that
matter: the programme starts with some and takes in the worst violated until none is.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.errors import BadInput

RAISE_COST, LOWER_COST = 1.0, 1.2
HOLLOW_COST = 20.0
"""Remainder (um) that one um of missing press at a support is worth: only paid where nothing else is possible."""

TOLERANCE_UM = 0.01
_FEW = 160
_NOTHING = 1e-7
_QUICK = {"presolve": False, "simplex_dual_edge_weight_strategy": "dantzig"}  # bench/levelling_speed.py


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


def least_remainder(problem: Problem) -> Solution:
    """The moves with the smallest remainder."""
    return _generated(problem, None)


def least_moves(problem: Problem, remainder_um: float) -> Solution:
    """The least turning that keeps the remainder below a limit (which must be reachable)."""
    return _generated(problem, remainder_um)


def remainder(problem: Problem, moves_um: FloatArray) -> Solution:
    """The remainder of given moves with the best offset and tilt."""
    return least_remainder(problem.fixed(moves_um, np.ones(problem.supports, dtype=np.bool_)))


def _generated(problem: Problem, limit_um: float | None) -> Solution:
    rows = chosen_rows(problem)
    while True:
        solution = _solved(problem, rows, limit_um)
        left = problem.now_um + problem.influence @ solution.moves_um - problem.free @ solution.reference
        allowed = solution.remainder_um if limit_um is None else max(limit_um, solution.remainder_um)
        worst = _worst(np.abs(left), allowed + TOLERANCE_UM, _stretches(problem))
        if np.isin(worst, rows).all():
            return replace(solution, remainder_um=float(np.abs(left).max()))
        rows = np.union1d(rows, worst)


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


def _solved(problem: Problem, rows: npt.NDArray[np.intp], limit_um: float | None) -> Solution:
    """One programme over the given stations. Variables: raise, lower, reference, e, missing press."""
    matrix, right = constraints(problem, rows)
    bounds = limits(problem)
    count, freedoms = problem.supports, problem.free.shape[1]
    cost = np.zeros(matrix.shape[1])
    cost[2 * count + freedoms + 1 :] = HOLLOW_COST
    if limit_um is None:
        cost[2 * count + freedoms] = 1.0
        return unpacked(problem, _least_signed(problem, cost, matrix, right, bounds))
    cost[:count], cost[count : 2 * count] = RAISE_COST, LOWER_COST
    bounds[2 * count + freedoms, 1] = limit_um
    return unpacked(problem, _least(cost, matrix, right, bounds))


def _least(
    cost: FloatArray,
    matrix: FloatArray,
    right: FloatArray,
    bounds: FloatArray,
    options: dict[str, object] | None = None,
) -> FloatArray:
    from scipy.optimize import linprog
    from scipy.sparse import csr_matrix

    sparse = csr_matrix(matrix)
    found = linprog(cost, A_ub=sparse, b_ub=right, bounds=bounds, method="highs", options=options)
    if found.x is None and options:
        # the quick way gave up over the numbers, not over the question; with presolve it goes through
        found = linprog(cost, A_ub=sparse, b_ub=right, bounds=bounds, method="highs")
    if found.x is None:
        raise BadInput("correct.no_plan")
    return np.asarray(found.x, dtype=np.float64)


def _least_signed(
    problem: Problem, cost: FloatArray, matrix: FloatArray, right: FloatArray, bounds: FloatArray
) -> FloatArray:
    """The same where turning has no price: one variable a support, twice as quick."""
    count = problem.supports
    both = np.column_stack([problem.lowest_um, problem.highest_um])
    kept = np.concatenate([np.arange(count), np.arange(2 * count, matrix.shape[1])])
    x = _least(cost[kept], matrix[:, kept], right, np.vstack([both, bounds[2 * count :]]), dict(_QUICK))
    moves = x[:count]
    return np.concatenate([np.maximum(moves, 0.0), np.maximum(-moves, 0.0), x[count:]])


def constraints(problem: Problem, rows: npt.NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
    """Matrix and right side of ``matrix x <= right``: stations above, below, and presses."""
    influence, free, now = _near(problem.influence[rows]), problem.free[rows], problem.now_um[rows]
    e = np.ones((rows.size, 1))
    pressing = np.flatnonzero(problem.resting)
    nothing = np.zeros((rows.size, pressing.size))
    above = np.hstack([influence, -influence, -free, -e, nothing])
    below = np.hstack([-influence, influence, free, -e, nothing])
    press = _near(problem.press_by[pressing])
    zero = np.zeros((pressing.size, free.shape[1] + 1))
    loaded = np.hstack([-press, press, zero, -np.eye(pressing.size)])
    return np.vstack([above, below, loaded]), np.concatenate([-now, now, problem.press_um[pressing]])


def _near(influence: FloatArray) -> FloatArray:
    """Without what a support does far away: less than a nanometre for any move, and much to compute."""
    return np.where(np.abs(influence) < _NOTHING, 0.0, influence)


def limits(problem: Problem) -> FloatArray:
    """Bounds (variables, 2) of the programme."""
    count, freedoms = problem.supports, problem.free.shape[1]
    pressing = int(problem.resting.sum())
    lower = np.zeros(2 * count + freedoms + 1 + pressing)
    upper = np.full(lower.size, np.inf)
    lower[:count], upper[:count] = np.maximum(problem.lowest_um, 0.0), np.maximum(problem.highest_um, 0.0)
    lower[count : 2 * count] = np.maximum(-problem.highest_um, 0.0)
    upper[count : 2 * count] = np.maximum(-problem.lowest_um, 0.0)
    lower[2 * count : 2 * count + freedoms] = -np.inf
    return np.column_stack([lower, upper])


def unpacked(problem: Problem, x: npt.NDArray[Any]) -> Solution:
    """A solution from the programme's variables."""
    count, freedoms = problem.supports, problem.free.shape[1]
    moves = x[:count] - x[count : 2 * count]
    reference = x[2 * count : 2 * count + freedoms]
    missing = float(x[2 * count + freedoms + 1 :].sum())
    return Solution(moves, reference, float(x[2 * count + freedoms]), missing)
