"""Watching a pass: known faults are found at their station, and a calm pass says nothing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import PassSoFar, Remark, closure, screen_pass, temperature_change
from waywright.wording import text

X = np.linspace(0.0, 5200.0, 21)
SPACING = 260.0


def one_pass(direction: str = "forward", seed: int = 1, sd: float = 1.0) -> PassSoFar:
    rng = np.random.default_rng(seed)
    order = np.arange(21) if direction == "forward" else np.arange(20, -1, -1)
    value = 30.0 * np.sin(np.pi * X / 5200.0) + rng.normal(0.0, sd, 21)
    return PassSoFar(X[order], value[order], direction, SPACING)


def changed(taken: PassSoFar, stations: slice | int, by_um: float) -> PassSoFar:
    value = np.array(taken.value)
    value[stations] += by_um
    return replace(taken, value=value)


def test_a_calm_pass_says_nothing() -> None:
    assert screen_pass(one_pass()) == ()
    assert screen_pass(one_pass("backward", 2), [one_pass()]) == ()


@pytest.mark.parametrize("station", [3, 10, 17])
def test_an_outlier_beside_its_neighbours(station: int) -> None:
    (found,) = screen_pass(changed(one_pass(), station, 15.0))
    assert (found.remark, found.station, found.position_mm) == (Remark.OUTLIER, station, X[station])
    assert "again" in text(found.why.key, **found.why.facts)


@pytest.mark.parametrize("station", [0, 4, 12, 20])
def test_a_spike_beside_the_other_pass_names_its_station(station: int) -> None:
    found = screen_pass(changed(one_pass("backward", 2), station, -15.0), [one_pass()])
    assert [one.remark for one in found] in ([Remark.SPIKE], [Remark.CANNOT_TELL])
    assert found[0].why.facts["from_mm"] <= X[20 - station] <= found[0].why.facts["to_mm"]
    if found[0].remark is Remark.SPIKE:
        assert found[0].station == station


def test_a_step_that_stays_is_not_a_spike() -> None:
    """A slipped magnet: with two passes it cannot be said which one slipped, with three it can."""
    slipped = changed(one_pass("forward", 3), slice(8, None), 12.0)
    found = screen_pass(slipped, [one_pass(), one_pass("backward", 2)])
    assert [one.remark for one in found] == [Remark.STEP]
    assert found[0].why.facts["passes"] == "3"
    assert found[0].station is None
    assert screen_pass(one_pass("forward", 5), [slipped, one_pass("backward", 2)]) == ()


def test_the_readings_own_scatter() -> None:
    """100 independent samples: 4 times the usual scatter is seen, 1.1 times is not."""
    sd = np.full(21, 2.0)
    sd[6] = 8.0
    taken = replace(one_pass(), sample_sd=sd, samples=5000)
    (found,) = screen_pass(taken, usual_sd=2.0, effective_samples=100.0)
    assert (found.remark, found.station) == (Remark.SCATTER, 6)
    sd[6] = 2.2
    assert screen_pass(replace(taken, sample_sd=sd), usual_sd=2.0, effective_samples=100.0) == ()


def test_missed_and_doubled_stations() -> None:
    taken = one_pass()
    without = PassSoFar(np.delete(X, 7), np.delete(np.asarray(taken.value), 7), "forward", SPACING)
    (missed,) = screen_pass(without)
    assert (missed.remark, missed.position_mm) == (Remark.MISSED, X[7])
    twice = PassSoFar(np.insert(X, 8, X[7] + 3.0), np.insert(np.asarray(taken.value), 8, 0.0), "forward", SPACING)
    assert Remark.DOUBLED in [one.remark for one in screen_pass(twice)]


@pytest.mark.parametrize(
    ("change", "error", "tolerance", "alarm"),
    [(3.9, 0.5, 40.0, False), (4.1, 0.5, 40.0, True), (4.1, 2.5, 40.0, False), (-5.1, 2.5, 40.0, True)],
)
def test_closure_against_the_larger_limit(change: float, error: float, tolerance: float, alarm: bool) -> None:
    found = closure(10.0, 10.0 + change, error, tolerance)
    assert (found is not None) is alarm
    if found is not None:
        assert "does not close" in text(found.why.key, **found.why.facts)


def test_temperature_by_the_hour() -> None:
    assert temperature_change(20.0, 20.4, 0.5) is None
    found = temperature_change(20.0, 20.6, 0.5)
    assert found is not None
    assert "+0.6 K in 30 min" in text(found.why.key, **found.why.facts)


def test_false_alarms_of_one_pass_are_as_rare_as_told() -> None:
    """A single pass of noise: 5 % of the alarm rate's half is 2.5 %; 1000 passes, three standard deviations."""
    noise = [np.random.default_rng(k).normal(0, 1, 21) for k in range(1000)]
    alarms = sum(bool(screen_pass(replace(one_pass(), value=value), false_alarm=0.05)) for value in noise)
    assert alarms <= 1000 * 0.025 + 3 * np.sqrt(25)


def test_arrays_must_belong_together() -> None:
    with pytest.raises(BadInput, match="do not belong"):
        screen_pass(PassSoFar([0.0, 1.0], [0.0], "forward", 1.0))
    with pytest.raises(BadInput, match="greater than zero"):
        screen_pass(PassSoFar([0.0, 1.0], [0.0, 1.0], "forward", 0.0))
