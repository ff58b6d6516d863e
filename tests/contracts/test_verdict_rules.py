"""Tolerance rules: what each phrase means, and where a mistake is shown."""

from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.verdict import tolerance
from waywright.wording import text


@pytest.mark.parametrize(
    ("rule", "length_mm", "limit_um"),
    [
        ("0.02", 3000, 20),
        ("20 um", 3000, 20),
        ("20 µm", 3000, 20),
        ("0.001 in", 3000, 25.4),
        ("0.010 up to 500, 0.015 up to 800, 0.020 up to 1250, 0.025 up to 2000", 500, 10),
        ("0.010 up to 500, 0.015 up to 800, 0.020 up to 1250, 0.025 up to 2000", 500.001, 15),
        ("0.010 up to 500, 0.015 up to 800, 0.020 up to 1250, 0.025 up to 2000", 2000, 25),
        ("0.02 up to 1000, +0.01 per further 1000 or part, max 0.05", 1000, 20),
        ("0.02 up to 1000, +0.01 per further 1000 or part, max 0.05", 1001, 30),
        ("0.02 up to 1000, +0.01 per further 1000 (or part), max 0.05", 3000, 40),
        ("0.02 up to 1000, +0.01 per further 1000 or part, max 0.05", 9000, 50),
        ("0.02 up to 1000, +0.01 per further 1000, max 0.05", 1500, 25),
        ("0.02 up to 1 m, +10 um per further 1 m", 1500, 25),
        ("0.02/500", 1250, 50),
        ("0.04 per 1000", 500, 20),
        ("40 um/m", 500, 20),
        ("0.04 mm/m", 500, 20),
        ("10 arcsec", 1000, 48.481368),
        # A public national test chart for precision lathes scales to another length with a floor of 0.005 and rounds
        # to the nearest 0.002 (IS 6040:1993, 3.5).
        ("0.02/1000, to the nearest 0.002, at least 0.005", 450, 10),
        ("0.02/1000, to the nearest 0.002, at least 0.005", 130, 5),
        ("0.02/1000, to the nearest 0.002, at least 0.005", 330, 6),
        ("0.01 up to 1000, class factor 1.6", 700, 16),
        ("0.02 up to 1000, +0.01 per further 1000 and 0.02/500", 400, 16),
    ],
)
def test_limit_of_a_length(rule: str, length_mm: float, limit_um: float) -> None:
    assert tolerance(rule).limit_um(length_mm) == pytest.approx(limit_um, rel=1e-8)


@pytest.mark.parametrize(
    ("rule", "normal_form"),
    [
        ("0.020 UP TO 1000.0", "0.02 up to 1000"),
        (".02 per 500", "0.02/500"),
        ("20 um over any measuring length of 300 mm", "0.02 over any 300"),
        ("0.02, max 0.05, class factor 2, convex only", "0.02, class factor 2, max 0.05 and convex only"),
        ("0.02; rising towards the tool only", "0.02 and rising towards the tool"),
        ("Leaning towards the Operator only", "leaning towards the operator"),
        ("12 ARCSEC", "12 arcsec"),
    ],
)
def test_normal_form(rule: str, normal_form: str) -> None:
    assert str(tolerance(rule)) == normal_form
    assert tolerance(normal_form) == tolerance(rule)


@pytest.mark.parametrize(
    ("rule", "position", "expected"),
    [
        ("", 1, "number"),
        ("   ", 4, "number"),
        ("0.02 up 1000", 6, "end of the rule"),
        ("0.02 up to", 11, "number"),
        ("0.02 up to 1000,", 17, "number"),
        ("0.02 up to 1000, +0.01 per 1000", 28, "further"),
        ("0.02 up to 1000, +0.01 per further 1000 (or part", 49, ")"),
        ("0.02 over 300", 11, "any"),
        ("0.02 over any length 300", 22, "of"),
        ("0.02 and", 9, "convex"),
        ("0.02 and and", 10, "convex"),
        ("0.02 § 3", 6, "word"),
        ("rising", 7, "towards"),
        ("rising towards", 15, "the tool"),
        ("0.02, 0.03 up to 1000", 7, "at least"),
        ("0.02, to the closest 0.002", 14, "nearest"),
        ("0.02/", 6, "number"),
        ("-0.02", 1, "number"),
        ("convex only, 0.02", 12, "end of the rule"),
    ],
)
def test_a_mistake_is_shown_at_its_place(rule: str, position: int, expected: str) -> None:
    with pytest.raises(BadInput) as caught:
        tolerance(rule)
    assert caught.value.key == "verdict.rule_syntax"
    assert caught.value.facts["position"] == position
    assert expected in str(caught.value.facts["expected"])
    lines = str(caught.value).splitlines()
    assert lines[1][2:] == rule
    assert lines[2][2:] == " " * (position - 1) + "^"


