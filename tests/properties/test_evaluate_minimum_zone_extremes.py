"""The minimum zone where rounding, ties and size are against it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waywright.evaluate import straightness
from waywright.evaluate.minimum_zone import width_by_cuts, zone


def value(x: np.ndarray, y: np.ndarray) -> float:
    return float(straightness(x, y, "minimum-zone").value_um)


@given(st.lists(st.integers(-3, 3), min_size=3, max_size=30))
def test_small_whole_numbers_full_of_ties_against_all_pairs(heights: list[int]) -> None:
    """Brute force: the best direction is always that of some pair of points."""
    x, y = np.arange(len(heights), dtype=float), np.array(heights, dtype=float)
    i, j = np.triu_indices(x.size, 1)
    slopes = (y[j] - y[i]) / (x[j] - x[i])
    off = y[:, None] - x[:, None] * slopes
    assert value(x, y) == pytest.approx((off.max(axis=0) - off.min(axis=0)).min(), abs=1e-12)


@given(st.integers(0, 10_000), st.integers(3, 60))
def test_cuts_and_hulls_agree(seed: int, stations: int) -> None:
    random = np.random.default_rng(seed)
    x, y = np.sort(random.random(stations)) + np.arange(stations), random.normal(size=stations)
    room = np.empty(stations, np.int64), np.empty(stations, np.int64)
    assert width_by_cuts.plain(x, y) == pytest.approx(zone.plain(x, y, *room)[1], rel=1e-12)


def test_points_on_a_line_have_no_width() -> None:
    x = np.arange(1000) * 0.1
    assert value(x, 3.0 + 0.7 * x) < 1e-12
    assert value(x, np.zeros_like(x)) == 0.0


def test_a_huge_offset_costs_only_the_rounding_of_the_data() -> None:
    random = np.random.default_rng(1)
    x, y = np.arange(200.0), random.normal(size=200)
    plain = value(x, y)
    assert value(x + 1e9, y) == pytest.approx(plain, rel=1e-12)
    assert value(x, y + 2.0**30) == pytest.approx(plain, abs=2.0**-21)


def test_near_ties_stay_near() -> None:
    """A triangle wave with noise of one unit in the last place."""
    x = np.arange(301.0)
    y = np.abs((x % 20) - 10)
    noise = np.random.default_rng(2).choice([-1.0, 0.0, 1.0], size=x.size) * 2.0**-50
    assert value(x, y + noise) == pytest.approx(value(x, y), abs=1e-12)


@pytest.mark.parametrize("shape", ["noise", "bow", "sag", "wave"])
def test_a_million_points(shape: str) -> None:
    x = np.linspace(-1.0, 1.0, 1_000_001)
    if shape == "noise":
        y = np.random.default_rng(3).uniform(-1.0, 1.0, x.size)
        y[[0, 500_000, -1]] = [1.0, -1.0, 1.0]
        expected = 2.0
    elif shape == "wave":
        y, expected = np.cos(8.0 * np.pi * x), 2.0
    else:
        sign = 1.0 if shape == "sag" else -1.0
        y, expected = sign * x**2, 1.0
    assert value(x, y) == pytest.approx(expected, rel=1e-12)


def test_steep_profile() -> None:
    """A tilt a million times the deviations is the rounding of the data and no more."""
    x, y = np.arange(50.0) * 100.0, np.random.default_rng(4).normal(size=50)
    assert value(x, y + 1e6 * x / 1000.0) == pytest.approx(value(x, y), abs=1e-8)
