"""Two lines tied by a link: parallelism, and how much of its uncertainty the link is to blame for."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.links import (
    Slope,
    link_by_beam,
    link_by_bridge,
    link_by_level,
    linked_parallelism,
    slope_of_line,
)
from waywright.evaluate.orientation import parallelism

X = np.linspace(0.0, 6000.0, 13)
SD_UM = 0.8


def test_slope_uncertainty_is_the_textbook_one() -> None:
    """sigma / sqrt(sum (x - mean)^2): for 11 stations over 0.5 m and 1 um, 1.9 um/m."""
    x = np.linspace(0, 500, 11)
    slope = slope_of_line(x, 3.0 + 0.02 * x, 1.0)
    assert slope.value_um_per_m == pytest.approx(20.0)
    assert slope.standard_uncertainty_um_per_m == pytest.approx(1.0 / np.sqrt(((x / 1000 - 0.25) ** 2).sum()))
    assert round(slope.standard_uncertainty_um_per_m, 1) == 1.9


def test_the_same_frame_needs_no_link() -> None:
    first, second = 0.004 * X, 0.009 * X + 3
    linked = linked_parallelism(
        slope_of_line(X, first, SD_UM**2), slope_of_line(X, second, SD_UM**2), link_by_beam(0.0)
    )
    plain = parallelism(straightness(X, first), straightness(X, second))
    assert linked.value_um_per_m == pytest.approx(plain.angle_um_per_m)
    assert linked.link_share == 0.0


@pytest.mark.parametrize("seed", range(4))
def test_a_bridge_brings_two_frames_together(seed: int) -> None:
    """Random truth: two lines, two beams with their own offset and tilt, a bridge that reads their true distance."""
    rng = np.random.default_rng(seed)
    first, second = rng.normal(0, 5, (2, X.size)).cumsum(axis=1)
    true = slope_of_line(X, second - first).value_um_per_m
    seen_first, seen_second = first + 12 + 0.03 * X, second - 40 - 0.05 * X
    link = link_by_bridge(X, second - first + 7.0, seen_first, seen_second, 0.5)
    result = linked_parallelism(slope_of_line(X, seen_first, 0.64), slope_of_line(X, seen_second, 0.64), link)
    assert result.value_um_per_m == pytest.approx(true)
    assert link.angle_um_per_m == pytest.approx(80.0)
    assert link.offset_um == pytest.approx(52.0 + 7.0)


def test_parts_are_what_happens_and_the_share_is_the_link_s() -> None:
    """4000 draws of everything: standard deviation of the result against the stated one (1.1 % each)."""
    rng, draws = np.random.default_rng(9), 4000
    seen = [0.01 * X[:, None] + rng.normal(0, SD_UM, (X.size, draws)) for _ in range(2)]
    places = np.array([500.0, 3000.0, 5500.0])
    gap = rng.normal(0, 1.5, (3, draws))
    link = link_by_bridge(places, gap, np.zeros(3), np.zeros(3), 1.5)
    result = linked_parallelism(*(slope_of_line(X, y, SD_UM**2) for y in seen), link)
    assert np.std(result.value_um_per_m) == pytest.approx(result.standard_uncertainty_um_per_m, rel=0.05)
    without = np.std(result.value_um_per_m - link.angle_um_per_m) ** 2
    assert 1 - without / np.var(result.value_um_per_m) == pytest.approx(result.link_share, abs=0.05)
    assert result.link_share > 0.5


def test_a_level_gives_the_difference_of_its_mean_readings() -> None:
    link = link_by_level([10.0, 12.0], [31.0, 29.0, 33.0], 2.0)
    assert link.angle_um_per_m == pytest.approx(20.0)
    assert link.standard_uncertainty_um_per_m == pytest.approx(2.0 * np.sqrt(1 / 2 + 1 / 3))
    result = linked_parallelism(Slope(5.0, 1.0), Slope(-4.0, 1.0), link)
    assert result.value_um_per_m == pytest.approx(11.0)
    assert result.method == "level"


def test_a_link_without_readings_is_refused() -> None:
    with pytest.raises(BadInput, match="0 usable readings"):
        link_by_level([], [1.0], 2.0)
    with pytest.raises(BadInput, match="at least 2 stations"):
        link_by_bridge([0.0], [1.0], [0.0], [0.0], 1.0)
    with pytest.raises(BadInput, match="one row and one column"):
        slope_of_line(X, X, np.eye(3))
