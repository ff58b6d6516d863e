"""Honest coverage, the smaller run: the full one is ``python -m bench.coverage``.

The truth model of the benchmark has continuous parameters and the distributions named in the budget; the belief works
with cells and normals. Limits are three Monte Carlo standard errors of these runs around 95 %.
"""

import statistics
from functools import cache

import pytest
from bench.coverage import CASES, Coverage, Measurement, measured
from bench.coverage_truth import Wrong

MEASUREMENTS, DRAWS = 150, 400


@cache
def as_stated(name: str) -> list[Measurement]:
    """One run that several tests look at."""
    return list(measured(name, Wrong(), MEASUREMENTS, DRAWS, workers=1))


@pytest.mark.parametrize("name", ["beam", "square"])
def test_the_stated_interval_holds_the_truth_as_often_as_it_says(name: str) -> None:
    items = as_stated(name)
    for value in CASES[name].values:
        covered = Coverage.of(name, value, "all", items)
        assert covered.share == pytest.approx(0.95, abs=3.0 * 0.0178), value


def test_nobody_wins_by_being_vague() -> None:
    items = as_stated("beam")
    large = [item for item in items if item.true["straightness"] > 60.0]
    assert len(large) > 5
    widths = [
        (high - low) / item.true["straightness"] for item in large for low, high in [item.interval["straightness"]]
    ]
    assert statistics.median(widths) < 0.2


def test_statements_that_are_wrong_are_noticed() -> None:
    stated = Coverage.of("beam", "deviation", "all", as_stated("beam")).share
    wrong = Coverage.of("beam", "deviation", "all", measured("beam", Wrong(influences=2.0), 60, DRAWS, workers=1)).share
    assert wrong < stated - 0.1
