"""Propagation against the worked examples of JCGM 100:2008, JCGM 101:2008 and EA-4/02."""

import math

import numpy as np
import pytest

from waywright.evaluate import fit
from waywright.evaluate.arrays import FloatArray
from waywright.uncertainty import (
    Input,
    coverage_factor,
    exact,
    monte_carlo,
    normal,
    propagate,
    rectangular,
    triangular,
)

# JCGM 100:2008, annex H.1, Table H.1: an end gauge compared with a standard of known length; nm, 1/K, K.
GAUGE = {
    "ls": normal(50_000_623.0, 25.0, 18),
    "d": normal(215.0, 9.7, 25.6),
    "da": normal(0.0, 0.58e-6, 50),
    "theta": normal(-0.1, 0.41),
    "alpha": normal(11.5e-6, 1.2e-6),
    "dt": normal(0.0, 0.029, 2),
}


def gauge_nm(
    ls: FloatArray, d: FloatArray, da: FloatArray, theta: FloatArray, alpha: FloatArray, dt: FloatArray
) -> FloatArray:
    return ls + d - ls * (da * theta + alpha * dt)


def test_end_gauge_first_order() -> None:
    result = propagate(gauge_nm, GAUGE)
    assert result.value == pytest.approx(50_000_838.0, abs=0.5)  # H.1.6: 50,000 838 mm
    assert result.standard_uncertainty == pytest.approx(32.0, abs=0.5)  # Table H.1
    assert math.floor(result.degrees_of_freedom) == 16  # H.1.6
    assert result.coverage_factor(0.99) == pytest.approx(2.92, abs=0.005)  # H.1.6
    # H.1.6: 93 nm, computed there as 2.92 * 32; with the unrounded u of 31.7 nm it is 92.6.
    assert result.expanded(0.99) == pytest.approx(93.0, abs=0.5)


def test_end_gauge_second_order() -> None:
    # H.1.7: two terms of second order, 11.7 nm and 1.7 nm, bring 32 nm to 34 nm.
    result = propagate(gauge_nm, GAUGE)
    assert result.second_order_uncertainty == pytest.approx(34.0, abs=0.5)
    added = math.sqrt(result.second_order_uncertainty**2 - result.standard_uncertainty**2)
    assert added == pytest.approx(math.hypot(11.7, 1.7), abs=0.2)


def test_end_gauge_monte_carlo_contains_the_second_order() -> None:
    outcome = monte_carlo(gauge_nm, GAUGE, 200_000, seed=11)
    assert outcome.standard_uncertainty == pytest.approx(33.9, abs=0.2)  # own sum of the terms of H.1.7: 33.91
    assert outcome.mean == pytest.approx(50_000_838.0, abs=0.5)


# JCGM 100:2008, annex H.3, Table H.6: corrections of a thermometer, degC.
READ_DEGC = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION_DEGC = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160]


def test_thermometer_line_and_its_prediction() -> None:
    from_20 = np.array(READ_DEGC) - 20.0
    line = fit(np.stack([np.ones(11), from_20], axis=1), np.array(CORRECTION_DEGC))
    intercept, slope = line.coefficient
    assert intercept == pytest.approx(-0.1712, abs=5e-5)  # H.3.3
    assert slope == pytest.approx(0.00218, abs=5e-6)
    residual = np.array(CORRECTION_DEGC) - intercept - slope * from_20
    s = math.sqrt(float(residual @ residual) / 9)
    assert s == pytest.approx(0.0035, abs=5e-5)
    centred = from_20 - from_20.mean()
    u_slope = s / math.sqrt(float(centred @ centred))
    u_intercept = s * math.sqrt(1 / 11 + from_20.mean() ** 2 / float(centred @ centred))
    r = -from_20.mean() / math.sqrt(float(from_20 @ from_20) / 11)
    assert (u_intercept, u_slope) == (pytest.approx(0.0029, abs=5e-5), pytest.approx(0.00067, abs=5e-6))
    assert r == pytest.approx(-0.930, abs=5e-4)

    inputs = {"intercept": normal(intercept, u_intercept, 9), "slope": normal(slope, u_slope, 9)}
    correlation = {("intercept", "slope"): r}
    at_30 = propagate(lambda intercept, slope: intercept + slope * 10.0, inputs, correlation=correlation)
    assert at_30.value == pytest.approx(-0.1494, abs=5e-5)  # H.3.4
    assert at_30.standard_uncertainty == pytest.approx(0.0041, abs=5e-5)  # H.3.4, with the covariance
    drawn = monte_carlo(
        lambda intercept, slope: intercept + slope * 10.0, inputs, 200_000, seed=3, correlation=correlation
    )
    assert drawn.standard_uncertainty == pytest.approx(0.0041386, rel=0.01)
    without = propagate(lambda intercept, slope: intercept + slope * 10.0, inputs)
    assert without.standard_uncertainty > 1.5 * at_30.standard_uncertainty


