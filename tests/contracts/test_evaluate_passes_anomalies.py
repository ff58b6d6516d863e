"""Slip, bad reading, pass one station off: told apart or "cannot tell", never repaired; false alarms as stated."""

from collections.abc import Callable

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate.anomalies import CANNOT_TELL, SHIFT, SPIKE, STEP, check_passes
from waywright.evaluate.passes import Traverse
from waywright.wording import text

X = np.linspace(0.0, 5200.0, 22)
STEP_MM = float(X[1])
Damage = Callable[[np.ndarray], np.ndarray]


def wavy_um(x_mm: np.ndarray) -> np.ndarray:
    return 30 * np.sin(x_mm / 1500) + 4 * np.cos(2 * np.pi * x_mm / 1800)


def parabola_um(x_mm: np.ndarray) -> np.ndarray:
    return 120 * (x_mm / 5200) * (1 - x_mm / 5200)


def passes(
    directions: str,
    rng: np.random.Generator,
    *,
    damaged: int | None = None,
    damage: Damage = lambda y: y,
    sd_um: float | None = 0.4,
    shape: Damage = wavy_um,
) -> list[Traverse]:
    """One letter a pass; each with its own offset, tilt and drift parabola."""
    found = []
    for number, letter in enumerate(directions):
        x = X if letter == "F" else X[::-1]
        y = shape(x) + 3 * number + 0.001 * number * x + 1e-7 * number * x**2 + rng.normal(0, 0.4, x.size)
        y = damage(y) if number == damaged else y
        spread = None if sd_um is None else np.full(x.size, sd_um)
        found.append(Traverse(x, y, "forward" if letter == "F" else "backward", None, spread))
    return found


def slip(y: np.ndarray) -> np.ndarray:
    return y + 6.0 * (np.arange(y.size) >= 9)


def bad_reading(y: np.ndarray) -> np.ndarray:
    return y + 6.0 * (np.arange(y.size) == 9)


def read_twice(y: np.ndarray) -> np.ndarray:
    """The value of each station stands at the next one."""
    return np.concatenate([y[:1], y[:-1]])


@pytest.mark.parametrize("directions", ["FB", "FBF", "FBFB", "FF"])
@pytest.mark.parametrize(("damage", "kind"), [(slip, STEP), (bad_reading, SPIKE), (read_twice, SHIFT)])
def test_each_kind_is_told_from_the_others(directions: str, damage: Damage, kind: str) -> None:
    for seed in range(5):
        found = check_passes(passes(directions, np.random.default_rng(seed), damaged=1, damage=damage)).found
        assert [one.kind for one in found] == [kind], seed
        assert 2 in found[0].passes


@pytest.mark.parametrize(("damage", "kind"), [(slip, STEP), (bad_reading, SPIKE)])
def test_place_and_size_come_back(damage: Damage, kind: str) -> None:
    for seed in range(5):
        [one] = check_passes(passes("FBF", np.random.default_rng(seed), damaged=1, damage=damage)).found
        assert one.kind == kind
        assert one.passes == (2,)
        assert abs(one.size - 6.0) < 4 * one.standard_error
        assert one.standard_error < 1.0
        bad_mm = X[::-1][9]
        assert one.from_mm - 1e-6 <= bad_mm <= one.to_mm + 1e-6


def test_a_shift_says_by_how_far() -> None:
    [one] = check_passes(passes("FBF", np.random.default_rng(2), damaged=1, damage=read_twice)).found
    assert one.size == pytest.approx(1.0, abs=0.2)
    assert one.size_mm == pytest.approx(one.size * STEP_MM)


def test_a_station_left_out_on_the_way_shifts_the_rest() -> None:
    def skipped(y: np.ndarray) -> np.ndarray:
        return np.concatenate([y[:10], y[11:], y[-1:]])

    kinds = {
        check_passes(passes("FBF", np.random.default_rng(s), damaged=1, damage=skipped)).found[0].kinds
        for s in range(5)
    }
    assert all(SHIFT in found for found in kinds)


def test_with_two_passes_it_may_be_either() -> None:
    """A spike up in one pass is a spike down in the other: only a third pass tells."""
    two = check_passes(passes("FB", np.random.default_rng(1), damaged=1, damage=bad_reading)).found
    three = check_passes(passes("FBF", np.random.default_rng(1), damaged=1, damage=bad_reading)).found
    assert two[0].passes == (1, 2)
    assert three[0].passes == (2,)


