"""A million trials of 30 stations with drift, nonlinearity, air and minimum zone, against numpy drawing the normals."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from bench.measure import Row, interleaved_s
from waywright.uncertainty.trials import trial_values

TRIALS, STATIONS = 1_000_000, 30


def rows() -> Iterator[Row]:
    x = np.arange(STATIONS) * 170.0
    share, distance_m = x / x[-1], x / 1e3
    bow = 30.0 * share * (1.0 - share)
    phase = 3.0 * np.pi * bow / bow.max()
    columns = np.stack(
        [share, share * distance_m, 0.93 * 0.2 * distance_m**2 / 2.0, 0.3 * np.sin(phase), 0.3 * np.cos(phase)]
    )

    def values(threads: int) -> object:
        return trial_values(x, bow, 0.8, columns, "minimum-zone", TRIALS, seed=1, threads=threads)

    values(2)  # compiles or loads
    numpy_s, two_s, one_s = interleaved_s(
        lambda: np.random.default_rng(1).standard_normal(TRIALS * STATIONS),
        lambda: values(2),
        lambda: values(1),
        rounds=7,
    )
    against = "numpy, 3e7 normals, one thread"
    yield Row("1e6 trials of 30 with five systematic parts, minimum zones, two threads", two_s, numpy_s, against, 1.5)
    yield Row("the same on one thread", one_s, numpy_s, against)
    yield Row("two threads against one", two_s, one_s, "one thread", 1.0 / 1.8)
