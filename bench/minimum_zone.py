"""The exact minimum zone: a million points against a hull alone, a short profile against a linear programme."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator

import numpy as np
from scipy.optimize import linprog
from scipy.spatial import ConvexHull

from bench.measure import Row, interleaved_s
from waywright.compiled import POINTS_BEFORE_COMPILING
from waywright.evaluate import straightness
from waywright.evaluate.minimum_zone import zone_and_extremes


def rows() -> Iterator[Row]:
    zone_and_extremes.compiled  # noqa: B018 - the first use compiles it or loads it from the disk
    yield from million_points()
    yield thirty_points()
    yield from what_compiling_costs()


def million_points() -> Iterator[Row]:
    x = np.linspace(0.0, 5000.0, 1_000_000)
    random = np.random.default_rng(1)
    shapes = {
        "noise": random.normal(size=x.size),
        "bow, noise": 100.0 * ((x - 2500.0) / 2500.0) ** 2 + random.normal(size=x.size),
        "bow alone": 100.0 * ((x - 2500.0) / 2500.0) ** 2,
    }
    for name, y in shapes.items():
        points = np.column_stack([x, y])
        times = interleaved_s(
            lambda y=y: straightness(x, y, "minimum-zone"), lambda points=points: ConvexHull(points), rounds=3
        )
        yield Row(f"minimum zone, 1e6 points ({name})", *times, "scipy ConvexHull alone", 0.25)


def thirty_points() -> Row:
    x, y = np.arange(30) * 170.0, np.random.default_rng(2).normal(size=30)
    u, one = 2.0 * x / x[-1] - 1.0, np.ones(30)
    upper = np.column_stack([one, u, -one])
    lower = np.column_stack([-one, -u, -one])
    matrix, right, free = np.vstack([upper, lower]), np.r_[y, -y], [(None, None)] * 3
    times = interleaved_s(
        lambda: straightness(x, y, "minimum-zone"),
        lambda: linprog([0.0, 0.0, 1.0], A_ub=matrix, b_ub=right, bounds=free),
        repeat=50,
    )
    return Row("minimum zone, 30 points, public function", *times, "scipy linprog", 1 / 50)


def what_compiling_costs() -> Iterator[Row]:
    """When loading the compiler pays: interpreting that many points should take about as long as loading it."""
    x, y = np.arange(30) * 170.0, np.random.default_rng(2).normal(size=30)
    (profile_s,) = interleaved_s(lambda: zone_and_extremes.plain(x, y, 0.0), repeat=100)
    load = "from waywright.evaluate.minimum_zone import zone_and_extremes as kernel; kernel.compiled"
    (with_s, without_s) = interleaved_s(
        *(lambda code=code: subprocess.run([sys.executable, "-c", code], check=True) for code in (load, load[:-9])),
        rounds=3,
    )
    interpreted_s = profile_s / 30 * POINTS_BEFORE_COMPILING
    yield Row(
        "interpreting up to the compiler's turn", interpreted_s, with_s - without_s, "loading numba and the kernel"
    )
