"""Remainder against the number of supports touched.

Up to :data:`PROVEN_UP_TO` supports each row is proven by mixed-integer programming (HiGHS branch and bound). Above
that, the rows are found by taking supports away one by one and exchanging, improved by branch and bound within a
time shared by all rows; each keeps the lower bound that the branch and bound has proven.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.linear_programme import Branched, Programme
from waywright.correct.programme import Problem, chosen_rows, constraints, least_remainder, limits, remainder_cost

PROVEN_UP_TO = 12
IMPROVED_FOR_S = 2.0
_ALIKE_UM = 0.05


@dataclass(frozen=True, slots=True)
class TradeOff:
    """One row: with ``supports`` touched the value falls to ``value_um``, and to no less than ``at_least_um``.

    ``proven`` says that nothing better exists with so few; ``moves_um`` (supports of the bed,), not yet in whole steps.
    """

    supports: int
    value_um: float
    at_least_um: float
    proven: bool
    moves_um: tuple[float, ...]


def trade_off(problem: Problem, *, improved_for_s: float = IMPROVED_FOR_S) -> tuple[TradeOff, ...]:
    """All rows from none touched to all that may be."""
    turnable = problem.highest_um > problem.lowest_um
    most = int(turnable.sum())
    small = most <= PROVEN_UP_TO
    paths = _taken_away(problem, turnable)
    rows = [
        _row(0, *paths[0], bound=paths[0][1], proven=True),
        _row(most, *paths[most], bound=paths[most][1], proven=True),
    ]
    budget = 60.0 if small else improved_for_s / max(1, most - 1)
    fewer = paths[0]
    for count in range(1, most):
        # Whoever may touch more may also touch fewer: time that was short for this row must not make it the worse one.
        moves, e = min(paths[count], fewer, key=lambda path: path[1])
        better, better_e, bound = exact(problem, count, budget, cutoff=e)
        if better is not None and better_e < e - 1e-6:
            moves, e = better, better_e
        bound = min(max(bound, paths[most][1]), e)
        fewer = (moves, e)
        rows.append(_row(count, moves, e, bound=bound, proven=e - bound <= _ALIKE_UM))
    return tuple(sorted(rows, key=lambda row: row.supports))


def with_contact(rows: Sequence[TradeOff], value_of: Callable[[FloatArray], float]) -> tuple[TradeOff, ...]:
    """The rows as the full contact model values their moves; who may touch more may also touch fewer."""
    out: list[TradeOff] = []
    for row in rows:
        value, moves = value_of(np.array(row.moves_um)), row.moves_um
        if out and out[-1].value_um < value:
            value, moves = out[-1].value_um, out[-1].moves_um
        as_planned = abs(value - row.value_um) <= 2.0 * _ALIKE_UM
        out.append(TradeOff(row.supports, value, min(row.at_least_um, value), row.proven and as_planned, moves))
    return tuple(out)


def exact(
    problem: Problem, count: int, time_s: float, *, cutoff: float = np.inf
) -> tuple[FloatArray | None, float, float]:
    """Branch and bound for at most ``count`` supports: moves, remainder and proven lower bound of the remainder."""
    rows = chosen_rows(problem)
    best: tuple[FloatArray | None, float] = (None, np.inf)
    bound = 0.0
    for _ in range(4):
        found = _branched(problem, rows, count, time_s, min(cutoff, best[1]))
        bound = max(bound, found.bound if np.isfinite(found.bound) else 0.0)
        if found.x is None:
            break
        moves = found.x[: problem.supports]
        touched = np.abs(moves) > 1e-6
        exactly = least_remainder(problem.only(touched))
        if exactly.remainder_um < best[1]:
            best = (exactly.moves_um, exactly.remainder_um)
        if exactly.remainder_um - bound <= _ALIKE_UM or rows.size == problem.now_um.size:
            break
        off = np.abs(problem.now_um + problem.influence @ exactly.moves_um - problem.free @ exactly.reference)
        rows = np.union1d(rows, np.argsort(off)[-20:])
    return best[0], best[1], bound


def _branched(problem: Problem, rows: npt.NDArray[np.intp], count: int, time_s: float, cutoff: float) -> Branched:
    """At most ``count`` moves other than nought: a switch (0 or 1) for each opens its limits."""
    matrix, right = constraints(problem, rows)
    n, variables = problem.supports, matrix.shape[1]
    bounds, switch = limits(problem), np.full((n, 2), [0.0, 1.0])
    up = np.hstack([np.eye(n), np.zeros((n, variables - n)), -np.diag(problem.highest_um)])
    down = np.hstack([-np.eye(n), np.zeros((n, variables - n)), np.diag(problem.lowest_um)])
    few = np.concatenate([np.zeros(variables), np.ones(n)])
    whole = np.vstack([np.hstack([matrix, np.zeros((matrix.shape[0], n))]), up, down, few])
    e = n + problem.free.shape[1]
    bounds[e, 1] = cutoff + 1e-6
    cost, right = (
        np.concatenate([remainder_cost(problem), np.zeros(n)]),
        np.concatenate([right, np.zeros(2 * n), [count]]),
    )
    stated = Programme(cost, whole, right, np.vstack([bounds, switch]))
    return stated.branched(np.arange(variables + n) >= variables, time_s, 1e-4)


def _taken_away(problem: Problem, turnable: BoolArray) -> dict[int, tuple[FloatArray, float]]:
    """For each number touched a good choice: drop the support whose loss costs least, by the size of its part."""
    out: dict[int, tuple[FloatArray, float]] = {}
    touched = turnable.copy()
    while True:
        found = least_remainder(problem.only(touched))
        out[int(touched.sum())] = (found.moves_um, found.remainder_um)
        if not touched.any():
            return out
        part = np.abs(problem.influence * found.moves_um).max(axis=0)
        fewest = np.flatnonzero(touched)[np.argsort(part[touched])[:3]]
        trials = []
        for support in fewest:
            without = touched.copy()
            without[support] = False
            trials.append((least_remainder(problem.only(without)).remainder_um, support))
        touched[min(trials)[1]] = False


def _row(count: int, moves: FloatArray, e: float, *, bound: float, proven: bool) -> TradeOff:
    return TradeOff(count, 2.0 * e, 2.0 * bound, proven, tuple(float(v) for v in moves))
