"""Bad input: each a clear sentence with the facts, and a key a program can act on."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import (
    fit,
    heights_from_slopes,
    heights_from_steps,
    local_straightness,
    straightness,
)
from waywright.wording import sentence_of

X = np.arange(5) * 100.0
Y = np.array([0.0, 1.0, 3.0, 1.0, 0.0])


def refusal(call: object, *args: object, **kwargs: object) -> tuple[str, str]:
    with pytest.raises(BadInput) as caught:
        call(*args, **kwargs)  # type: ignore[operator]
    return caught.value.key, sentence_of(caught.value)


def changed(values: np.ndarray, index: int, value: float) -> np.ndarray:
    out = values.copy()
    out[index] = value
    return out


@pytest.mark.parametrize("bad", [np.nan, np.inf, -np.inf])
def test_a_deviation_that_is_no_number_names_the_station(bad: float) -> None:
    key, sentence = refusal(straightness, X, changed(Y, 3, bad))
    assert key == "evaluate.not_a_number"
    assert "station 4 (position 300 mm)" in sentence


def test_in_a_table_of_draws_too() -> None:
    table = np.stack([Y, changed(Y, 1, np.nan)], axis=1)
    assert "station 2 (position 100 mm)" in refusal(straightness, X, table)[1]


def test_a_position_that_is_no_number_names_the_station() -> None:
    assert "position of station 1 " in refusal(straightness, changed(X, 0, np.nan), Y)[1]


def test_large_but_finite_numbers_are_no_error() -> None:
    assert straightness(X, Y * 1e200, "minimum-zone").value_um == pytest.approx(3e200)


@pytest.mark.parametrize(("x", "count"), [([], 0), ([0.0, 1.0], 2), ([0.0, 1.0, 1.0, 0.0], 2), ([5.0] * 4, 1)])
def test_fewer_than_three_places_say_how_many(x: list[float], count: int) -> None:
    key, sentence = refusal(straightness, x, np.zeros(len(x)))
    assert key == "evaluate.too_few_stations"
    assert f"there are {count}." in sentence


def test_lengths_that_differ_give_both() -> None:
    assert "5 positions but 4 deviation values" in refusal(straightness, X, Y[:4])[1]


@pytest.mark.parametrize("shape", [(), (5, 0), (5, 2, 2)])
def test_wrong_shapes_are_refused(shape: tuple[int, ...]) -> None:
    assert refusal(straightness, X, np.zeros(shape))[0] == "evaluate.values_shape"
    assert refusal(straightness, np.zeros((2, 3)), Y)[0] == "evaluate.positions_shape"


def test_an_unknown_reference_lists_the_known() -> None:
    _, sentence = refusal(straightness, X, Y, "best-fit")
    assert '"best-fit"' in sentence
    assert "end-points, least-squares, minimum-zone" in sentence
    assert refusal(straightness, X, Y, "given")[0] == "evaluate.unknown_reference"  # a line has to come with it


def test_end_points_need_single_ends_but_not_single_stations() -> None:
    key, sentence = refusal(straightness, [*X, 400.0], [*Y, 0.5], "end-points")
    assert key == "evaluate.end_not_single"
    assert "2 readings at the end position 400 mm" in sentence
    assert straightness([*X, 200.0], [*Y, -1.0], "end-points").value_um == pytest.approx(4.0)


@pytest.mark.parametrize("window_mm", [0.0, -5.0, 400.1, np.nan])
def test_a_window_that_does_not_fit_is_refused(window_mm: float) -> None:
    key, sentence = refusal(local_straightness, X, Y, window_mm)
    assert key == "evaluate.window_length"
    assert "400 mm" in sentence


def test_local_straightness_refuses_repeated_positions_and_unknown_lines() -> None:
    assert "Position 100 mm" in refusal(local_straightness, [*X, 100.0], [*Y, 0.0], 300.0)[1]
    assert refusal(local_straightness, X, Y, 300.0, "mean")[0] == "evaluate.unknown_reference"


def test_steps_and_slopes_refuse_what_does_not_add_up() -> None:
    assert "step 2" in refusal(heights_from_steps, [1.0, np.nan], 100.0)[1]
    assert "step 2 is 0 mm" in refusal(heights_from_steps, [1.0, 2.0], [100.0, 0.0])[1]
    assert refusal(heights_from_steps, [], 100.0)[0] == "evaluate.values_shape"
    key, sentence = refusal(heights_from_slopes, [0.0, 100.0, 50.0], [0.0, 0.0, 0.0])
    assert key == "evaluate.not_increasing"
    assert "station 3" in sentence


def test_the_fit_refuses_what_it_cannot_determine() -> None:
    ones = np.ones((4, 1))
    assert refusal(fit, np.hstack([ones, 2.0 * ones]), np.zeros(4))[0] == "evaluate.dependent_columns"
    assert refusal(fit, np.ones((1, 2)), np.zeros(1))[0] == "evaluate.too_few_observations"
    assert refusal(fit, ones, np.zeros(3))[0] == "evaluate.fit_shapes"
