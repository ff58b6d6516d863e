"""What is told about a figure over the visits, against made truths; and how often chance is taken for a cause."""

from __future__ import annotations

import math

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate.change import change_between
from waywright.evaluate.trend import LEVEL, trend

U = 1.0


def made(n: int, years: float, seed: int, cause: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    rng = np.random.default_rng(seed)
    t = np.sort(rng.uniform(0.0, years, n))
    truth = {
        "steady": np.zeros(n),
        "settlement": 4.0 * t,
        "season": 8.0 * np.cos(2 * np.pi * (t - 0.2)),
        "event": 10.0 * (t > t[n // 2]),
    }[cause]
    return t, truth + rng.normal(0.0, U, n), np.full(n, U)


@pytest.mark.parametrize("cause", ["settlement", "season", "event"])
def test_a_clear_cause_is_told(cause: str) -> None:
    told = [trend(*made(12, 4.0, seed, cause)).told for seed in range(100)]
    assert told.count(cause) >= 85


def test_chance_is_seldom_taken_for_a_cause() -> None:
    """Three models are tried at 5 % each, so that at most 15 % of steady figures are told otherwise."""
    told = [trend(*made(8, 3.0, seed, "steady")).told for seed in range(400)]
    assert 0 < 400 - told.count("steady") <= 0.15 * 400


def test_the_line_is_that_of_a_hand_calculation() -> None:
    """Weighted least squares with equal weights: slope sum((t-m) y) / sum((t-m)^2), u = U / sqrt(sum((t-m)^2))."""
    found = trend([0.0, 1.0, 2.0, 3.0], [0.0, 3.0, 6.0, 9.0], [U] * 4)
    assert found.told == "settlement"
    assert found.per_year == pytest.approx(3.0)
    assert found.per_year_u == pytest.approx(U / math.sqrt(5.0))
    line = next(model for model in found.models if model.name == "settlement")
    # chi squared of the constant: 4.5^2 + 1.5^2 + 1.5^2 + 4.5^2 = 45; of the line 0; P(chi2_1 > 45) = erfc(sqrt(22.5))
    assert line.probability == pytest.approx(math.erfc(math.sqrt(22.5)), rel=1e-6)


def test_few_visits_are_said_to_be_few() -> None:
    two = trend([0.0, 1.0], [0.0, 50.0], [U, U])
    assert two.told == "too few"
    assert set(two.untried) == {"settlement", "event", "season"}
    assert two.smallest_per_year > 0.0
    within_a_year = trend(*made(8, 0.9, 1, "steady"))
    assert within_a_year.untried == ("season",)


def test_scatter_beyond_the_uncertainties_widens_them() -> None:
    t, y, u = made(10, 4.0, 3, "steady")
    assert trend(t, 30.0 * (y - y.mean()), u).widened > 100.0
    assert trend(t, 30.0 * (y - y.mean()), u).told == "steady"


def test_the_step_is_found_where_it_is() -> None:
    found = trend([0, 0.5, 1.0, 1.5, 2.0, 2.5], [0, 0.3, -0.2, 20, 20.4, 19.7], [U] * 6)
    assert found.model is not None
    assert (found.told, found.model.step_after) == ("event", 2)
    assert found.model.step == pytest.approx(20.0, abs=0.1)


def test_refusals() -> None:
    with pytest.raises(BadInput, match="as many"):
        trend([0.0], [1.0], [U])
    with pytest.raises(BadInput, match="not positive"):
        trend([0.0, 1.0], [1.0, 2.0], [U, 0.0])


X = np.linspace(100.0, 6300.0, 32)
SUPPORTS = np.linspace(150.0, 6250.0, 7)


def state(extra: np.ndarray, seed: int, tilt: float = 0.0) -> np.ndarray:
    rng = np.random.default_rng(seed)
    return 10.0 * np.sin(X / 900.0) + tilt * X + extra + rng.normal(0.0, 0.7, X.size)


def compared(extra: np.ndarray, seed: int):  # type: ignore[no-untyped-def]
    return change_between(X, state(0 * X, seed), X, state(extra, seed + 1000, tilt=0.01), SUPPORTS, math.sqrt(2) * 0.7)


def test_a_change_by_supports_a_bow_and_none_are_told_apart() -> None:
    from scipy.interpolate import CubicSpline

    sunken = CubicSpline(SUPPORTS, [0, 0, -12, 0, 0, 0, 0], bc_type="natural")(X)
    bow = 15.0 * (1 - ((X - 3200) / 3100) ** 2)
    told = {name: [compared(extra, seed).shape for seed in range(60)] for name, extra in
            {"supports": sunken, "bow": bow, "none": 0 * X}.items()}  # fmt: skip
    assert {name: shapes.count(name) >= 52 for name, shapes in told.items()} == dict.fromkeys(told, True)
    assert compared(bow, 0).bow_um == pytest.approx(15.0, abs=1.0)
    assert compared(sunken, 0).support_um[2] < -5.0
    assert LEVEL == 0.05


def test_states_are_laid_over_each_other_on_the_stretch_they_share() -> None:
    shifted = X[:20] + 37.0
    found = change_between(X, 0 * X, shifted, 0.002 * shifted + 5.0, SUPPORTS, 0.5)
    assert found.position_mm.min() >= shifted.min()
    assert found.position_mm.max() <= shifted.max()
    assert found.largest_um == pytest.approx(0.0, abs=1e-9)  # level and tilt are no change of shape
    assert found.shape == "none"
    with pytest.raises(BadInput, match="four are needed"):
        change_between(X, 0 * X, X + 9000.0, 0 * X, SUPPORTS, 0.5)
