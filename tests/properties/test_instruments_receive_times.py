"""Times of samples that arrive in bunches: a busy computer is no gap, a silent instrument is one."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from waywright.instruments.receive_times import SpacedTimes, StampedTimes

PERIOD_S = 0.02
# An example is a simulation: a failure is shown as it was found.
quick = settings(max_examples=40, phases=[phase for phase in Phase if phase not in (Phase.shrink, Phase.explain)])


def delivered(sent_s: np.ndarray, wakes_s: np.ndarray) -> list[tuple[float, np.ndarray]]:
    """(when, which samples): everything sent before a wake-up that was not fetched before."""
    at = np.searchsorted(wakes_s, sent_s)
    return [(float(wake), np.flatnonzero(at == number)) for number, wake in enumerate(wakes_s) if (at == number).any()]


def wakes(seed: int, end_s: float, stalls: bool) -> np.ndarray:
    """When the computer fetches: every few milliseconds, with stalls of up to two seconds."""
    drawn = np.random.default_rng(seed)
    steps = drawn.uniform(0.001, 0.02, round(end_s / 0.01) + 1000)
    if stalls:
        steps[drawn.random(len(steps)) < 0.005] += drawn.uniform(0.5, 2.0)
    return np.cumsum(steps)


def times_of(keeper: SpacedTimes | StampedTimes, sent_s: np.ndarray, stamps_s: np.ndarray, woken: np.ndarray):
    return np.concatenate([keeper.times(when, stamps_s[which]) for when, which in delivered(sent_s, woken)])


@quick
@given(st.integers(0, 1000))
def test_stalls_of_the_computer_are_no_gaps_without_a_stamp(seed: int) -> None:
    # Sent for longer than it is fetched: the last bunch must not end before it is fetched.
    sent_s = np.arange(0.0, 60.0, PERIOD_S)
    woken = wakes(seed, 20.0, stalls=True)
    woken = woken[woken < 20.0]
    times = times_of(SpacedTimes(50.0), sent_s, sent_s, woken)
    assert len(times) == np.count_nonzero(sent_s <= woken[-1])
    assert (np.diff(times) >= 0).all()
    assert np.diff(times).max() < 0.1


@quick
@given(st.integers(0, 1000), st.floats(1.0, 9.0))
def test_a_real_gap_stays_a_gap_without_a_stamp(seed: int, gap_s: float) -> None:
    sent_s = np.concatenate([np.arange(0.0, 5.0, PERIOD_S), np.arange(5.0 + gap_s, 12.0 + gap_s, PERIOD_S)])
    times = times_of(SpacedTimes(50.0), sent_s, sent_s, wakes(seed, 13.0 + gap_s, stalls=False))
    assert np.diff(times).max() == pytest.approx(gap_s, abs=0.1)


@quick
@given(st.integers(0, 1000), st.floats(-1e-3, 1e-3), st.floats(0.0, 1e6))
def test_with_a_stamp_times_are_right_through_stalls_and_drift(seed: int, drift: float, origin_s: float) -> None:
    sent_s = np.arange(0.0, 200.0, PERIOD_S)
    stamps_s = origin_s + sent_s * (1.0 + drift)
    times = times_of(StampedTimes(50.0), sent_s, stamps_s, wakes(seed, 203.0, stalls=True))
    error_s = times - sent_s
    # Fetching every 1 to 20 ms delays by 1 ms at best; 0.1 % of drift over 70 s of envelope is 70 ms, in a bunch 3 ms.
    settled = sent_s > 5.0
    assert error_s[settled].min() > -0.001 - max(0.0, -drift) * 75.0 - 3.0 * abs(drift)
    assert error_s[settled].max() < 0.02 + max(0.0, drift) * 75.0
    assert np.diff(times)[settled[1:]].max() < 0.15


@quick
@given(st.integers(0, 1000), st.floats(1.0, 9.0))
def test_with_a_stamp_a_real_gap_stays_a_gap(seed: int, gap_s: float) -> None:
    sent_s = np.concatenate([np.arange(0.0, 5.0, PERIOD_S), np.arange(5.0 + gap_s, 12.0 + gap_s, PERIOD_S)])
    times = times_of(StampedTimes(50.0), sent_s, sent_s + 77.0, wakes(seed, 13.0 + gap_s, stalls=True))
    assert np.diff(times).max() == pytest.approx(gap_s, abs=0.1)


@quick
@given(st.integers(0, 1000), st.floats(-1000.0, 1000.0).filter(lambda jump: abs(jump) > 0.1))
def test_a_stamp_that_jumps_costs_no_order_and_no_gap_for_long(seed: int, jump_s: float) -> None:
    sent_s = np.arange(0.0, 20.0, PERIOD_S)
    stamps_s = 2000.0 + sent_s + np.where(sent_s > 10.0, jump_s, 0.0)
    times = times_of(StampedTimes(50.0), sent_s, stamps_s, wakes(seed, 21.0, stalls=False))
    assert (np.diff(times) >= 0).all()
    assert np.abs(times - sent_s).max() < 0.15


@pytest.mark.parametrize("wrap_s", [0.512, 65.536])
def test_a_counter_that_starts_again_from_zero(wrap_s: float) -> None:
    sent_s = np.arange(0.0, 200.0, PERIOD_S)
    times = times_of(StampedTimes(50.0, wrap_s), sent_s, (sent_s + 0.3) % wrap_s, wakes(3, 201.0, stalls=False))
    assert np.abs(times - sent_s).max() < 0.03


def test_ten_times_the_expected_rate_stays_in_order() -> None:
    sent_s = np.arange(0.0, 20.0, PERIOD_S)
    times = times_of(SpacedTimes(5.0), sent_s, sent_s, wakes(1, 21.0, stalls=True))
    assert (np.diff(times) >= 0).all()
    assert len(times) == len(sent_s)
