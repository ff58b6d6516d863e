"""Drift of the beam: the truth comes back where it can be told, and is named where it cannot."""

from collections.abc import Callable, Sequence

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.drift import Closure, Drift, estimate_drift, remove_drift
from waywright.evaluate.passes import Traverse, join_passes
from waywright.wording import text

LENGTH_MM, STATIONS, DWELL_S = 5200.0, 22, 15.0
X = np.linspace(0.0, LENGTH_MM, STATIONS)
FORWARD, BACKWARD = "forward", "backward"
OFFSET_PER_H, ANGLE_PER_H = 24.0, -36.0


def truth_um(x_mm: np.ndarray) -> np.ndarray:
    return 30 * np.sin(x_mm / 1700) + 4 * np.cos(2 * np.pi * x_mm / 1800)


def reversal_um(x_mm: np.ndarray) -> np.ndarray:
    """Grows along the axis and has a shape of its own."""
    return 1.5 + 0.4 * x_mm / 1000 + 0.8 * np.sin(x_mm / 400)


def drift_um(x_mm: np.ndarray, time_s: np.ndarray) -> np.ndarray:
    return (OFFSET_PER_H + ANGLE_PER_H * x_mm / 1000) * time_s / 3600


def passes(
    directions: Sequence[str],
    noise: Callable[[], np.ndarray] = lambda: np.zeros(STATIONS),
    sd_um: float | None = None,
    spread_mm: float = 0.0,
) -> list[Traverse]:
    rng, began, found = np.random.default_rng(11), 0.0, []
    for direction in directions:
        x = X + rng.uniform(-spread_mm, spread_mm, STATIONS) if spread_mm else X
        x = x if direction == FORWARD else x[::-1]
        time = began + DWELL_S * np.arange(STATIONS)
        began = time[-1] + 60
        back = 0.0 if direction == FORWARD else reversal_um(x)
        y = truth_um(x) - back + drift_um(x, time) + noise()
        found.append(Traverse(x, y, direction, time, None if sd_um is None else np.full(STATIONS, sd_um)))
    return found


@pytest.mark.parametrize(
    "directions", [(FORWARD, BACKWARD, FORWARD), (FORWARD, FORWARD), (FORWARD, BACKWARD, FORWARD, BACKWARD)]
)
def test_two_passes_of_one_direction_give_the_drift_back(directions: Sequence[str]) -> None:
    """Whatever the profile and whatever the reversal."""
    found = estimate_drift(passes(directions))
    assert found.separable
    assert found.reason is None
    assert found.offset_per_h == pytest.approx(OFFSET_PER_H, abs=1e-9)
    assert found.angle_per_h == pytest.approx(ANGLE_PER_H, abs=1e-9)


def test_a_drifting_angle_bends_one_pass_by_theta_l_over_four() -> None:
    """y = theta x / L * x / 1000: a parabola of sagitta theta L / 4 about its end line."""
    time = DWELL_S * np.arange(21)
    x = np.linspace(0.0, LENGTH_MM, 21)
    drift = Drift(5.0, 36.0, np.zeros((2, 2)), 0.0, 0, 0.0, 1, 0)
    theta_um_per_m = 36.0 * time[-1] / 3600
    bow = drift.bow(Traverse(x, x * 0, FORWARD, time))
    assert bow == pytest.approx(-theta_um_per_m * LENGTH_MM / 1000 / 4)
    assert drift.bow(Traverse(x[::-1], x * 0, BACKWARD, time)) == pytest.approx(-bow)


def test_one_pass_each_way_is_named_inseparable_and_not_removed() -> None:
    found = estimate_drift(both := passes((FORWARD, BACKWARD)))
    assert not found.separable
    assert found.reason is not None
    assert found.reason.key == "passes.drift_or_reversal"
    assert "reversal that grows along the axis" in text(found.reason.key, **found.reason.facts)
    with pytest.raises(BadInput, match="not removed"):
        remove_drift(both, found)


def test_a_reversal_that_grows_and_a_drift_make_the_same_readings() -> None:
    """The claim behind "inseparable": one pass each way, two different causes, equal readings."""
    forward_s, backward_s = X / LENGTH_MM * 300, 360 + (1 - X / LENGTH_MM) * 300
    offset_only = OFFSET_PER_H / 3600
    drifting = truth_um(X) + offset_only * forward_s, truth_um(X) + offset_only * backward_s
    growing = offset_only * (forward_s - backward_s)
    assert np.polyfit(X, growing, 1)[0] > 0
    assert growing == pytest.approx(np.polyval(np.polyfit(X, growing, 1), X), abs=1e-9)
    still_truth = drifting[1]
    assert drifting[0] == pytest.approx(still_truth + growing)


