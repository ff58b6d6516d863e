"""``waywright decide``: three answers, the burden of proof, and rules instead of limits."""

from statistics import NormalDist

import msgspec
import pytest

from waywright.cli import main


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, object]:
    assert main(["decide", *arguments, "--json"]) == 0
    found: dict[str, object] = msgspec.json.decode(capsys.readouterr().out)
    return found


@pytest.mark.parametrize(
    ("value", "verdict"), [("10", "conforms"), ("19", "undecided"), ("21", "undecided"), ("25", "does not conform")]
)
def test_three_answers(capsys: pytest.CaptureFixture[str], value: str, verdict: str) -> None:
    """One-sided 95 %: proved 1.645 u from the limit (ISO 14253-1; the factor is the normal quantile)."""
    found = answer(capsys, value, "--uncertainty-um", "2", "--limit-um", "20")
    assert found["verdict"] == verdict
    assert found["probability_of_conformity"] == pytest.approx(NormalDist(float(value), 2).cdf(20))
    assert found["acceptance_um"] == pytest.approx(20 - 1.6449 * 2, abs=1e-3)


@pytest.mark.parametrize(("burden", "accepted"), [("supplier", False), ("customer", True), ("shared", None)])
def test_undecided_counts_against_who_has_to_prove(
    capsys: pytest.CaptureFixture[str], burden: str, accepted: bool | None
) -> None:
    found = answer(capsys, "19", "--uncertainty-um", "2", "--limit-um", "20", "--burden", burden)
    assert found["accepted"] is accepted


@pytest.mark.parametrize(("or_part", "limit_um"), [("", 36.0), (" or part", 40.0)])
def test_an_expanded_uncertainty_and_a_rule(capsys: pytest.CaptureFixture[str], or_part: str, limit_um: float) -> None:
    text = f"0.02 up to 1000, +0.01 per further 1000{or_part}, max 0.05"
    rule = ["--tolerance", text, "--length-mm", "2600"]
    found = answer(capsys, "30", "--uncertainty-um", "4", "--coverage-factor", "2", *rule)
    assert (found["limit_um"], found["standard_uncertainty_um"]) == (pytest.approx(limit_um), 2.0)
    assert found["verdict"] == "conforms"


def test_what_is_missing_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["decide", "3", "--uncertainty-um", "1"]) == 1
    assert "either a limit in µm, or a tolerance rule" in capsys.readouterr().err
    assert main(["decide", "3", "--uncertainty-um", "1", "--tolerance", "0.02 upto 1", "--length-mm", "5"]) == 1
    assert "cannot be read at character" in capsys.readouterr().err


def test_for_people_it_says_what_follows(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["decide", "19", "--uncertainty-um", "2", "--limit-um", "20"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("undecided")
    assert "So it is not accepted." in said
