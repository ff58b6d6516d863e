from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.verdict import Verdict, decide, global_risks, probability_of_conformity


@dataclass(frozen=True)
class Drawn:
    draws: Any

    @property
    def mean(self) -> float:
        return float(self.draws.mean())

    @property
    def standard_uncertainty(self) -> float:
        return float(self.draws.std())


@pytest.mark.parametrize(
    ("burden", "accepted"), [("supplier", False), ("customer", True), ("shared", None), ("simple", True)]
)
def test_undecided_counts_against_whoever_has_to_prove(burden: str, accepted: bool | None) -> None:
    decision = decide(19.0, 20.0, 2.0, burden=burden)
    assert decision.accepted is accepted
    expected = Verdict.CONFORMS if burden == "simple" else Verdict.UNDECIDED
    assert decision.verdict is expected


@pytest.mark.parametrize("burden", ["supplier", "customer", "shared", "simple"])
def test_far_from_the_limit_the_burden_does_not_matter(burden: str) -> None:
    assert decide(10.0, 20.0, 2.0, burden=burden).accepted is True
    assert decide(30.0, 20.0, 2.0, burden=burden).verdict is Verdict.DOES_NOT_CONFORM


def test_risks_speak_only_of_the_decision_taken() -> None:
    accepted = decide(10.0, 20.0, 5.0, burden="customer")
    assert accepted.producers_risk is None
    assert accepted.consumers_risk == pytest.approx(0.02275, abs=1e-5)  # two standard deviations
    refused = decide(10.0, 20.0, 7.0)  # 1.43 u inside is no proof for the supplier
    assert refused.consumers_risk is None
    assert refused.producers_risk == pytest.approx(refused.probability_of_conformity)


def test_expanded_uncertainty_with_its_coverage_factor() -> None:
    assert decide(10.0, 20.0, 6.0, 2.0) == decide(10.0, 20.0, 3.0)


def test_a_distribution_decides_by_itself_not_by_its_standard_deviation() -> None:
    # Exponential tail: mean 1, u 1; 95.02 % lie below 3. A normal with the same mean and u has 97.7 % there.
    draws = -np.log1p(-(np.arange(100_000) + 0.5) / 100_000)
    below = decide(Drawn(draws), 3.0)
    assert below.probability_of_conformity == pytest.approx(1.0 - np.exp(-3.0), abs=1e-5)
    assert below.verdict is Verdict.CONFORMS
    assert decide(Drawn(draws), 2.9).verdict is Verdict.UNDECIDED
    assert decide(2.9 - 1.9, 2.9, 1.0).verdict is Verdict.CONFORMS


def test_two_limits_close_together_can_never_be_proved_to_hold() -> None:
    decision = decide(0.0, 1.0, 1.0, lower_um=-1.0)
    assert decision.probability_of_conformity == pytest.approx(0.6827, abs=1e-4)
    assert decision.verdict is Verdict.UNDECIDED


def test_without_uncertainty_the_value_on_the_limit_conforms() -> None:
    assert decide(20.0, 20.0, 0.0).verdict is Verdict.CONFORMS
    assert decide(20.000001, 20.0, 0.0).verdict is Verdict.DOES_NOT_CONFORM
    assert probability_of_conformity(5.0, 6.0, 0.0, lower_um=5.0) == 1.0
    assert probability_of_conformity(5.0, 6.0, 0.0, lower_um=5.1) == 0.0


@pytest.mark.parametrize(
    ("arguments", "key"),
    [
        ({"value": 1.0, "limit_um": 2.0}, "verdict.uncertainty_missing"),
        ({"value": 1.0, "limit_um": 2.0, "standard_uncertainty_um": -1.0}, "verdict.bad_uncertainty"),
        ({"value": 1.0, "limit_um": 2.0, "standard_uncertainty_um": float("nan")}, "verdict.bad_uncertainty"),
        (
            {"value": 1.0, "limit_um": 2.0, "standard_uncertainty_um": 1.0, "coverage_factor": 0.0},
            "verdict.bad_uncertainty",
        ),
        ({"value": float("nan"), "limit_um": 2.0, "standard_uncertainty_um": 1.0}, "verdict.value_not_a_number"),
        ({"value": 1.0, "limit_um": float("nan"), "standard_uncertainty_um": 1.0}, "verdict.bad_limits"),
        ({"value": 1.0, "limit_um": 2.0, "standard_uncertainty_um": 1.0, "lower_um": 2.0}, "verdict.bad_limits"),
        ({"value": 1.0, "limit_um": 2.0, "standard_uncertainty_um": 1.0, "burden": "nobody"}, "verdict.unknown_burden"),
        ({"value": 1.0, "limit_um": 2.0, "standard_uncertainty_um": 1.0, "confidence": 1.0}, "verdict.bad_confidence"),
        (
            {"value": Drawn(np.ones(3)), "limit_um": 2.0, "standard_uncertainty_um": 1.0},
            "verdict.uncertainty_twice",
        ),
    ],
)
def test_what_cannot_be_decided_is_refused_with_the_reason(arguments: dict[str, Any], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        decide(**arguments)
    assert caught.value.key == key
    assert str(caught.value)


def test_global_risks_refuse_spreads_and_limits_that_make_no_sense() -> None:
    with pytest.raises(BadInput, match="positive"):
        global_risks(0.0, 0.0, 1.0, 8.0)
    with pytest.raises(BadInput, match="lower one comes first"):
        global_risks(0.0, 4.0, 1.0, 8.0, 8.0)
