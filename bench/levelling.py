"""Rounds to goal of four ways to level a bed: ``python -m bench.levelling --beds 10``.

Turning each support by its reading; a minimax plan on the prior without learning; Waywright, learning; and an oracle
that knows the true bed, which is the physical limit. The truth is a model of its own (bench/levelling_truth.py).
Goal: max(15 um, 1.5 times what the oracle could reach without noise). A round turns each support by 0.2 mm at most;
turning error is 3 um or 10 % of the move, the reading noise 1 um; a bed is given up after 15 rounds. The full
benchmark is ``--beds 200 --workers N``: about a second a bed and cell. Beds are taken in turn over all cells, and with
``--keep FILE`` each is written down at once, so that a run can be stopped, looked at and gone on with.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

import numpy as np

from bench.levelling_beds import LARGEST_MOVE_UM, NOISE_UM, Case, Cell, case
from bench.levelling_table import LONGEST, METHODS, BedDone, Run, aims, cells, keep, kept_in, markdown, printed, row
from bench.levelling_truth import Truth
from waywright.correct.belief import Belief, prior
from waywright.correct.learning import TurningError
from waywright.correct.lines import line, measured
from waywright.correct.observing import Line, RoundSeen, learnt, placed
from waywright.correct.planning import KEEP_PART, SLACK, Wish, best_fit, planned, problem_for
from waywright.correct.programme import Problem, least_moves, least_remainder
from waywright.correct.response import BedModel, bed_model
from waywright.correct.stepping import in_steps

TURNING = TurningError(3.0, 0.10)
MARGIN = 0.6


def free_of(true: Truth) -> np.ndarray:
    """Offset and tilt of the heights, level of the roll."""
    n, both = true.height.shape[0], true.height.shape[0] + true.roll.shape[0]
    free = np.zeros((both, 3 if both > n else 2))
    free[:n, 0], free[:n, 1] = 1.0, np.linspace(-1.0, 1.0, n)
    free[:n, 1] = true.station_m - true.station_m.mean()
    free[n:, 2:] = 1.0
    return free


def value_of(true: Truth, line_um: np.ndarray) -> float:
    """Value of a line: twice the largest distance from the best reference, heights and roll times gauge together."""
    return best_fit(line_um, free_of(true))[0]


def oracle_moves(made: Case, setting: np.ndarray, values_um: np.ndarray, goal_um: float, cap_um: float) -> np.ndarray:
    """The plan of one who knows the true bed: the same programme on the true seats, linear around what they carry.

    With every support loaded the bed's line is linear in the forces, so without a cap the least remainder is exact.
    """
    true, count = made.truth, made.truth.seat.size
    share = 0.0 if true.anchored else made.weight_n / count
    keep, limit = KEEP_PART * share * np.ones(count), np.full(count, cap_um)
    now, force = true.line(true.rest(setting)), np.full(count, share)
    moves = np.zeros(count)
    for _ in range(6):
        seat, offset = true.linear_seat(force)
        matrix = true.stiffness + true.at.T @ (seat[:, None] * true.at)
        by = np.linalg.solve(matrix, true.at.T * seat)
        still = np.linalg.solve(matrix, true.load) + by @ (setting - offset)
        problem = Problem(
            values_um + true.line(still) - now, true.line_rows @ by, free_of(true), -limit, limit,
            setting - offset - true.at @ still - keep / seat, np.eye(count) - true.at @ by,
            np.full(count, not true.anchored),
        )  # fmt: skip
        moves = _minimax(problem, goal_um)
        force = seat * (setting + moves - offset - true.at @ (still + by @ moves))
        force = force if true.anchored else np.maximum(force, keep)
    return moves


def _minimax(problem: Problem, goal_um: float) -> np.ndarray:
    found = least_remainder(problem)
    if goal_um == 0.0:
        return found.moves_um
    aim = max(found.remainder_um * SLACK, MARGIN * goal_um / 2)
    thrifty = least_moves(problem, aim) if aim > found.remainder_um else found
    return in_steps(problem, thrifty.moves_um, np.full(problem.supports, 2.0)).moves_um


def by_reading(made: Case, values_um: np.ndarray) -> np.ndarray:
    """Turn each support by what is read over it, against the best line."""
    true = made.truth
    n = true.height.shape[0]
    off = best_fit(values_um, free_of(true))[1]
    height = np.interp(true.along_m, true.station_m, off[:n])
    roll = np.interp(true.along_m, true.station_m, off[n:]) if off.size > n else 0.0
    moves = -(height + np.sign(true.across_m) * 0.5 * roll)
    return np.clip(moves, -LARGEST_MOVE_UM, LARGEST_MOVE_UM)


@dataclass
class Planner:
    """Waywright's planner over the rounds; without learning, the plain minimax programme on the prior each time."""

    made: Case
    goal_um: float
    learning: bool
    belief: Belief | None = None
    model: BedModel | None = None
    before: np.ndarray | None = None
    asked: np.ndarray | None = None

    def moves(self, values_um: np.ndarray) -> np.ndarray:
        self.model = self.model or bed_model(self.made.bed)
        seen = _line(self.model, self.made, values_um)
        if self.belief is None or not self.learning:
            self.belief = placed(prior(self.model), self.model, seen)
        elif self.before is not None and self.asked is not None:
            happened = RoundSeen(values_um - self.before, self.asked, TURNING, same_setup=False)
            self.belief, _ = learnt(self.belief, self.model, seen, happened)
        wish = Wish(self.goal_um, np.zeros(len(self.model.supports), dtype=np.bool_))
        if not self.learning:
            everywhere = np.ones(len(self.model.supports), dtype=np.bool_)
            return _minimax(problem_for(self.belief, self.model, seen, wish, everywhere), self.goal_um)
        self.before, self.asked = values_um, planned(self.belief, self.model, seen, wish).moves_um
        return self.asked


