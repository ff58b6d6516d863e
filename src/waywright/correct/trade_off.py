"""Remainder against the number of supports touched.

Up to :data:`PROVEN_UP_TO` supports each row is proven by leaps and bounds. Above that, the rows are found by taking
supports away one by one, improved by mixed-integer programming (HiGHS branch and bound) within a time shared by all
rows; each keeps the lower bound that the branch and bound has proven.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray
from waywright.correct.leaps import Choice, Choices
from waywright.correct.linear_programme import Branched, Programme
from waywright.correct.programme import TOLERANCE_UM, Problem, chosen_rows, constraints, limits, remainder_cost

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
    choices = Choices(problem)
    ends, between = (0, choices.most), range(1, choices.most)
    bounds = {count: choices.of(count).worth_um for count in ends}
    if choices.most <= PROVEN_UP_TO:
        choices.prove(between)
        bounds |= {count: choices.of(count).worth_um - TOLERANCE_UM for count in between}
    else:
        for count in between:
            moves, bound = exact(problem, count, improved_for_s / len(between), cutoff=choices.of(count).worth_um)
            if moves is not None:
                choices.offer(moves)
            bounds[count] = max(bound, bounds[choices.most])
    return tuple(_row(count, choices.of(count), bounds[count]) for count in range(choices.most + 1))


def few(problem: Problem, count: int, time_s: float) -> FloatArray:
    """The best moves (supports,) found for at most ``count`` supports; proven best up to :data:`PROVEN_UP_TO`."""
    choices = Choices(problem)
    if choices.most <= PROVEN_UP_TO:
        choices.prove([count])
    else:
        moves, _ = exact(problem, count, time_s, cutoff=choices.of(count).worth_um)
        if moves is not None:
            choices.offer(moves)
    return choices.of(count).moves_um


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


def exact(problem: Problem, count: int, time_s: float, *, cutoff: float = np.inf) -> tuple[FloatArray | None, float]:
    """Branch and bound for at most ``count`` supports: moves if better than ``cutoff``, and proven lower bound."""
    found = _branched(problem, chosen_rows(problem), count, time_s, cutoff)
    return None if found.x is None else found.x[: problem.supports], found.bound if np.isfinite(found.bound) else 0.0


def _branched(problem: Problem, rows: npt.NDArray[np.intp], count: int, time_s: float, cutoff: float) -> Branched:
    """At most ``count`` moves other than nought: a switch (0 or 1) for each opens its limits."""
    matrix, right = constraints(problem, rows)
    n, variables = problem.supports, matrix.shape[1]
    bounds, switch = limits(problem), np.full((n, 2), [0.0, 1.0])
    up = np.hstack([np.eye(n), np.zeros((n, variables - n)), -np.diag(problem.highest_um)])
    down = np.hstack([-np.eye(n), np.zeros((n, variables - n)), np.diag(problem.lowest_um)])
    switched = np.concatenate([np.zeros(variables), np.ones(n)])
    whole = np.vstack([np.hstack([matrix, np.zeros((matrix.shape[0], n))]), up, down, switched])
    e = n + problem.free.shape[1]
    bounds[e, 1] = cutoff + 1e-6
    cost, most = np.concatenate([remainder_cost(problem), np.zeros(n)]), np.concatenate([np.zeros(2 * n), [count]])
    stated = Programme(cost, whole, np.concatenate([right, most]), np.vstack([bounds, switch]))
    return stated.branched(np.arange(variables + n) >= variables, time_s, 1e-4)


def _row(count: int, choice: Choice, bound: float) -> TradeOff:
    at_least = min(bound, choice.remainder_um)
    moves = tuple(float(v) for v in choice.moves_um)
    return TradeOff(count, 2.0 * choice.remainder_um, 2.0 * at_least, choice.worth_um - bound <= _ALIKE_UM, moves)
