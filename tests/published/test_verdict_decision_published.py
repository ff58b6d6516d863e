"""Verdicts against published values: JCGM 106:2012, ISO 14253-1:2017, ILAC-G8:09/2019, a textbook 4:1 case."""

from statistics import NormalDist

import pytest

from waywright.verdict import Verdict, decide, global_risks, guard_band_um, probability_of_conformity


def test_probability_of_conformity_for_a_single_upper_limit() -> None:
    # JCGM 106:2012, 7.3.3 example: y = -5.47 V, u = 0.05 V, limit -5.40 V, probability 0.92 (from memory).
    assert probability_of_conformity(-5.47, -5.40, 0.05) == pytest.approx(0.92, abs=0.005)


def test_probability_of_conformity_for_a_single_lower_limit() -> None:
    # JCGM 106:2012, 7.3.3 example: y = 509.7 kPa, u = 8.6 kPa, lower limit 490 kPa, probability 0.99 (from memory).
    assert probability_of_conformity(509.7, float("inf"), 8.6, lower_um=490.0) == pytest.approx(0.99, abs=0.005)


@pytest.mark.parametrize(("probability", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)])
def test_values_of_z_for_given_probabilities(probability: float, z: float) -> None:
    # JCGM 106:2012, 7.3, Table 1 (from memory; exact quantiles agree to its two decimals).
    assert guard_band_um(1.0, probability) == pytest.approx(z, abs=0.006)
    assert probability_of_conformity(-z, 0.0, 1.0) == pytest.approx(probability, abs=0.003)


def test_default_guard_band_is_that_of_iso_14253_1() -> None:
    # ISO 14253-1:2017: conformance probability 95 % one-sided, guard band 1.65 u (from memory).
    decision = decide(10.0, 20.0, 2.0)
    assert decision.guard_band_um == pytest.approx(1.65 * 2.0, abs=0.02)
    assert decision.acceptance_um == pytest.approx(20.0 - 3.3, abs=0.02)
    assert decision.rejection_um == pytest.approx(20.0 + 3.3, abs=0.02)


@pytest.mark.parametrize(("multiple_of_u_k2", "risk"), [(3.0, 1e-6), (1.5, 0.0016), (1.0, 0.025), (0.83, 0.05)])
def test_risk_of_false_acceptance_at_the_acceptance_limit(multiple_of_u_k2: float, risk: float) -> None:
    # ILAC-G8:09/2019, table of decision rules: guard band w as a multiple of U (k = 2), upper bounds of the risk of
    # false acceptance (as quoted by two public pages).
    value = 10.0 - multiple_of_u_k2 * 2.0
    at_limit = 1.0 - probability_of_conformity(value, 10.0, 1.0)
    assert at_limit < risk
    assert at_limit == pytest.approx(NormalDist().cdf(-2.0 * multiple_of_u_k2), rel=1e-6)


def test_global_risks_of_the_four_to_one_case() -> None:
    # Deaver, "How to maintain your confidence": true values N(0, 4), measuring N(0, 1), limits +-8:
    # false acceptance 0.8 %, false rejection 1.5 %.
    risks = global_risks(0.0, 4.0, 1.0, 8.0, -8.0)
    assert risks.consumers == pytest.approx(0.008, abs=0.0005)
    assert risks.producers == pytest.approx(0.015, abs=0.0005)


def test_a_guard_band_moves_the_risk_from_one_side_to_the_other() -> None:
    plain, guarded = (global_risks(0.0, 4.0, 1.0, 8.0, -8.0, guard) for guard in (0.0, 1.645))
    assert guarded.consumers < plain.consumers / 10
    assert guarded.producers > plain.producers * 2


def test_verdict_at_the_edge_of_the_guard_band() -> None:
    z = NormalDist().inv_cdf(0.95)
    assert decide(20.0 - (z + 1e-9) * 2.0, 20.0, 2.0).verdict is Verdict.CONFORMS
    assert decide(20.0 - (z - 1e-9) * 2.0, 20.0, 2.0).verdict is Verdict.UNDECIDED
    assert decide(20.0 + (z + 1e-9) * 2.0, 20.0, 2.0).verdict is Verdict.DOES_NOT_CONFORM
