"""Angular error motions against position, three squares compared, and the rule on runs of ISO 230-2."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import angular_error, compare_squares, positioning

X = np.linspace(0.0, 3000.0, 13)


def test_angular_error_is_largest_minus_smallest_with_places() -> None:
    angle = 12.0 * np.sin(X / 700.0)
    found = angular_error(X[::-1], angle[::-1])
    assert found.value_um_per_m == pytest.approx(np.ptp(angle))
    assert found.largest_at_mm == X[angle.argmax()]
    assert found.smallest_at_mm == X[angle.argmin()]
    assert found.end_to_end_um_per_m == pytest.approx(angle[-1] - angle[0])
    assert (found.start_mm, found.end_mm, found.stations) == (0.0, 3000.0, 13)


def test_angular_error_does_not_know_its_zero_and_turns_with_the_sign() -> None:
    angle = np.random.default_rng(4).normal(0, 5, X.size)
    plain, moved, mirrored = (angular_error(X, each) for each in (angle, angle + 800.0, -angle))
    assert moved.value_um_per_m == pytest.approx(plain.value_um_per_m)
    assert mirrored.value_um_per_m == pytest.approx(plain.value_um_per_m)
    assert mirrored.largest_um_per_m == pytest.approx(-plain.smallest_um_per_m)
    assert mirrored.largest_at_mm == plain.smallest_at_mm


def test_angular_error_over_draws_is_that_of_each() -> None:
    draws = np.random.default_rng(5).normal(0, 5, (X.size, 7))
    found = angular_error(X, draws)
    assert found.value_um_per_m.shape == (7,)
    for k in range(7):
        one = angular_error(X, draws[:, k])
        assert found.value_um_per_m[k] == one.value_um_per_m
        assert found.largest_at_mm[k] == one.largest_at_mm


def test_angular_error_refuses_what_is_no_line() -> None:
    with pytest.raises(BadInput, match="2"):
        angular_error([100.0, 100.0], [1.0, 2.0])
    with pytest.raises(BadInput):
        angular_error([0.0, 1.0], [1.0, np.nan])


@pytest.mark.parametrize(("faces", "sign"), [("outer", -1.0), ("inner", 1.0)])
def test_the_truth_of_three_squares_returns(faces: str, sign: float) -> None:
    """Random true errors; each gap opens (inner faces) or closes (outer faces) by the sum of both errors."""
    rng = np.random.default_rng(8)
    for _ in range(20):
        one, two, three = true = rng.normal(0, 20, 3)
        height = np.sort(rng.uniform(20, 480, 9))
        gaps = [
            (height, rng.uniform(-50, 50) + sign * total * height / 1000)
            for total in (one + two, two + three, three + one)
        ]
        found = compare_squares(gaps, faces)
        assert found.error_um_per_m == pytest.approx(tuple(true), abs=1e-9)
        assert found.uncertainty_um_per_m == pytest.approx(0.0, abs=1e-9)


def test_noise_of_the_gaps_makes_the_stated_uncertainty_of_each_square() -> None:
    """Scatter of the errors found in 4000 trials against what is stated from the variance of one reading."""
    rng = np.random.default_rng(9)
    height = np.linspace(20, 480, 9)
    gaps = [(height, rng.normal(0, 0.5, (9, 4000))) for _ in range(3)]
    found = compare_squares(gaps, variance_um2=(0.25, 0.25, 0.25))
    for error in found.error_um_per_m:
        assert error.std() == pytest.approx(found.uncertainty_um_per_m, rel=0.05)


def test_squares_need_three_gaps_and_known_faces() -> None:
    gap = ([0.0, 100.0, 200.0], [0.0, 1.0, 2.0])
    with pytest.raises(BadInput, match="2 gaps"):
        compare_squares([gap, gap])
    with pytest.raises(BadInput, match="outer, inner"):
        compare_squares([gap] * 3, "upper")


def test_up_to_two_metres_five_runs_above_one_run_and_no_repeatability() -> None:
    """ISO 230-2 (from memory): five runs each way up to 2000 mm; longer axes have no repeatability, so no A either."""
    rng = np.random.default_rng(3)

    def judged(length_mm: float, runs: int) -> tuple[str | None, bool]:
        found = positioning(np.linspace(0, length_mm, 11), rng.normal(size=(11, runs)), rng.normal(size=(11, runs)))
        assert (found.repeatability_um is None) == (found.accuracy_um is None)
        return None if found.reason is None else found.reason.key, found.accuracy_um is not None

    assert judged(2000.0, 5) == (None, True)
    assert judged(2000.0, 4) == ("evaluate.fewer_runs", True)
    assert judged(2000.0, 1) == ("evaluate.one_run", False)
    assert judged(2000.1, 5) == ("evaluate.no_repeatability_so_long", False)
    assert judged(6000.0, 1) == ("evaluate.no_repeatability_so_long", False)