@pytest.mark.parametrize(
    ("rule", "key", "position"),
    [
        ("0,02 up to 1000", "verdict.rule_decimal_comma", 2),
        ("0.02 up to 1000, 0.03 up to 800", "verdict.rule_steps_descend", 29),
        ("0.02 up to 1000, 0.01 up to 2000", "verdict.rule_steps_descend", 18),
        ("0 up to 1000", "verdict.rule_number", 1),
        ("0.02 up to 0", "verdict.rule_number", 12),
        ("9" * 400, "verdict.rule_number", 1),
        ("0.02, max 0.05, max 0.06", "verdict.rule_twice", 17),
        ("0.02 up to 1000, at least 0.05, max 0.01", "verdict.rule_floor_above_max", 1),
    ],
)
def test_numbers_that_make_no_rule_are_refused_at_their_place(rule: str, key: str, position: int) -> None:
    with pytest.raises(BadInput) as caught:
        tolerance(rule)
    assert (caught.value.key, caught.value.facts["position"]) == (key, position)
    assert str(caught.value)


def test_a_rule_of_unreasonable_length_is_refused() -> None:
    with pytest.raises(BadInput, match="Shorten it"):
        tolerance("0.02 and " * 500 + "0.02")


@pytest.mark.parametrize(
    "rule", ["0.007 over any 300", "convex only", "0.02 and 0.007 over any 300", "0.02, rising towards the tool"]
)
def test_no_single_limit_where_the_curve_is_needed(rule: str) -> None:
    with pytest.raises(BadInput, match="needs the measured curve"):
        tolerance(rule).limit_um(1000)


def test_nothing_is_said_beyond_the_last_step() -> None:
    rule = tolerance("0.02 up to 1000")
    with pytest.raises(BadInput, match="says nothing for 1200 mm"):
        rule.limit_um(1200)
    check = rule.check(5.0, length_mm=1200).parts[0]
    assert (check.holds, check.key) == (None, "verdict.not_judged_length")


@pytest.mark.parametrize("length_mm", [0.0, -1.0, float("nan"), float("inf")])
def test_a_length_that_is_none_is_refused(length_mm: float) -> None:
    with pytest.raises(BadInput, match="cannot be judged"):
        tolerance("0.02").limit_um(length_mm)


@dataclass(frozen=True)
class Curve:
    position_mm: Any
    deviation_um: Any
    slope_um_per_m: Any = 0.0
    line: Any = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "line", SimpleNamespace(slope_um_per_m=self.slope_um_per_m))

    @property
    def value_um(self) -> Any:
        return self.deviation_um.max(axis=0) - self.deviation_um.min(axis=0)


X = np.linspace(0.0, 2000.0, 21)
BOW = Curve(X, 12.0 * (1.0 - ((X - 1000.0) / 1000.0) ** 2))


def test_convex_is_seen_in_the_physical_direction() -> None:
    rule = tolerance("0.015 and convex only")
    assert rule.check(BOW, positive="up").holds is True
    assert rule.check(BOW, positive="down").holds is False
    assert tolerance("concave only").check(BOW, positive="down").holds is True
    hollow = rule.check(BOW, positive="down").parts[1]
    assert (hollow.value, hollow.limit) == (pytest.approx(12.0), 0.0)


def test_convex_is_not_judged_without_a_direction_or_across_it() -> None:
    check = tolerance("0.015, convex only").check(BOW)
    assert check.holds is None
    assert check.parts[1].key == "verdict.not_judged_needs_direction"
    assert tolerance("convex only").check(BOW, positive="towards the operator").holds is None


