import math

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty import (
    arcsine,
    exact,
    monte_carlo,
    normal,
    propagate,
    rectangular,
    standard_normals,
    student,
    triangular,
    welch_satterthwaite,
)
from waywright.uncertainty.outcome import Outcome, numerical_tolerance

X = np.linspace(0.0, 3000.0, 21)
BOW = 20.0 * (X / 3000.0) * (1.0 - X / 3000.0)


def value_um(reading: FloatArray, bow: FloatArray) -> FloatArray:
    air = np.multiply.outer((X / 3000.0) ** 2, bow)
    found: FloatArray = straightness(X, reading + air, "minimum-zone").value_um
    return found


INPUTS = {"reading": normal(BOW, 0.8, per_reading=True), "bow": rectangular(0.0, 3.0)}


@pytest.mark.parametrize("draws", [25_001, "adaptive"])
def test_same_bits_for_any_number_of_threads(draws: int) -> None:
    runs = [monte_carlo(value_um, INPUTS, draws, seed=7, threads=threads) for threads in (1, 2, 5)]
    assert runs[0].draws.tobytes() == runs[1].draws.tobytes() == runs[2].draws.tobytes()


def test_more_draws_go_on_where_fewer_ended() -> None:
    few, many = (monte_carlo(value_um, INPUTS, n, seed=7).draws for n in (11_000, 24_000))
    assert (many[: few.size] == few).all()


def test_seeds_and_inputs_are_independent() -> None:
    a, b = (monte_carlo(lambda x, y: x, {"x": normal(0, 1), "y": normal(0, 1)}, 40_000, seed=s).draws for s in (1, 2))
    y = monte_carlo(lambda x, y: y, {"x": normal(0, 1), "y": normal(0, 1)}, 40_000, seed=1).draws
    for other in (b, y):
        assert abs(np.corrcoef(a, other)[0, 1]) < 4 / math.sqrt(40_000)


def test_noise_makes_the_value_larger_and_the_bias_is_told() -> None:
    flat = monte_carlo(
        lambda reading: straightness(X, reading, "least-squares").value_um,
        {"reading": normal(np.zeros(21), 2.0, per_reading=True)},
        40_000,
    )
    assert flat.nominal == 0.0
    assert flat.bias == pytest.approx(3.7 * 2.0, abs=0.1)  # 3.7 sigma at 21 stations, least squares


def test_per_trial_inputs_are_shared_by_all_stations() -> None:
    shift = monte_carlo(
        lambda zero: straightness(X, np.multiply.outer(np.ones(21), zero), "end-points").value_um,
        {"zero": normal(0.0, 5.0)},
        1000,
    )
    assert shift.draws.max() < 1e-12


@pytest.mark.parametrize(
    ("item", "u", "kurtosis"),
    [
        (normal(3.0, 2.0), 2.0, 3.0),
        (rectangular(3.0, 2.0), 2.0 / math.sqrt(3.0), 1.8),
        (triangular(3.0, 2.0), 2.0 / math.sqrt(6.0), 2.4),
        (arcsine(3.0, 2.0), 2.0 / math.sqrt(2.0), 1.5),
        (student(3.0, 2.0, 12), 2.0 * math.sqrt(12 / 10), 3.0 + 6.0 / 8.0),
    ],
)
def test_distributions_have_their_moments(item: object, u: float, kurtosis: float) -> None:
    draws = monte_carlo(lambda x: x, {"x": item}, 400_000, seed=5).draws  # type: ignore[dict-item]
    assert draws.mean() == pytest.approx(3.0, abs=5 * u / math.sqrt(400_000))
    assert draws.std() == pytest.approx(u, rel=0.006)
    assert (((draws - 3.0) / draws.std()) ** 4).mean() == pytest.approx(kurtosis, rel=0.03)


@pytest.mark.parametrize("r", [-1.0, -0.4, 0.8, 1.0])
def test_correlated_inputs(r: float) -> None:
    inputs = {"a": normal(0.0, 1.0), "b": normal(0.0, 2.0)}
    outcome = monte_carlo(lambda a, b: a + b, inputs, 200_000, correlation={("a", "b"): r})
    expected = math.sqrt(1.0 + 4.0 + 4.0 * r)
    assert outcome.standard_uncertainty == pytest.approx(expected, rel=0.01)
    law = propagate(lambda a, b: a + b, inputs, correlation={("b", "a"): r})
    assert law.standard_uncertainty == pytest.approx(expected, rel=1e-9)


def test_an_adaptive_run_stops_when_two_digits_stand() -> None:
    outcome = monte_carlo(lambda x: x, {"x": normal(0.0, 1.0)}, seed=2)
    assert outcome.stable is True
    assert outcome.trials % 10_000 == 0
    assert outcome.standard_uncertainty == pytest.approx(1.0, abs=numerical_tolerance(1.0, 2))
    one_digit = monte_carlo(lambda x: x, {"x": normal(0.0, 1.0)}, seed=2, digits=1)
    assert one_digit.trials < outcome.trials
    assert (outcome.draws[: one_digit.trials] == one_digit.draws).all()


