"""The programme behind a plan: taking in stations as needed changes nothing, and steps stay within limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from waywright.correct.hollow import below
from waywright.correct.learning import fit_of
from waywright.correct.programme import Problem, least_moves, least_remainder, remainder
from waywright.correct.stepping import in_steps

SEEDS = st.integers(0, 10_000)


def random_problem(seed: int, stations: int, supports: int, *, resting: bool) -> Problem:
    rng = np.random.default_rng(seed)
    x = np.linspace(0.0, 1.0, stations)
    centre = np.linspace(0.0, 1.0, supports)
    width = 0.8 / supports
    influence = np.exp(-(((x[:, None] - centre) / width) ** 2) / 2)
    now = 60 * np.sin(3 * x + rng.uniform(0, 6)) + rng.normal(0.0, 3.0, stations)
    return Problem(
        now,
        influence,
        np.column_stack([np.ones(stations), x - 0.5]),
        np.full(supports, -80.0),
        np.full(supports, 80.0),
        rng.uniform(5.0, 60.0, supports),
        np.eye(supports) - 0.2 * np.exp(-np.abs(centre[:, None] - centre) * supports),
        np.full(supports, resting),
    )


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.sampled_from([200, 700]), st.integers(3, 9), st.booleans())
def test_taking_in_stations_finds_what_all_stations_find(
    seed: int, stations: int, supports: int, resting: bool
) -> None:
    p = random_problem(seed, stations, supports, resting=resting)
    found = least_remainder(p)
    e = np.ones((stations, 1))
    above = np.hstack([p.influence, -p.free, -e])
    below_ = np.hstack([-p.influence, p.free, -e])
    press = np.hstack([-p.press_by, np.zeros((supports, 3))])[p.resting]
    whole = linprog(
        np.concatenate([np.zeros(supports + 2), [1.0]]),
        A_ub=np.vstack([above, below_, press]),
        b_ub=np.concatenate([-p.now_um, p.now_um, p.press_um[p.resting]]),
        bounds=[*zip(p.lowest_um, p.highest_um, strict=True), (None, None), (None, None), (0, None)],
        method="highs",
    )
    assert found.remainder_um == pytest.approx(whole.fun, abs=0.011)
    assert (found.moves_um >= p.lowest_um - 1e-9).all()
    assert (found.moves_um <= p.highest_um + 1e-9).all()


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.floats(1.05, 3.0))
def test_allowing_more_remainder_saves_turning(seed: int, part: float) -> None:
    p = random_problem(seed, 60, 6, resting=False)
    best = least_remainder(p)
    thrifty = least_moves(p, part * best.remainder_um)
    assert thrifty.remainder_um <= part * best.remainder_um + 1e-3
    assert np.abs(thrifty.moves_um).sum() <= 1.2 * np.abs(best.moves_um).sum() + 1e-6


@settings(max_examples=25, deadline=None)
@given(SEEDS, st.sampled_from([2.0, 5.0, 10.0]))
def test_steps_are_whole_and_cost_little(seed: int, step: float) -> None:
    p = random_problem(seed, 60, 6, resting=False)
    best = least_remainder(p)
    stepped = in_steps(p, best.moves_um, np.full(6, step))
    assert stepped.moves_um / step == pytest.approx(np.round(stepped.moves_um / step), abs=1e-9)
    assert (np.abs(stepped.moves_um) <= 80.0 + 1e-9).all()
    assert best.remainder_um - 1e-6 <= stepped.remainder_um <= best.remainder_um + step


def test_every_resting_support_keeps_its_press() -> None:
    p = random_problem(3, 60, 6, resting=True)
    found = least_remainder(p)
    assert found.missing_um == pytest.approx(0.0, abs=1e-9)
    assert (p.press_um + p.press_by @ found.moves_um >= -1e-6).all()
    loose = random_problem(3, 60, 6, resting=False)
    assert least_remainder(loose).remainder_um <= found.remainder_um + 1e-9
    assert (loose.press_um + loose.press_by @ least_remainder(loose).moves_um < -1.0).any()


def test_the_remainder_of_given_moves_is_that_of_the_best_line() -> None:
    p = random_problem(9, 50, 5, resting=False)
    moves = np.array([10.0, -20.0, 0.0, 5.0, 0.0])
    left = p.now_um + p.influence @ moves
    # exchange check (Chebyshev): three stations of alternating sign carry the largest distance
    found = remainder(p, moves)
    off = left - p.free @ found.reference
    largest = np.abs(off) > found.remainder_um - 1e-6
    signs = np.sign(off[largest])
    assert np.count_nonzero(largest) >= 3
    assert np.count_nonzero(np.diff(signs)) >= 2


@settings(max_examples=40, deadline=None)
@given(st.floats(-50.0, 50.0), st.floats(1.0, 80.0), st.floats(-100.0, 100.0))
def test_a_belief_cut_off_at_contact(middle: float, spread: float, edge: float) -> None:
    # against scipy.stats.truncnorm, where that is accurate
    from scipy.stats import truncnorm

    mean, deviation = below(middle, spread, edge)
    assert mean < edge + 1e-9
    a = (edge - middle) / spread
    if a > -5.0:
        exact = truncnorm(-np.inf, a, loc=middle, scale=spread)
        assert mean == pytest.approx(exact.mean(), abs=1e-4 * spread)
        assert deviation == pytest.approx(exact.std(), rel=1e-3, abs=0.011 * spread)


def test_a_linear_fit_is_the_normal_posterior() -> None:
    # Closed form of Bayesian linear regression (C. M. Bishop, Pattern Recognition and Machine Learning, eq. 3.50-3.51).
    rng = np.random.default_rng(2)
    slope, noise = rng.normal(size=(12, 4)), np.diag(rng.uniform(0.5, 2.0, 12))
    mean, root = rng.normal(size=4), rng.normal(size=(4, 4))
    covariance = root @ root.T + np.eye(4)
    observed = rng.normal(size=12)
    found = fit_of(mean, covariance, observed, noise, lambda state: (slope @ state, slope)).from_start(mean)
    precision = np.linalg.inv(covariance) + slope.T @ np.linalg.inv(noise) @ slope
    expected = np.linalg.solve(
        precision, np.linalg.solve(covariance, mean) + slope.T @ np.linalg.solve(noise, observed)
    )
    assert found.mean == pytest.approx(expected, abs=1e-2)
    assert found.covariance == pytest.approx(np.linalg.inv(precision), rel=1e-6)
    spread = slope @ covariance @ slope.T + noise
    away = observed - slope @ mean
    assert found.distance == pytest.approx(away @ np.linalg.solve(spread, away), rel=1e-9)
