"""Every geometric result: draws are columns; zero, order of stations, unit and mirrored axis change what they must.

``FIGURES`` gives each evaluation as a function of positions (n,) and readings (n,) or (n, draws), all proportional to
the readings, with the sign that a mirrored reading brings: 0 where the figure is a width that no mirror changes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waywright.evaluate import (
    angular_error,
    at_functional_point,
    compare_squares,
    flatness,
    heights_from_rotation,
    heights_from_slopes,
    heights_from_steps,
    joint,
    local_straightness,
    parallelism,
    positioning,
    ram_droop,
    roll_from_lines,
    spatial_straightness,
    spindle_to_axis,
    squareness,
    straightedge_reversal,
    straightness,
    twist,
    two_ways,
    without_earth_curvature,
)

N = 16
X = np.linspace(200.0, 1850.0, N)
Y_OF = np.array([0.0, 300.0] * (N // 2))
OTHER = 5.0 * np.cos(X / 300.0)
Figure = Callable[[np.ndarray, np.ndarray], object]


@dataclass(frozen=True)
class Result:
    """``figure(x, y)``; ``mirror`` is its sign for -y; ``tilt`` and ``zero`` say whether those of y leave it alone."""

    figure: Figure
    mirror: int
    tilt: bool = False
    zero: bool = True


def other(y: np.ndarray) -> np.ndarray:
    return OTHER.reshape(-1, *[1] * (y.ndim - 1)) + 0.0 * y


FIGURES = {
    "end points": Result(lambda x, y: straightness(x, y, "end-points").value_um, 0, tilt=True),
    "least squares": Result(lambda x, y: straightness(x, y).value_um, 0, tilt=True),
    "minimum zone": Result(lambda x, y: straightness(x, y, "minimum-zone").value_um, 0, tilt=True),
    "local": Result(lambda x, y: local_straightness(x, y, 700.0).value_um, 0, tilt=True),
    "spatial": Result(lambda x, y: spatial_straightness(x, y, y * 0.0).diameter_um, 0, tilt=True),
    "angular": Result(lambda x, y: angular_error(x, y).value_um_per_m, 0),
    "twist": Result(lambda x, y: twist(x, y).total_um_per_m, 0),
    "twist rate": Result(lambda x, y: twist(x, y).rate_um_per_m_per_m, -1),
    "flatness": Result(lambda x, y: flatness(x, Y_OF[order_of(x)], y).value_um, 0, tilt=True),
    "joint step": Result(lambda x, y: joint(x, y, 1000.0).step_um, -1, tilt=True),
    "joint kink": Result(lambda x, y: joint(x, y, 1000.0).kink_um_per_m, -1, tilt=True),
    "cross-level": Result(lambda x, y: two_ways(x, y * 0.0, y, 800.0).twist_um_per_m, 0),
    "two ways": Result(lambda x, y: two_ways(x, y * 0.0, y, 800.0).as_one_surface.value_um, 0),
    "parallelism": Result(lambda x, y: parallelism(straightness(x, y * 0.0), straightness(x, y)).angle_um_per_m, -1),
    "squareness": Result(lambda x, y: squareness(straightness(x, y * 0.0), straightness(x, y)).opening_um_per_m, -1),
    "roll": Result(
        lambda x, y: np.ptp(roll_from_lines("EXZ", x, y * 0.0, y, 400.0).roll_um_per_m, axis=0), 0, tilt=True
    ),
    "spindle": Result(lambda x, y: spindle_to_axis(x, y, y).angle_um_per_m, -1),
    "straightedge": Result(
        lambda x, y: straightness(x, straightedge_reversal(x, y, y * 0.0).machine_um).value_um, 0, tilt=True
    ),
    "ram": Result(lambda x, y: ram_droop(x, y, y * 0.0).off_slope_um_per_m, -1),
    "functional point": Result(
        lambda x, y: np.ptp(at_functional_point("EYZ", x, y * 0.0, {"ECZ": y}, (300.0, 0.0, 0.0)).deviation_um, axis=0),
        0,
    ),
    "squares": Result(lambda x, y: compare_squares([(x, y)] * 3).error_um_per_m[0], -1),
}


def order_of(x: np.ndarray) -> np.ndarray:
    """Which station of the grid each position is, whatever the order and the datum of the positions."""
    return np.argsort(np.argsort(x))


def readings(seed: int) -> np.ndarray:
    return np.random.default_rng(seed).normal(0.0, 8.0, N)


seeds = st.integers(0, 2**31)
everyone = pytest.mark.parametrize("name", FIGURES)


@everyone
@settings(max_examples=15, deadline=None)
@given(seed=seeds, factor=st.floats(0.02, 50.0))
def test_another_unit_scales_every_figure(name: str, seed: int, factor: float) -> None:
    figure, y = FIGURES[name].figure, readings(seed)
    assert figure(X, factor * y) == pytest.approx(factor * figure(X, y), rel=1e-6, abs=1e-7 * factor)


@everyone
@settings(max_examples=15, deadline=None)
@given(seed=seeds)
def test_a_mirrored_reading_turns_signed_figures_and_leaves_widths(name: str, seed: int) -> None:
    result, y = FIGURES[name], readings(seed)
    assert result.figure(X, -y) == pytest.approx((result.mirror or 1) * result.figure(X, y), rel=1e-6, abs=1e-7)


@everyone
@settings(max_examples=15, deadline=None)
@given(seed=seeds, zero=st.floats(-1e3, 1e3), tilt=st.floats(-0.05, 0.05))
def test_zero_and_where_it_must_tilt_of_the_readings_are_nobody_s_business(
    name: str, seed: int, zero: float, tilt: float
) -> None:
    result, y = FIGURES[name], readings(seed)
    moved = y + zero + (tilt * X if result.tilt else 0.0)
    assert result.figure(X, moved) == pytest.approx(result.figure(X, y), rel=1e-6, abs=1e-6)


@everyone
@settings(max_examples=15, deadline=None)
@given(seed=seeds, random=st.randoms(use_true_random=False))
def test_the_order_of_the_stations_is_nobody_s_business(name: str, seed: int, random: object) -> None:
    result, y = FIGURES[name], readings(seed)
    order = list(range(N))
    random.shuffle(order)  # type: ignore[attr-defined]
    assert result.figure(X[order], y[order]) == pytest.approx(result.figure(X, y), rel=1e-6, abs=1e-7)


@everyone
@settings(max_examples=8, deadline=None)
@given(seed=seeds)
def test_draws_stand_in_the_second_axis(name: str, seed: int) -> None:
    result = FIGURES[name]
    table = np.random.default_rng(seed).normal(0.0, 8.0, (N, 3))
    found = result.figure(X, table)
    assert np.shape(found) == (3,)
    for k in range(3):
        assert np.asarray(found)[k] == pytest.approx(result.figure(X, table[:, k]), rel=1e-6, abs=1e-7)


@settings(max_examples=25, deadline=None)
@given(seed=seeds)
def test_heights_over_draws_are_those_of_each(seed: int) -> None:
    table = np.random.default_rng(seed).normal(0.0, 8.0, (N, 3))
    for shape in (
        lambda y: heights_from_steps(y, 200.0),
        lambda y: heights_from_slopes(X, y),
        lambda y: heights_from_rotation("EYZ", X, y).height_um,
        lambda y: without_earth_curvature(X, y),
    ):
        many = shape(table)
        for k in range(3):
            assert many[:, k] == pytest.approx(shape(table[:, k]))


@settings(max_examples=25, deadline=None)
@given(seed=seeds, factor=st.floats(0.02, 50.0), zero=st.floats(-1e3, 1e3))
def test_positioning_scales_and_forgets_its_zero_and_takes_draws_last(seed: int, factor: float, zero: float) -> None:
    random = np.random.default_rng(seed)
    up, down = random.normal(0.0, 3.0, (2, N, 5, 3))
    many = positioning(X, up, down)
    for name in ("accuracy_um", "repeatability_um", "reversal_um", "systematic_um", "mean_deviation_um"):
        for k in range(3):
            one = getattr(positioning(X, up[..., k], down[..., k]), name)
            assert getattr(many, name)[k] == pytest.approx(one)
            moved = positioning(X, factor * up[..., k] + zero, factor * down[..., k] + zero)
            assert getattr(moved, name) == pytest.approx(factor * one, rel=1e-6, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(seed=seeds, angle=st.floats(-3.0, 3.0))
def test_a_turn_about_the_line_leaves_the_cylinder(seed: int, angle: float) -> None:
    """Where "up" is in the two planes does not matter to straightness in space."""
    h, v = np.random.default_rng(seed).normal(0.0, 8.0, (2, N))
    turned = np.cos(angle) * h - np.sin(angle) * v, np.sin(angle) * h + np.cos(angle) * v
    assert spatial_straightness(X, *turned).diameter_um == pytest.approx(
        spatial_straightness(X, h, v).diameter_um, rel=1e-7
    )
