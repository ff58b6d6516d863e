"""A plan that serves on average over what is not known, instead of only for the most probable bed.

One linear programme over several draws of the belief: the mean of what the value exceeds the goal by, plus the price
of turning (a stochastic programme by sample average; A. Shapiro, D. Dentcheva and A. Ruszczynski, Lectures on
Stochastic Programming, chapter 5). Moves are common, offset and tilt each draw's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.programme import HOLLOW_COST, LOWER_COST, Problem

LARGEST_ROWS = 3000


def hedged(base: Problem, draws: Sequence[Problem], safe_um: float, price: float) -> FloatArray | None:
    """Moves (supports,) for the mean over ``draws``; limits and presses are those of ``base``. None if not found."""
    from scipy.optimize import linprog

    count, freedoms, many = base.supports, base.free.shape[1], len(draws)
    pressing = np.flatnonzero(base.resting)
    matrix, right = _stated(base, draws, safe_um)
    cost = np.concatenate(
        [
            np.full(count, price),
            np.full(count, price * LOWER_COST),
            np.zeros(many * (freedoms + 1)),
            np.full(many, 1.0 / many),
            np.full(pressing.size, HOLLOW_COST),
        ]
    )
    cost[2 * count + freedoms : 2 * count + many * (freedoms + 1) : freedoms + 1] = 0.02 / many
    lower = np.zeros(cost.size)
    for draw in range(many):
        at = 2 * count + draw * (freedoms + 1)
        lower[at : at + freedoms] = -np.inf
    upper = np.full(cost.size, np.inf)
    upper[:count] = np.maximum(base.highest_um, 0.0)
    upper[count : 2 * count] = np.maximum(-base.lowest_um, 0.0)
    found = linprog(cost, A_ub=matrix, b_ub=right, bounds=np.column_stack([lower, upper]), method="highs")
    return None if found.x is None else np.asarray(found.x[:count] - found.x[count : 2 * count], dtype=np.float64)


def _stated(base: Problem, draws: Sequence[Problem], safe_um: float) -> tuple[Any, FloatArray]:
    """Rows: stations of each draw above and below, excess over the goal, presses of the base."""
    from scipy import sparse

    many, freedoms = len(draws), base.free.shape[1]
    pressing = np.flatnonzero(base.resting)
    e = np.ones((base.now_um.size, 1))
    own = [np.vstack([np.hstack([-p.free, -e]), np.hstack([p.free, -e])]) for p in draws]
    moved = np.vstack([np.vstack([p.influence, -p.influence]) for p in draws])
    stations = sparse.hstack(
        [
            sparse.csr_matrix(np.hstack([moved, -moved])),
            sparse.block_diag(own),
            _empty(moved.shape[0], many + pressing.size),
        ]
    )
    twice = np.zeros((many, many * (freedoms + 1)))
    twice[np.arange(many), np.arange(many) * (freedoms + 1) + freedoms] = 2.0
    excess = sparse.hstack([_empty(many, 2 * base.supports), twice, -np.eye(many), _empty(many, pressing.size)])
    press = base.press_by[pressing]
    loaded = sparse.hstack(
        [np.hstack([-press, press]), _empty(pressing.size, many * (freedoms + 2)), -np.eye(pressing.size)]
    )
    right = [np.concatenate([-p.now_um, p.now_um]) for p in draws]
    rows = [stations, excess, *([loaded] if pressing.size else [])]
    return sparse.vstack(rows).tocsr(), np.concatenate([*right, np.full(many, safe_um), base.press_um[pressing]])


def _empty(rows: int, columns: int) -> Any:
    from scipy import sparse

    return sparse.csr_matrix((rows, columns))
