"""Passes joined: the truth comes back, drift cancels in the mean of a forward and a backward pass."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate.passes import Traverse, common_stations, join_passes

LENGTH_MM = 5200.0


def truth_um(x_mm: np.ndarray) -> np.ndarray:
    return 30 * np.sin(np.pi * x_mm / LENGTH_MM) + 4 * np.cos(2 * np.pi * x_mm / 1800)


def stations(rng: np.random.Generator, spread_mm: float = 15.0) -> np.ndarray:
    return np.linspace(0, LENGTH_MM, 22) + rng.uniform(-spread_mm, spread_mm, 22)


def test_passes_at_different_stations_give_the_truth_back() -> None:
    rng = np.random.default_rng(4)
    forward, backward = stations(rng), stations(rng)[::-1]
    joined = join_passes(
        [
            Traverse(forward, truth_um(forward) + 7.0, "forward"),
            Traverse(backward, truth_um(backward) - 3.0, "backward"),
        ]
    )
    assert joined.position_mm.size == 22
    assert np.all(joined.measured_by == 2)
    # Interpolation over at most 15 mm of a curve with |y''| <= 6e-5 um/mm2 between stations 270 mm apart.
    assert joined.mean - truth_um(joined.position_mm) == pytest.approx(2.0, abs=0.25)
    assert joined.reversal == pytest.approx(10.0, abs=0.5)
    assert np.isnan(joined.repeatability).all()


def test_even_drift_of_offset_and_angle_leaves_no_bow_in_the_mean() -> None:
    x = np.linspace(0, LENGTH_MM, 22)
    time_out, time_back = x / LENGTH_MM, 2 - x / LENGTH_MM

    def drift(time: np.ndarray) -> np.ndarray:
        return (3.0 + 2.0 * x / 1000) * time

    joined = join_passes(
        [Traverse(x, drift(time_out), "forward"), Traverse(x[::-1], drift(time_back)[::-1], "backward")]
    )
    line = np.polyfit(joined.position_mm, joined.mean, 1)
    assert joined.mean == pytest.approx(np.polyval(line, joined.position_mm), abs=1e-9)
    assert np.ptp(joined.reversal) > 5


def test_repeatability_is_the_scatter_within_a_direction() -> None:
    x = np.linspace(0, 1000, 5)
    passes = [Traverse(x, x * 0 + offset, "forward") for offset in (1.0, 2.0, 3.0)]
    assert join_passes(passes).repeatability == pytest.approx(1.0)
    assert join_passes(passes).mean == pytest.approx(2.0)


def test_directions_weigh_the_same() -> None:
    x = np.linspace(0, 1000, 5)
    passes = [Traverse(x, x * 0, "forward")] * 3 + [Traverse(x, x * 0 + 8, "backward")]
    assert join_passes(passes).mean == pytest.approx(4.0)


def test_stations_beyond_another_pass_are_left_out_and_counted() -> None:
    long, short = np.linspace(0, 1000, 11), np.linspace(0, 800, 9)
    joined = join_passes([Traverse(long, long * 0, "forward"), Traverse(short, short * 0, "backward")])
    assert joined.position_mm[-1] == 800
    assert joined.left_out == 2


def test_a_station_that_a_pass_missed_is_interpolated_and_says_so() -> None:
    x = np.linspace(0, 1000, 11)
    fewer = np.delete(x, 4)
    joined = join_passes([Traverse(x, 2 * x, "forward"), Traverse(fewer, 2 * fewer, "backward")])
    assert joined.position_mm.size == 11
    assert joined.measured_by.tolist() == [2, 2, 2, 2, 1, 2, 2, 2, 2, 2, 2]
    assert joined.mean == pytest.approx(2 * x)


def test_passes_without_a_common_stretch_are_refused() -> None:
    x = np.linspace(0, 1000, 11)
    with pytest.raises(BadInput, match="no stretch in common"):
        join_passes([Traverse(x, x, "forward"), Traverse(x + 5000, x, "backward")])
    with pytest.raises(BadInput, match="There is no pass"):
        join_passes([])
    with pytest.raises(BadInput, match="'sideways'"):
        join_passes([Traverse(x, x, "sideways")])


def test_readings_at_one_position_are_one_station() -> None:
    """Their mean, and the standard deviation of that mean; draws alike."""
    x = np.array([0.0, 100.0, 100.0, 200.0, 300.0])
    y = np.array([1.0, 2.0, 4.0, 3.0, 5.0])
    common = common_stations([Traverse(x, y, "forward", 10 * np.arange(5.0), np.full(5, 0.4))])
    assert common.position_mm.tolist() == [0.0, 100.0, 200.0, 300.0]
    assert common.value[0].tolist() == [1.0, 3.0, 3.0, 5.0]
    assert common.time_s is not None
    assert common.time_s[0].tolist() == [0.0, 15.0, 30.0, 40.0]
    assert common.standard_deviation is not None
    assert common.standard_deviation[0] == pytest.approx([0.4, 0.4 / np.sqrt(2), 0.4, 0.4])
    assert join_passes([Traverse(x, np.stack([y, 2 * y], axis=1), "forward")]).mean[:, 1].tolist() == [2, 6, 6, 10]


def test_draws_come_through_in_the_second_axis() -> None:
    rng = np.random.default_rng(3)
    forward, backward = stations(rng), stations(rng)[::-1]
    values = rng.normal(0, 5, (2, 22, 7))
    many = join_passes([Traverse(forward, values[0], "forward"), Traverse(backward, values[1], "backward")])
    one = join_passes([Traverse(forward, values[0][:, 4], "forward"), Traverse(backward, values[1][:, 4], "backward")])
    assert many.mean.shape == (one.position_mm.size, 7)
    assert many.mean[:, 4] == pytest.approx(one.mean)
    assert many.reversal[:, 4] == pytest.approx(one.reversal)
    assert many.each.shape == (2, one.position_mm.size, 7)
