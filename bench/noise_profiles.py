"""A million simulated profiles of 30 stations with their minimum zones, against numpy drawing the normals alone."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bench.measure import Row, interleaved_s
from waywright.uncertainty import noise_values, standard_normals

PROFILES, STATIONS = 1_000_000, 30


def rows() -> Iterator[Row]:
    x = np.arange(STATIONS) * 170.0
    noise_values(x, "minimum-zone", PROFILES, seed=1)  # compiles or loads

    def values(reference: str, threads: int) -> object:
        return noise_values(x, reference, PROFILES, seed=1, threads=threads)

    numpy_s, two_s, one_s, line_s, normals_s = interleaved_s(
        lambda: np.random.default_rng(1).standard_normal(PROFILES * STATIONS),
        lambda: values("minimum-zone", 2),
        lambda: values("minimum-zone", 1),
        lambda: values("least-squares", 2),
        lambda: standard_normals(PROFILES * STATIONS, seed=1, threads=1),
        rounds=3,
    )
    against = "numpy, 3e7 normals, one thread"
    yield Row("1e6 profiles of 30, minimum zones, two threads", two_s, numpy_s, against, 1.0)
    yield Row("the same on one thread", one_s, numpy_s, against)
    yield Row("least-squares values, two threads", line_s, numpy_s, against)
    yield Row("the normals alone, one thread", normals_s, numpy_s, against)