def test_one_pass_alone_says_nothing() -> None:
    found = estimate_drift(passes((FORWARD,)))
    assert not found.separable
    assert np.isnan(found.offset_per_h)
    assert found.reason is not None
    assert found.reason.key == "passes.drift_one_pass"


def closure(position_mm: float, first_s: float, second_s: float) -> Closure:
    change = drift_um(np.array(position_mm), np.array(second_s)) - drift_um(np.array(position_mm), np.array(first_s))
    return Closure(position_mm, first_s, second_s, float(change), 0.6)


def test_closure_at_both_ends_tells_drift_from_reversal() -> None:
    both = passes((FORWARD, BACKWARD), sd_um=0.4)
    found = estimate_drift(both, [closure(0.0, -60.0, 800.0), closure(LENGTH_MM, 315.0, 375.0)])
    assert found.separable
    assert found.closures == 2
    assert found.offset_per_h == pytest.approx(OFFSET_PER_H)
    assert found.angle_per_h == pytest.approx(ANGLE_PER_H)
    joined = join_passes(remove_drift(both, found))
    assert joined.reversal == pytest.approx(reversal_um(X), abs=1e-9)


def test_closure_at_the_near_end_alone_does_not_see_the_angle() -> None:
    found = estimate_drift(passes((FORWARD, BACKWARD)), [closure(0.0, -60.0, 800.0)])
    assert not found.separable
    assert found.reason is not None
    assert found.reason.key == "passes.drift_closure_too_little"


def test_where_the_angle_is_counted_from_moves_figures_not_the_drift() -> None:
    three = passes((FORWARD, BACKWARD, FORWARD))
    near, far = estimate_drift(three), estimate_drift(three, source_mm=-900.0)
    assert far.offset_per_h == pytest.approx(near.offset_per_h - ANGLE_PER_H * 0.9)
    time = np.linspace(0, 900, STATIONS)
    assert far.at(X, time) == pytest.approx(near.at(X, time))


def test_drift_is_removed_to_less_than_a_tenth_at_other_stations_too() -> None:
    rng = np.random.default_rng(5)
    three = passes((FORWARD, BACKWARD, FORWARD), lambda: rng.normal(0, 0.3, STATIONS), 0.3, spread_mm=12.0)
    drift = estimate_drift(three)
    before = three[0].value - truth_um(three[0].position_mm)
    after = remove_drift(three, drift)[0].value - truth_um(three[0].position_mm)
    assert abs(straightness(X, before, "end-points").value_um) > 3.5
    bow = np.polyfit(X / 1000, before, 2)[0], np.polyfit(X / 1000, after, 2)[0]
    assert abs(bow[1]) < 0.1 * abs(bow[0])


def test_uncertainty_says_how_far_off_the_estimate_is() -> None:
    """3000 draws of the readings: the estimates scatter as the covariance says (1.3 % each)."""
    rng = np.random.default_rng(8)
    noisy = [
        Traverse(
            t.position_mm, t.value[:, None] + rng.normal(0, 0.4, (22, 3000)), t.direction, t.time_s, np.full(22, 0.4)
        )
        for t in passes((FORWARD, BACKWARD, FORWARD))
    ]
    found = estimate_drift(noisy)
    figures = np.stack([found.offset_per_h, found.angle_per_h])
    assert np.cov(figures) == pytest.approx(found.covariance, rel=0.12)
    assert figures.mean(axis=1) == pytest.approx([OFFSET_PER_H, ANGLE_PER_H], abs=0.1)
    assert np.mean(np.square(found.residual_sd)) == pytest.approx(1.0, rel=0.03)


def test_many_draws_are_the_same_as_one_by_one() -> None:
    rng = np.random.default_rng(3)
    clean = passes((FORWARD, BACKWARD, FORWARD))
    noisy = [
        Traverse(t.position_mm, t.value[:, None] + rng.normal(0, 0.4, (22, 5)), t.direction, t.time_s) for t in clean
    ]
    many = estimate_drift(noisy)
    for k in range(5):
        single = [Traverse(t.position_mm, t.value[:, k], t.direction, t.time_s) for t in noisy]
        one = estimate_drift(single)
        assert many.offset_per_h[k] == pytest.approx(one.offset_per_h)
        assert many.angle_per_h[k] == pytest.approx(one.angle_per_h)
        removed = remove_drift(noisy, many)[0].value[:, k]
        assert removed == pytest.approx(remove_drift(single, one)[0].value)


def test_passes_without_times_are_refused() -> None:
    bare = [Traverse(X, X * 0, FORWARD), Traverse(X, X * 0, FORWARD)]
    with pytest.raises(BadInput, match="no times"):
        estimate_drift(bare)
