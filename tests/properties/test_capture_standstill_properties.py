"""Whatever the steps and the noise: every stop long enough is a reading, no reading touches a motion."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from capture_streams import BEAM, Drive, Signals, driven, inside_a_stand, take
from waywright.capture.noise import MeansNoise, kept_mean, second_difference_noise, standard_error

LONG_S = 8.0
# Examples take a second each: a failure is shown as it was found.
QUICK = tuple(phase for phase in Phase if phase not in (Phase.shrink, Phase.explain))
noises_mm = st.floats(0.0005, 0.05)
resolutions_mm = st.sampled_from([0.0, 0.001, 0.01, 0.1])
seeds = st.integers(0, 2**32 - 1)
steps_mm = st.one_of(
    st.sampled_from([250.0, 80.0, 33.0]).map(lambda step: [step] * 5),
    st.lists(st.floats(25.0, 600.0), min_size=3, max_size=6),
)


def stepped(steps: list[float], hesitations: list[float] | None = None) -> tuple[Drive, list[float]]:
    """A drive that stops after each step, and on the way for the given times; the places of the real stops."""
    stops, real, place = [(0.0, LONG_S)], [0.0], 0.0
    for number, step in enumerate(steps):
        if hesitations:
            stops.append((place + 0.5 * step, hesitations[number % len(hesitations)]))
        place += step
        stops.append((place, LONG_S))
        real.append(place)
    return driven(stops), real


@settings(max_examples=40, phases=QUICK)
@example([327.3153554173618, 402.437577573154], 0.02, 0.1, 706)  # the end of the braking looked like the place
@given(steps_mm, noises_mm, resolutions_mm, seeds)
def test_every_stop_is_a_reading(steps: list[float], noise_mm: float, resolution_mm: float, seed: int) -> None:
    drive, real = stepped(steps)
    windows = take(drive, Signals(position_mm=noise_mm, resolution_mm=resolution_mm, seed=seed)).windows
    assert len(windows) == len(real)
    for window, place in zip(windows, real, strict=True):
        # 50 samples: six standard errors, and what rounding can add
        assert window.position_mm == pytest.approx(place, abs=6 * noise_mm / np.sqrt(50) + 0.5 * resolution_mm + 1e-9)
        assert window.repeats is None
        assert inside_a_stand(window, drive)


@settings(max_examples=25, phases=QUICK)
@given(steps_mm, st.lists(st.floats(0.2, 5.8), min_size=1, max_size=3), noises_mm, seeds)
def test_no_hesitation_is_a_reading(steps: list[float], pauses: list[float], noise_mm: float, seed: int) -> None:
    drive, real = stepped(steps, pauses)
    windows = take(drive, Signals(position_mm=noise_mm, seed=seed)).windows
    assert [round(window.position_mm) for window in windows] == [round(place) for place in real]


@settings(max_examples=15, phases=QUICK)
@given(steps_mm, seeds, st.floats(0.05, 4.0), st.floats(0.05, 4.0))
def test_how_samples_are_bunched_changes_nothing(steps: list[float], seed: int, one_s: float, other_s: float) -> None:
    drive, _ = stepped(steps)
    one = take(drive, Signals(seed=seed), bunch_s=one_s).windows
    other = take(drive, Signals(seed=seed), bunch_s=other_s).windows
    assert [(w.began_s, w.ended_s, w.position_mm, w.values) for w in one] == [
        (w.began_s, w.ended_s, w.position_mm, w.values) for w in other
    ]


@settings(max_examples=25, phases=QUICK)
@given(st.floats(1.5, 6.0), st.floats(0.3, 3.0), st.sampled_from([np.nan, 60.0, -60.0]), seeds)
def test_no_accepted_window_holds_a_disturbance(after_s: float, lasts_s: float, um: float, seed: int) -> None:
    drive = driven([(0.0, LONG_S), (250.0, 20.0)])
    from_s = drive.stands[1][0] + after_s
    disturbance = (BEAM[0], from_s, from_s + lasts_s, um)
    windows = take(drive, Signals(disturbances=(disturbance,), seed=seed)).windows
    assert [round(window.position_mm) for window in windows] == [0, 250]
    # One stray sample at the edge may stay among the window's samples; it does not count in the mean.
    assert windows[1].ended_s <= from_s + 0.03 or windows[1].began_s >= from_s + lasts_s - 0.03
    assert abs(windows[1].values[1].mean) < 0.5


@settings(max_examples=25, phases=QUICK)
@given(st.sampled_from(["beam", "distance"]), st.floats(0.0, 30.0), st.floats(1.0, 20.0))
def test_no_window_spans_a_gap(source: str, from_s: float, lasts_s: float) -> None:
    drive = driven([(0.0, 12.0), (250.0, 12.0), (500.0, 12.0)])
    for window in take(drive, Signals(missing=((source, from_s, from_s + lasts_s),))).windows:
        assert window.ended_s <= from_s + 0.1 or window.began_s >= from_s + lasts_s - 0.1


@given(seeds, st.floats(-200.0, 200.0), st.floats(0.0005, 0.5))
def test_second_differences_see_the_noise_and_not_the_speed(seed: int, speed: float, noise_mm: float) -> None:
    time_s = np.arange(400) * 0.1
    noise = noise_mm * np.random.default_rng(seed).standard_normal(400)
    resting, moving = second_difference_noise(noise), second_difference_noise(speed * time_s + noise)
    assert moving == pytest.approx(resting, rel=1e-6)
    # 398 correlated differences: the median is good to about 7 %, four of these allowed
    assert resting == pytest.approx(noise_mm, rel=0.3)


@given(seeds)
def test_noise_of_means_is_that_of_the_standstill_even_if_the_axis_moves_half_the_time(seed: int) -> None:
    drawn = np.random.default_rng(seed)
    noise = MeansNoise(3, 600)
    jerky = np.concatenate([np.cumsum(drawn.uniform(0.0, 10.0, 60)), np.zeros(60)])
    for value in np.tile(jerky, 4) + 0.01 * drawn.standard_normal(480):
        noise.see(value)
    assert noise.sigma is not None
    assert 0.5 * 0.01 / np.sqrt(3) < noise.sigma < 4.0 * 0.01 / np.sqrt(3)


@given(seeds)
def test_the_kept_mean_is_the_mean_where_nothing_is_far_out(seed: int) -> None:
    values = np.random.default_rng(seed).standard_normal(200)
    mean, deviation, count = kept_mean(values, 1.0)
    assert (mean, deviation, count) == (values.mean(), values.std(ddof=1), 200)


@given(seeds)
def test_the_standard_error_knows_that_neighbours_are_alike(seed: int) -> None:
    # A first-order autoregression with coefficient a: the variance of the mean is larger by (1 + a) / (1 - a)
    # (textbook result, from memory); a = 0.9 gives 19, so the plain s/sqrt(n) is 4.4 times too small.
    drawn = np.random.default_rng(seed).standard_normal(2000)
    values = np.empty(2000)
    last = 0.0
    for at, kick in enumerate(drawn):
        last = values[at] = 0.9 * last + kick
    plain = values.std(ddof=1) / np.sqrt(2000)
    assert 1.5 * plain < standard_error(values) < 10.0 * plain
