"""The steadiness record: figures of known noise come back, and the three answers are given for their reasons."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import Advice, Standstill, allan_deviation, correlation_time_s, overlapping_deviation, steadiness
from waywright.guard.standstill_record import standstill_figures
from waywright.wording import text

RATE_HZ = 50.0


def air(rng: np.random.Generator, samples: int, memory_s: float) -> np.ndarray:
    from scipy.signal import lfilter

    keep = np.exp(-1.0 / (memory_s * RATE_HZ))
    fresh = rng.standard_normal(samples) * np.sqrt(1.0 - keep**2)
    fresh[0] /= np.sqrt(1.0 - keep**2)
    return np.asarray(lfilter([1.0], [1.0, -keep], fresh))


def record(
    distance_m: float, *, minutes: float = 4.0, drift: float = 0.0, slow: float = 0.5, seed: int = 1
) -> Standstill:
    rng = np.random.default_rng(seed)
    n = int(minutes * 60 * RATE_HZ)
    time_min = np.arange(n) / RATE_HZ / 60
    return Standstill(distance_m, 1 / RATE_HZ, rng.standard_normal(n) + slow * air(rng, n, 0.8) + drift * time_min)


def judged(
    near: Standstill, far: Standstill, pass_s: float = 240.0, wished_um: float = 0.5, tolerance_um: float = 40.0
):
    return steadiness(near, far, tolerance_um=tolerance_um, wished_um=wished_um, pass_s=pass_s)


def test_drift_of_offset_and_angle_come_apart() -> None:
    found = judged(record(0.5, drift=1.0 + 0.5 * 0.4), record(5.5, drift=1.0 + 5.5 * 0.4, seed=2), pass_s=60)
    assert abs(found.offset_um_per_min - 1.0) < 3 * found.offset_error_um_per_min
    assert abs(found.angle_um_per_m_per_min - 0.4) < 3 * found.angle_error_um_per_m_per_min
    assert found.angle_error_um_per_m_per_min < 0.02


def test_scatter_of_averages_is_what_the_memory_says() -> None:
    """s sqrt(2 tau / t) against means of real stretches of the same noise."""
    rng = np.random.default_rng(5)
    samples = 200_000
    noise = rng.standard_normal(samples) + 0.5 * air(rng, samples, 0.8)
    tau = correlation_time_s(noise, 1 / RATE_HZ)
    assert tau == pytest.approx((1.0 * 0.01 + 0.25 * 0.8) / 1.25, rel=0.2)
    means = noise.reshape(-1, 500).mean(axis=1)
    assert means.std() == pytest.approx(noise.std() * np.sqrt(2 * tau / 10.0), rel=0.15)


def test_errors_of_the_drift_are_honest() -> None:
    scores = []
    for seed in range(120):
        found = standstill_figures(record(1.0, minutes=1.0, drift=0.3, seed=100 + seed))
        scores.append((found.drift_um_per_min - 0.3) / found.drift_error_um_per_min)
    assert 0.7 < np.std(scores) < 1.35


def test_averaging_time_reaches_the_wish() -> None:
    """Slow air of 0.5 um: short averages agree with the next one, but not with a station read a minute later."""
    found = judged(record(0.5), record(5.5, seed=2), wished_um=0.4)
    assert found.shortest_averaging_s is not None
    factor = round(found.shortest_averaging_s * RATE_HZ)
    for times, below in ((1.0, True), (0.5, False)):
        long = np.asarray(record(5.5, minutes=60, seed=8).reading_um)
        count = int(factor * times)
        means = long[: long.size // count * count].reshape(-1, count).mean(axis=1)
        assert bool(means.std() < 0.4 * 1.05) is below


def test_use() -> None:
    found = judged(record(0.5, drift=0.05), record(5.5, drift=0.2, seed=2))
    assert found.advice is Advice.USE
    assert found.sure_pass_s < found.longest_pass_s == pytest.approx(4.0 / 0.2 * 60, rel=0.3)
    assert "steady enough" in text(found.why.key, **found.why.facts)
    assert all(rule.source == "guard_rules.source_common_practice" for rule in found.rules)


def test_repeat_when_drift_is_not_known_well_enough() -> None:
    found = judged(record(0.5, drift=0.05), record(5.5, drift=0.85, seed=2), pass_s=4.5 * 60, wished_um=0.8)
    assert (found.advice, found.why.key) == (Advice.REPEAT, "guard.steady_drift_unsure")
    assert found.sure_pass_s < 4.5 * 60 <= found.longest_pass_s


def test_repeat_after_a_disturbance() -> None:
    far = np.array(record(5.5, seed=2).reading_um)
    far[3000:3400] = np.nan
    found = judged(record(0.5), Standstill(5.5, 1 / RATE_HZ, far))
    assert (found.advice, found.why.key) == (Advice.REPEAT, "guard.steady_disturbed_far")
    assert found.far.disturbed_samples == 400


@pytest.mark.parametrize(
    ("far", "wished_um", "key"),
    [
        (record(5.5, drift=3.0, seed=2), 0.8, "guard.steady_drift"),
        (record(5.5, slow=20.0, seed=2), 0.2, "guard.steady_scatter"),
    ],
)
def test_not_today(far: Standstill, wished_um: float, key: str) -> None:
    found = judged(record(0.5), far, wished_um=wished_um)
    assert (found.advice, found.why.key) == (Advice.NOT_TODAY, key)
    assert text(found.why.key, **found.why.facts).endswith(".")


def test_a_gap_takes_only_the_averages_that_it_touches() -> None:
    y = np.random.default_rng(0).standard_normal(4000)
    holed = y.copy()
    holed[1000:1010] = np.nan
    pieces = [np.sum(np.diff(part) ** 2) for part in (y[:1000], y[1010:])]
    pairs = 999 + 2989
    assert overlapping_deviation(holed, 1) == pytest.approx(np.sqrt(sum(pieces) / pairs / 2))


@pytest.mark.parametrize("slope", [0, -2])
def test_limits_cover_as_often_as_they_say(slope: int) -> None:
    """White readings and a random walk: the true deviation lies between the limits in 90 % of recordings."""
    rng = np.random.default_rng(9)
    inside = total = 0
    for _ in range(150):
        fresh = rng.standard_normal(512)
        found = allan_deviation(fresh if slope == 0 else np.cumsum(fresh), 1.0)
        m = found.averaging_s
        true = np.sqrt(1 / m) if slope == 0 else np.sqrt((2 * m**2 + 1) / (6 * m))
        inside += int(((found.lower < true) & (true < found.upper)).sum())
        total += m.size
    assert 0.85 < inside / total < 0.95


@pytest.mark.parametrize(
    ("near", "far", "word"),
    [
        (record(5.5), record(0.5), "farther away"),
        (Standstill(0.5, 0.02, np.zeros(5)), record(5.0), "at least 16"),
        (Standstill(0.5, 0.0, np.zeros(50)), record(5.0), "greater than zero"),
    ],
)
def test_what_cannot_be_judged_is_refused(near: Standstill, far: Standstill, word: str) -> None:
    with pytest.raises(BadInput, match=word):
        judged(near, far)
