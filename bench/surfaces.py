"""Minimum-zone plane and smallest cylinder at 100, 1e4 and 1e6 points, against a general solver called directly."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from scipy.optimize import linprog, minimize

from bench.measure import Row, interleaved_s
from waywright.evaluate import flatness, spatial_straightness

SIZES = (100, 10_000, 1_000_000)
LARGEST_FOR_SLSQP = 100  # its matrices grow with the square of the points


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

    times = interleaved_s(lambda: flatness(x, y, z), programme, rounds=1 if size > 1e5 else 3)
    return Row(f"minimum-zone plane, {size:.0e} points", *times, "scipy linprog on all points")


def cylinder(size: int, x: np.ndarray, h: np.ndarray, v: np.ndarray) -> Row:
    (ours,) = interleaved_s(lambda: spatial_straightness(x, h, v), rounds=3)
    if size > LARGEST_FOR_SLSQP:
        return Row(f"smallest cylinder, {size:.0e} stations", ours)
    (there,) = interleaved_s(general_cylinder(x / 500.0 - 1.0, h, v), rounds=3)
    return Row(f"smallest cylinder, {size:.0e} stations", ours, there, "scipy SLSQP on all stations")


def general_cylinder(u: np.ndarray, h: np.ndarray, v: np.ndarray) -> Callable[[], object]:
    one = np.ones_like(u)

    def room(p: np.ndarray) -> np.ndarray:
        return np.asarray(p[4] - (h - p[0] - p[1] * u) ** 2 - (v - p[2] - p[3] * u) ** 2)

    def slopes(p: np.ndarray) -> np.ndarray:
        off_h, off_v = 2.0 * (h - p[0] - p[1] * u), 2.0 * (v - p[2] - p[3] * u)
        return np.column_stack([off_h, off_h * u, off_v, off_v * u, one])

    start = np.array([0.0, 0.0, 0.0, 0.0, 1.1 * float((h**2 + v**2).max())])
    limits = {"type": "ineq", "fun": room, "jac": slopes}
    towards = np.array([0.0, 0.0, 0.0, 0.0, 1.0])
    return lambda: minimize(
        lambda p: p[4], start, jac=lambda p: towards, constraints=limits, method="SLSQP", options={"ftol": 1e-12}
    )