def test_a_failing_part_decides_even_beside_one_that_is_not_judged() -> None:
    assert tolerance("0.005, convex only").check(BOW).holds is False


@pytest.mark.parametrize(
    ("positive", "ahead", "behind", "holds"),
    [
        ("up", "the tool", (), True),
        ("up", (), "the tool", False),
        ("down", "the tool", (), False),
        ("down", (), "the tool", True),
        ("up", "tailstock", (), None),
    ],
)
def test_rising_towards_a_place(positive: str, ahead: Any, behind: Any, holds: bool | None) -> None:
    rising = Curve(X, np.zeros_like(X), slope_um_per_m=3.0)
    rule = tolerance("rising towards the tool")
    assert rule.check(rising, positive=positive, ahead=ahead, behind=behind).holds is holds
    if holds is not None:
        opposite = tolerance("falling towards the tool")
        assert opposite.check(rising, positive=positive, ahead=ahead, behind=behind).holds is not holds


def test_known_opposites_need_not_be_told() -> None:
    rising = Curve(X, np.zeros_like(X), slope_um_per_m=3.0)
    assert tolerance("rising towards the headstock").check(rising, positive="up", ahead="the tailstock").holds is False
    assert tolerance("rising towards the left").check(rising, positive="up", ahead="right").holds is False


def test_an_angle_is_judged_by_a_ratio_and_its_lean() -> None:
    square = SimpleNamespace(angle_um_per_m=-30.0)
    rule = tolerance("0.02/500 and leaning towards the operator")
    assert rule.check(square, positive="towards-operator").holds is False
    assert rule.check(square, positive="away-from-operator").holds is True
    assert rule.check(square, positive="away-from-operator").parts[0].value == 30.0
    assert tolerance("6 arcsec").check(square).holds is False
    assert tolerance("7 arcsec").check(square).holds is True
    assert tolerance("0.02").check(square).parts[0].key == "verdict.not_judged_needs_angle"
    assert tolerance("0.02/500, class factor 0.5").check(square).holds is False


def test_one_value_needs_a_length_only_where_the_rule_does() -> None:
    assert tolerance("0.02").check(19.0).holds is True
    assert tolerance("0.02").check(SimpleNamespace(diameter_um=21.0)).holds is False
    assert tolerance("0.02/500").check(19.0).parts[0].key == "verdict.not_judged_needs_length"
    assert tolerance("0.02/500").check(19.0, length_mm=500).holds is True
    assert tolerance("0.007 over any 300").check(19.0).parts[0].key == "verdict.not_judged_needs_curve"


def test_a_line_shorter_than_the_window_is_judged_as_a_whole() -> None:
    short = Curve(X[:3], np.array([0.0, 3.0, 1.0]))
    check = tolerance("0.004 over any 300").check(short).parts[0]
    assert (check.holds, check.value) == (True, 3.0)
    assert tolerance("0.002 over any 300").check(short).holds is False


def test_many_draws_are_checked_one_by_one() -> None:
    scale = np.array([0.5, 1.0, 2.0])
    drawn = Curve(X, BOW.deviation_um[:, None] * scale, slope_um_per_m=scale * 0.0)
    check = tolerance("0.013 up to 2000 and convex only").check(drawn, positive="up")
    assert check.holds.tolist() == [True, True, False]
    assert check.worst is not None
    assert check.worst.part == "0.013 up to 2000"


def test_a_local_limit_is_judged_in_every_window_of_a_real_curve() -> None:
    step = np.where(X > 1000.0, 8.0, 0.0)
    bed = straightness(X, step, "end-points")
    check = tolerance("0.007 over any 300").check(bed).parts[0]
    # A step of 8 between stations 100 mm apart, windows of four stations: two thirds of it show, first from 800 mm on.
    assert (check.holds, check.value, check.start_mm) == (True, pytest.approx(16.0 / 3.0), 800.0)
    assert tolerance("0.005 over any 300").check(bed).holds is False


def test_a_local_limit_is_not_judged_where_stations_are_too_far_apart() -> None:
    check = tolerance("0.007 over any 250").check(straightness(X, np.sin(X)))
    assert (check.holds, check.parts[0].key) == (None, "verdict.not_judged_stations")
    assert "closer together" in text(check.parts[0].key or "", **check.parts[0].facts)
