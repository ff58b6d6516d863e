"""Minimum-zone plane and smallest cylinder at 100, 1e4 and 1e6 points, against a general solver called directly."""

from __future__ import annotations

from collections.abc import Iterator

import clarabel
import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csc_matrix

from bench.measure import Row, interleaved_s
from waywright.evaluate import flatness, spatial_straightness

SIZES = (100, 10_000, 1_000_000)
ROUNDS = 9


def rows() -> Iterator[Row]:
    for size in SIZES:
        random = np.random.default_rng(size)
        x, y = random.uniform(0.0, 1000.0, (2, size))
        a, b = random.normal(size=(2, size))
        yield plane(size, x, y, a)
        yield cylinder(size, np.sort(x), a, b)


def plane(size: int, x: np.ndarray, y: np.ndarray, z: np.ndarray) -> Row:
    place = np.column_stack([np.ones(size), x / 500.0 - 1.0, y / 500.0 - 1.0])
    one = np.ones((size, 1))
    matrix, right = np.block([[place, -one], [-place, -one]]), np.r_[z, -z]

    def programme() -> object:
        return linprog([0, 0, 0, 1], matrix, right, bounds=[(None, None)] * 4)

    times = interleaved_s(lambda: flatness(x, y, z), programme, rounds=1 if size > 1e5 else ROUNDS)
    return Row(f"minimum-zone plane, {size:.0e} points", *times, "scipy linprog on all points")


def cylinder(size: int, x: np.ndarray, h: np.ndarray, v: np.ndarray) -> Row:
    problem = cones(x / 500.0 - 1.0, h, v)
    times = interleaved_s(
        lambda: spatial_straightness(x, h, v), lambda: solved(problem), rounds=1 if size > 1e5 else ROUNDS
    )
    return Row(f"smallest cylinder, {size:.0e} stations", *times, "clarabel, a cone for each station")


def cones(u: np.ndarray, h: np.ndarray, v: np.ndarray) -> tuple[csc_matrix, np.ndarray, list[object]]:
    """Least t with |(h - a - b u, v - c - d u)| <= t at every station, in the form that cone solvers take."""
    one, row = np.ones_like(u), 3 * np.arange(u.size)
    places = np.concatenate([row, row + 1, row + 1, row + 2, row + 2]), np.repeat(np.arange(5), u.size)
    matrix = csc_matrix((np.concatenate([-one, one, u, one, u]), places), shape=(3 * u.size, 5))
    right = np.stack([np.zeros_like(u), h, v], axis=1).ravel()
    return matrix, right, [clarabel.SecondOrderConeT(3)] * u.size


def solved(problem: tuple[csc_matrix, np.ndarray, list[object]]) -> object:
    matrix, right, kinds = problem
    wanted = clarabel.DefaultSettings()
    wanted.verbose = False
    wanted.tol_gap_abs = wanted.tol_gap_rel = wanted.tol_feas = 1e-10
    least = np.array([1.0, 0.0, 0.0, 0.0, 0.0])
    return clarabel.DefaultSolver(csc_matrix((5, 5)), least, matrix, right, kinds, wanted).solve()