def test_a_shifted_parabola_vanishes() -> None:
    """It becomes an offset and a tilt, which every pass has anyway: nothing is found, and nothing is invented."""

    def whole(y: np.ndarray) -> np.ndarray:
        x = X[::-1]
        return parabola_um(x - STEP_MM) + np.random.default_rng(3).normal(0, 0.4, X.size)

    for seed in range(10):
        clean = passes("FB", np.random.default_rng(seed), damaged=1, damage=whole, shape=parabola_um)
        assert check_passes(clean).found == ()


def test_the_end_of_a_pass_cannot_tell_a_spike_from_a_step() -> None:
    def last(y: np.ndarray) -> np.ndarray:
        return y + 8.0 * (np.arange(y.size) == y.size - 1)

    [one] = check_passes(passes("FBF", np.random.default_rng(4), damaged=1, damage=last)).found
    assert one.kind == CANNOT_TELL
    assert {SPIKE, STEP} <= set(one.kinds)
    assert "cannot tell" in text(one.reason.key, unit="µm", **one.reason.facts)


def test_two_things_are_both_found() -> None:
    def two(y: np.ndarray) -> np.ndarray:
        return bad_reading(y) + 9.0 * (np.arange(y.size) >= 16)

    found = check_passes(passes("FBF", np.random.default_rng(6), damaged=1, damage=two)).found
    assert sorted(one.kind for one in found) == [SPIKE, STEP]


def test_the_readings_stay_as_they_are() -> None:
    given = passes("FB", np.random.default_rng(1), damaged=1, damage=slip)
    before = [np.array(one.value) for one in given]
    check_passes(given)
    assert all(np.array_equal(one.value, was) for one, was in zip(given, before, strict=True))


def test_false_alarms_are_no_more_than_stated() -> None:
    """200 clean sets at 5 %: with scatter estimated, 10 are expected; more than 22 has a chance of 3e-4."""
    rng = np.random.default_rng(17)
    alarms = sum(bool(check_passes(passes("FB", rng, sd_um=None), false_alarm=0.05, most=1).found) for _ in range(200))
    assert alarms <= 22


def test_the_rate_is_not_far_below_what_is_stated_either() -> None:
    """Explanations overlap, so Bonferroni is cautious; but a test that never speaks would prove nothing."""
    rng = np.random.default_rng(23)
    alarms = sum(bool(check_passes(passes("FB", rng, sd_um=None), false_alarm=0.3, most=1).found) for _ in range(120))
    assert 9 <= alarms <= 54


def test_understated_standard_deviations_do_not_cry_wolf() -> None:
    """Readings in slow air carry too small a standard deviation; the scatter of the passes then counts."""
    rng = np.random.default_rng(19)
    alarms = sum(bool(check_passes(passes("FBF", rng, sd_um=0.04)).found) for _ in range(60))
    assert alarms <= 4


def test_what_would_be_noticed_is_noticed_four_times_in_five() -> None:
    """A spike of the stated size in the middle: 80 % of 100 with a standard deviation of 4 %."""
    rng = np.random.default_rng(29)
    size = np.median([check_passes(passes("FB", rng, sd_um=None)).noticeable_spike for _ in range(10)])
    found = 0
    for _ in range(100):
        given = passes("FB", rng, damaged=0, damage=lambda y: y + size * (np.arange(y.size) == 9), sd_um=None)
        found += bool(check_passes(given, most=1).found)
    assert 0.6 < found / 100 < 0.96


def test_a_reversal_of_any_shape_is_none_where_both_ways_were_measured_twice() -> None:
    given = []
    for number, one in enumerate(passes("FBFB", np.random.default_rng(2))):
        hysteresis = 8.0 * (np.asarray(one.position_mm) > 2600) * (number % 2)
        given.append(Traverse(one.position_mm, one.value + hysteresis, one.direction, None, one.standard_deviation))
    assert check_passes(given).found == ()


def test_one_pass_is_not_compared_and_says_why() -> None:
    check = check_passes(passes("F", np.random.default_rng(1)))
    assert not check.checked
    assert check.reason is not None
    assert "Take a second pass" in text(check.reason.key, **check.reason.facts)


def test_too_few_stations_are_not_compared() -> None:
    x = np.linspace(0, 1000, 6)
    check = check_passes([Traverse(x, x * 0, "forward"), Traverse(x, x * 0, "backward")])
    assert check.reason is not None
    assert check.reason.key == "passes.too_few_to_compare"


def test_draws_and_impossible_rates_are_refused() -> None:
    with pytest.raises(BadInput, match="shape"):
        check_passes([Traverse(X, np.zeros((22, 3)), "forward")] * 2)
    with pytest.raises(BadInput, match="not a false-alarm rate"):
        check_passes(passes("FB", np.random.default_rng(1)), false_alarm=1.5)
