"""The normal draws: distribution, tails, independence, and the same bits on any number of threads.

Every bound is at four to five standard deviations of what a perfect generator shows; seeds are fixed.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from waywright.errors import BadInput
from waywright.uncertainty import noise_values, standard_normals
from waywright.uncertainty.draws import BLOCK

TAIL = 3.6541528853610088  # where the ziggurat's tail begins


@pytest.fixture(scope="module")
def draws() -> np.ndarray:
    return standard_normals(4_000_000, seed=20)


def test_moments(draws: np.ndarray) -> None:
    n = draws.size
    for power, mean, variance in [(1, 0.0, 1.0), (2, 1.0, 2.0), (3, 0.0, 15.0), (4, 3.0, 96.0), (6, 15.0, 10170.0)]:
        assert abs((draws**power).mean() - mean) < 4.5 * np.sqrt(variance / n), power


def test_kolmogorov_smirnov(draws: np.ndarray) -> None:
    for part in draws.reshape(8, -1):
        assert stats.kstest(part, "norm").pvalue > 1e-4


def test_equally_likely_cells(draws: np.ndarray) -> None:
    """Chi-square over 4096 cells of equal probability, narrow enough to see each layer's edge."""
    counts = np.bincount((stats.norm.cdf(draws) * 4096).astype(int), minlength=4096)
    assert 1e-4 < stats.chisquare(counts).pvalue < 1.0 - 1e-4


@pytest.mark.parametrize("limit", [2.0, 3.0, TAIL, 4.0, 4.5, 5.0])
@pytest.mark.parametrize("side", [-1.0, 1.0])
def test_tail_counts(draws: np.ndarray, limit: float, side: float) -> None:
    expected = draws.size * stats.norm.sf(limit)
    found = int((side * draws > limit).sum())
    assert stats.poisson.sf(found - 1, expected) > 1e-5
    assert stats.poisson.cdf(found, expected) > 1e-5


def test_the_tail_has_the_right_shape(draws: np.ndarray) -> None:
    beyond = np.abs(draws[np.abs(draws) > TAIL])
    assert beyond.size > 800
    assert stats.kstest(1.0 - stats.norm.sf(beyond) / stats.norm.sf(TAIL), "uniform").pvalue > 1e-4


def test_neighbours_and_streams_are_independent(draws: np.ndarray) -> None:
    n = 1_000_000
    first = draws[:n]
    others = [draws[lag : lag + n] for lag in (1, 2, 30, 1024)]
    others += [standard_normals(n, seed=21), standard_normals(n, seed=20, stream=1)]
    for other in others:
        assert abs((first * other).mean()) < 4.5 / np.sqrt(n)
        assert abs(((first**2 - 1.0) * (other**2 - 1.0)).mean()) < 4.5 * 2.0 / np.sqrt(n)


def test_the_range_of_small_samples_has_the_tabulated_mean(draws: np.ndarray) -> None:
    """Source: control-chart constants d2 = E(range)/sigma, e.g. NIST/SEMATECH e-Handbook 6.3.2, ASTM STP 15D."""
    for n, d2, d3 in [(2, 1.128, 0.853), (5, 2.326, 0.864), (10, 3.078, 0.797), (25, 3.931, 0.708)]:
        samples = draws[: draws.size // n * n].reshape(-1, n)
        spread = samples.max(axis=1) - samples.min(axis=1)
        assert spread.mean() == pytest.approx(d2, abs=5e-4 + 4.5 * d3 / np.sqrt(len(samples)))
        assert spread.std() == pytest.approx(d3, abs=5e-4 + 4.5 * d3 / np.sqrt(len(samples)))


@pytest.mark.parametrize("threads", [1, 2, 3, 8])
def test_the_same_bits_on_any_number_of_threads(threads: int) -> None:
    count = 3 * BLOCK + 1234
    assert standard_normals(count, 5, threads=threads).tobytes() == standard_normals(count, 5).tobytes()
    x = np.arange(13) * 100.0
    for reference in ("end-points", "least-squares", "minimum-zone"):
        one = noise_values(x, reference, 20_000, seed=5, threads=1)
        assert noise_values(x, reference, 20_000, seed=5, threads=threads).tobytes() == one.tobytes()


def test_any_part_of_a_stream_can_be_drawn_alone() -> None:
    whole = standard_normals(1000, seed=9)
    assert standard_normals(100, seed=9, first=700).tobytes() == whole[700:800].tobytes()
    assert standard_normals(100, seed=10, first=700).tobytes() != whole[700:800].tobytes()


def test_a_negative_seed_is_refused() -> None:
    with pytest.raises(BadInput, match="whole number from 0 up"):
        standard_normals(3, seed=-1)
