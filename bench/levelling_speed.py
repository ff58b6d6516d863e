"""All supports planned at once: 60 supports, 2000 stations: ``python -m bench.levelling_speed``.

Prints the processor time of the whole plan (contact check, steps and interval included), and of its minimax programme
against the same programme stated in a general modelling layer (cvxpy, solved by the same HiGHS).
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

import numpy as np

from waywright.correct import plan_correction
from waywright.correct.planning import problem_for
from waywright.correct.programme import Problem, least_remainder
from waywright.machine import Bed, Support

PER_ROW, STATIONS, REPEATS = 30, 2000, 5


def long_bed() -> Bed:
    supports = tuple(
        Support(f"{row}{i}", 300.0 + 1000.0 * i, row, anchored=True, seat_n_per_um=400.0)
        for row in ("front", "rear")
        for i in range(PER_ROW)
    )
    return Bed(
        600.0 + 1000.0 * (PER_ROW - 1), supports, gauge_mm=800.0, mass_kg=98_000.0, bending_n_m2=4e8, torsion_n_m2=1e8
    )  # fmt: skip


def by_modelling_layer(problem: Problem) -> float:
    """The least remainder, every station stated."""
    import cvxpy

    moves, reference, e = cvxpy.Variable(problem.supports), cvxpy.Variable(problem.free.shape[1]), cvxpy.Variable()
    left = problem.now_um + problem.influence @ moves - problem.free @ reference
    limits = [left <= e, -left <= e, moves >= problem.lowest_um, moves <= problem.highest_um]
    cvxpy.Problem(cvxpy.Minimize(e), limits).solve(solver=cvxpy.SCIPY, scipy_options={"method": "highs"})
    return float(e.value)


def best_of(task: Callable[[], object], repeats: int) -> float:
    times = []
    for _ in range(repeats):
        begun = time.process_time()
        task()
        times.append(time.process_time() - begun)
    return min(times)


def main() -> int:
    bed, rng = long_bed(), np.random.default_rng(0)
    x = np.linspace(0.0, bed.length_mm, STATIONS)
    heights = 40 * np.sin(x / 4000) + 20 * np.cos(x / 1700) + rng.normal(0.0, 1.0, x.size)

    def whole() -> object:
        return plan_correction(bed, x, heights, quantity="guideway", noise_um=1.0, goal_um=20.0)

    plan = plan_correction(bed, x, heights, quantity="guideway", noise_um=1.0, goal_um=20.0)
    problem = problem_for(plan.belief, plan.model, plan.line, plan.wish, np.ones(2 * PER_ROW, dtype=np.bool_))
    ours, theirs = least_remainder(problem).remainder_um, by_modelling_layer(problem)
    assert abs(ours - theirs) < 0.011, (ours, theirs)
    plan_s = best_of(whole, REPEATS)
    own_s, layer_s = best_of(lambda: least_remainder(problem), REPEATS), best_of(lambda: by_modelling_layer(problem), 2)
    print(f"whole plan, {2 * PER_ROW} supports x {STATIONS} stations: {plan_s:.2f} s (aim 1 s)")
    ratio = layer_s / own_s
    print(
        f"minimax programme: {own_s * 1e3:.0f} ms; modelling layer {layer_s * 1e3:.0f} ms; ratio {ratio:.0f} (aim 10)"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
