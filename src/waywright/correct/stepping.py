"""Moves that can be turned: whole steps of each adjuster, nothing below its smallest step."""

from __future__ import annotations

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.programme import Problem, Solution, least_remainder, remainder

_BATCHES = 6


def in_steps(problem: Problem, moves_um: FloatArray, step_um: FloatArray) -> Solution:
    """Round moves to whole steps, the surest first, and let the others make up for it."""
    step = np.where(step_um > 0.0, step_um, 1e-9)
    moves = moves_um.copy()
    settled = np.abs(moves) < step / 2
    moves[settled] = 0.0
    while not settled.all():
        whole = np.round(moves / step) * step
        off = np.where(settled, np.inf, np.abs(whole - moves) / step)
        now = np.argsort(off)[: max(1, problem.supports // _BATCHES)]
        now = now[~settled[now]]
        low, high = problem.lowest_um[now], problem.highest_um[now]
        moves[now] = np.clip(whole[now], np.ceil(low / step[now]) * step[now], np.floor(high / step[now]) * step[now])
        settled[now] = True
        if not settled.all():
            moves = _made_up(problem, moves, settled, step)
    return remainder(problem, moves)


def _made_up(problem: Problem, moves: FloatArray, settled: np.ndarray, step: FloatArray) -> FloatArray:
    """Within a step of where they are, the open moves take up what rounding the others cost."""
    low = np.maximum(np.where(settled, moves, moves - step), np.where(settled, -np.inf, problem.lowest_um))
    high = np.minimum(np.where(settled, moves, moves + step), np.where(settled, np.inf, problem.highest_um))
    near = Problem(
        problem.now_um,
        problem.influence,
        problem.free,
        low,
        high,
        problem.press_um,
        problem.press_by,
        problem.resting,
    )
    return least_remainder(near).moves_um