def total(**x: FloatArray) -> FloatArray:
    return np.sum(list(x.values()), axis=0)


def four(item: Input) -> dict[str, Input]:
    return {f"x{k}": item for k in range(4)}


def test_sum_of_four_normals() -> None:
    # JCGM 101:2008, 9.2.2, Table 2: u = 2.00, 95 % interval +-3.92 (analytical).
    outcome = monte_carlo(total, four(normal(0.0, 1.0)), 1_000_000, seed=1)
    assert outcome.mean == pytest.approx(0.0, abs=0.008)
    assert outcome.standard_uncertainty == pytest.approx(2.00, abs=0.005)
    assert outcome.interval(0.95) == (pytest.approx(-3.92, abs=0.015), pytest.approx(3.92, abs=0.015))


def test_sum_of_four_rectangles() -> None:
    # JCGM 101:2008, 9.2.3, Table 3: u = 2.00, 95 % interval +-3.88; the law of propagation says +-3.92.
    inputs = four(rectangular(0.0, math.sqrt(3.0)))
    outcome = monte_carlo(total, inputs, 1_000_000, seed=1)
    assert outcome.standard_uncertainty == pytest.approx(2.00, abs=0.005)
    assert outcome.interval(0.95) == (pytest.approx(-3.88, abs=0.015), pytest.approx(3.88, abs=0.015))
    assert propagate(total, inputs).expanded(0.95) == pytest.approx(3.92, abs=0.005)


def test_sum_with_one_dominant_rectangle() -> None:
    # JCGM 101:2008, 9.2.4, Table 4 (from memory; an own run of 1e7 trials agrees): u = 10.1, interval +-17.0,
    # where the law of propagation says +-19.9.
    inputs = four(rectangular(0.0, math.sqrt(3.0))) | {"x3": rectangular(0.0, 10.0 * math.sqrt(3.0))}
    outcome = monte_carlo(total, inputs, 1_000_000, seed=1)
    assert outcome.standard_uncertainty == pytest.approx(10.1, abs=0.06)
    assert outcome.interval(0.95) == (pytest.approx(-17.0, abs=0.05), pytest.approx(17.0, abs=0.05))
    assert propagate(total, inputs).expanded(0.95) == pytest.approx(19.9, abs=0.05)


def test_gauge_block_of_the_european_accreditation() -> None:
    # EA-4/02 M:2013, example S4: gauge block of 50 mm; u = 36.4 nm, U = 73 nm at k = 2 (from memory; the
    # root sum of squares of the published contributions agrees).
    inputs = {
        "standard": normal(50_000_020.0, 15.0),
        "drift": triangular(0.0, 30.0 / math.sqrt(3.0) * math.sqrt(6.0)),
        "indicated": normal(-94.0, 12.0 / math.sqrt(5.0), 4),
        "comparator": rectangular(0.0, 32.0),
        "difference": rectangular(0.0, 0.05),
        "expansion": triangular(0.0, 2.0e-6),
        "temperature": rectangular(0.0, 0.5),
        "variation": rectangular(0.0, 6.7),
        "alpha": exact(11.5e-6),
    }

    def block_nm(
        standard: FloatArray,
        drift: FloatArray,
        indicated: FloatArray,
        comparator: FloatArray,
        difference: FloatArray,
        expansion: FloatArray,
        temperature: FloatArray,
        variation: FloatArray,
        alpha: FloatArray,
    ) -> FloatArray:
        thermal = 50e6 * (alpha * difference + expansion * temperature)
        return standard + drift + indicated + comparator - thermal - variation

    result = propagate(block_nm, inputs)
    assert result.value == pytest.approx(49_999_926.0, abs=0.5)
    assert result.second_order_uncertainty == pytest.approx(36.4, abs=0.1)
    outcome = monte_carlo(block_nm, inputs, 200_000, seed=4)
    assert outcome.standard_uncertainty == pytest.approx(36.4, abs=0.2)
    assert coverage_factor(math.inf, 0.9545) * outcome.standard_uncertainty == pytest.approx(73.0, abs=0.5)


def test_temperature_contributor_of_a_machine_tool_length() -> None:
    # ISO/TR 230-9:2005, annex C (from memory): u = alpha L R / sqrt(12), 12e-6 /K, 1 m, range 2 K: 6.928 um.
    result = propagate(lambda dt: 12e-6 * 1e6 * dt, {"dt": rectangular(0.0, 1.0)})
    assert result.standard_uncertainty == pytest.approx(6.928, abs=0.001)