@pytest.mark.parametrize(("u", "tolerance"), [(0.35, 0.005), (35.0, 0.5), (1.0, 0.05), (9.96, 0.5), (2.0e-5, 5e-7)])
def test_numerical_tolerance(u: float, tolerance: float) -> None:
    # JCGM 101:2008, 7.9.2 example 1: u = 0.000 35 g with two digits is 35e-5, tolerance 0.000 005 g.
    assert numerical_tolerance(u, 2) == pytest.approx(tolerance)


def test_shortest_interval_of_a_skewed_value_begins_at_its_edge() -> None:
    outcome = Outcome(draws=-np.log1p(-(np.arange(100_000) + 0.5) / 100_000), nominal=0.0, seed=0)
    low, high = outcome.interval(0.95, "shortest")
    assert low == pytest.approx(0.0, abs=1e-4)
    assert high == pytest.approx(-math.log(0.05), rel=1e-3)
    symmetric = outcome.interval(0.95)
    assert symmetric[1] - symmetric[0] > high - low
    assert symmetric == (pytest.approx(-math.log(0.975), rel=1e-3), pytest.approx(-math.log(0.025), rel=1e-3))


def test_zero_uncertainty_needs_no_trials_beyond_the_first_blocks() -> None:
    outcome = monte_carlo(lambda a: a, {"a": exact(3.0)})
    assert (outcome.stable, outcome.standard_uncertainty, outcome.trials) == (True, 0.0, 20_000)


def test_effective_degrees_of_freedom() -> None:
    assert welch_satterthwaite(math.sqrt(2.0), [(1.0, 10.0), (1.0, 10.0)]) == pytest.approx(20.0)
    assert welch_satterthwaite(1.0, [(1.0, math.inf)]) == math.inf


def test_second_order_of_a_square_is_exact_for_a_normal_input() -> None:
    # x^2 of N(1, 0.5): variance 4 m^2 u^2 + 2 u^4, mean m^2 + u^2.
    result = propagate(lambda x: x**2, {"x": normal(1.0, 0.5)})
    assert result.second_order_uncertainty**2 == pytest.approx(4 * 0.25 + 2 * 0.0625, rel=1e-9)
    assert result.shift == pytest.approx(0.25, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "key"),
    [
        (lambda: monte_carlo(lambda: 0, {}), "uncertainty.no_inputs"),
        (lambda: monte_carlo(lambda a: a, {"a": normal(0, 1)}, 0), "uncertainty.too_few_draws"),
        (lambda: monte_carlo(lambda a: a[:2], {"a": normal(0, 1)}, 10), "uncertainty.model_shape"),
        (lambda: normal(0.0, -1.0), "uncertainty.bad_spread"),
        (lambda: normal(float("nan"), 1.0), "uncertainty.bad_mean"),
        (lambda: normal(0.0, 1.0, 0.0), "uncertainty.bad_degrees"),
        (lambda: normal(0.0, 1.0, per_reading=True), "uncertainty.readings_missing"),
        (
            lambda: monte_carlo(lambda a: a, {"a": normal(0, 1)}, 10, correlation={("a", "b"): 0.5}),
            "uncertainty.unknown_input",
        ),
        (
            lambda: monte_carlo(lambda a, b: a, dict.fromkeys("ab", normal(0, 1)), 10, correlation={("a", "b"): 1.5}),
            "uncertainty.bad_correlation",
        ),
        (
            lambda: monte_carlo(
                lambda a, b, c: a,
                dict.fromkeys("abc", normal(0, 1)),
                10,
                correlation={("a", "b"): 0.9, ("b", "c"): 0.9, ("a", "c"): -0.9},
            ),
            "uncertainty.impossible_correlation",
        ),
        (lambda: propagate(lambda a: a, {"a": normal(BOW, 1.0, per_reading=True)}), "uncertainty.propagate_readings"),
        (lambda: Outcome(np.zeros(3), 0.0, 1).interval(1.0), "uncertainty.bad_probability"),
        (lambda: Outcome(np.zeros(3), 0.0, 1).interval(0.9, "widest"), "uncertainty.bad_interval"),  # type: ignore[arg-type]
    ],
)
def test_what_cannot_be_propagated_is_refused_with_the_reason(call: object, key: str) -> None:
    with pytest.raises(BadInput) as caught:
        call()  # type: ignore[operator]
    assert caught.value.key == key
    assert str(caught.value)


def test_every_platform_draws_the_same() -> None:
    """Written down on one computer; logarithms differ between platforms in their last digit, and so may these."""
    first = [1.32010898, -0.09060011, -1.0920316, 0.61622498, 2.61367033, 0.69875918]
    assert standard_normals(6, 7, stream=3) == pytest.approx(first, abs=1e-8)
    assert standard_normals(1, 7, stream=3, first=26_041)[0] == pytest.approx(
        -4.76993149814443, rel=1e-9
    )  # in the tail
    outcome = monte_carlo(
        lambda y, a: straightness(X, y + np.outer(X / 3e3, a), "minimum-zone").value_um,
        {"y": normal(np.sin(X / 500.0), 1.0, per_reading=True), "a": rectangular(0.0, 2.0)},
        20_000,
        seed=11,
    )
    assert outcome.mean == pytest.approx(3.8490569188866486, rel=1e-9)
    assert outcome.standard_uncertainty == pytest.approx(0.7171392073749459, rel=1e-9)