def _line(model: BedModel, made: Case, values_um: np.ndarray) -> Line:
    n = made.position_mm.size
    roll = values_um[n:] / (model.bed.gauge_mm or 1.0) * 1e3 if made.rows == 2 else None
    return line(model, measured(made.position_mm, values_um[:n], roll, None, "guideway", NOISE_UM))


def run(made: Case, method: str, goal_um: float, seed: int) -> Run:
    """Level one bed; every method meets the same noise and the same luck in turning."""
    rng = np.random.default_rng([seed, 77])
    setting, turned, values = made.setting_um.copy(), 0.0, []
    planner = Planner(made, goal_um, method == "ours")
    for rounds in range(LONGEST + 1):
        true_line = made.seen(setting)
        values.append(value_of(made.truth, true_line))
        if values[-1] <= goal_um or rounds == LONGEST:
            break
        read = true_line + rng.normal(0.0, NOISE_UM, true_line.size)
        luck = rng.normal(0.0, 1.0, setting.size)
        if method == "reading":
            moves = by_reading(made, read)
        elif method == "oracle":
            moves = oracle_moves(made, setting, read, goal_um, LARGEST_MOVE_UM)
        else:
            moves = planner.moves(read)
        setting = setting + moves + luck * TURNING.standard_deviation_um(moves)
        turned += float(np.abs(moves).sum())
    there = values[-1] <= goal_um
    return Run(method, rounds if there else LONGEST + 1, turned, there, tuple(round(v, 2) for v in values))


def one_bed(cell: Cell, seed: int, methods: tuple[str, ...] = METHODS) -> list[Run]:
    made = case(cell, seed)
    best = oracle_moves(made, made.setting_um, made.seen(made.setting_um), 0.0, 5000.0)
    goal = max(15.0, 1.5 * value_of(made.truth, made.seen(made.setting_um + best)))
    return [run(made, method, goal, seed) for method in methods]


Task = tuple[Cell, int, tuple[str, ...]]


def _job(task: Task) -> BedDone:
    cell, seed, methods = task
    try:
        return BedDone(cell.title, seed, tuple(one_bed(cell, seed, methods)))
    except Exception as error:  # not every error survives the way back from another process
        raise RuntimeError(f"{cell.title}, bed {seed}: {error!r}") from None


def _in_turn(tasks: list[Task], workers: int) -> Iterator[BedDone]:
    """Beds in the order asked for. One thread for each worker: the matrices are small, more threads only wait."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        yield from pool.map(_job, tasks)


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--beds", type=int, default=4, help="beds per cell (200 is the full benchmark)")
    parser.add_argument("--first-seed", type=int, default=0, help="seed of the first bed of each cell")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--only", default="", help="cells whose title contains this text")
    parser.add_argument("--methods", default=",".join(METHODS))
    parser.add_argument("--keep", type=Path, default=None, help="file that every bed is written to, and gone on from")
    parser.add_argument("--markdown", action="store_true", help="print the table for a page")
    options = parser.parse_args(arguments)
    methods, begun = tuple(options.methods.split(",")), time.perf_counter()
    chosen = [cell for cell in cells() if options.only in cell.title]
    done = kept_in(options.keep)
    ready = {(each.cell, each.seed) for each in done}
    seeds = range(options.first_seed, options.first_seed + options.beds)
    tasks = [(cell, seed, methods) for seed in seeds for cell in chosen if (cell.title, seed) not in ready]
    for each in _in_turn(tasks, options.workers):
        keep(options.keep, each)
        done.append(each)
    table = [
        row(cell.title, [each.runs for each in done if each.cell == cell.title and each.seed in seeds])
        for cell in chosen
    ]
    missed = {str(figures["cell"]): aims(figures) for figures in table} if {"ours", "oracle"} <= set(methods) else {}
    if options.markdown:
        print(markdown(table))
    else:
        for figures in table:
            missing = missed.get(str(figures["cell"]))
            print(printed(figures) + (f"  MISSES {missing}" if missing else ""))
    misses = sum(bool(each) for each in missed.values())
    print(f"{misses} of {len(table)} cells miss an aim; {time.perf_counter() - begun:.0f} s", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
