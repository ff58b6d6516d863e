"""Twist, squareness, parallelism, positioning, straightedge reversal, the cylinder: invented truth comes back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from waywright.errors import BadInput
from waywright.evaluate import (
    Straightness,
    parallelism,
    positioning,
    spatial_straightness,
    square_reversal,
    squareness,
    straightedge_reversal,
    straightness,
    three_squares,
    twist,
)

X = np.arange(11) * 200.0


def tilted(slope_um_per_m: float, start_mm: float = 0.0, seed: int = 0) -> Straightness:
    x = start_mm + X
    wave = np.sin(x / 300.0 + seed)
    wave -= np.polyval(np.polyfit(x, wave, 1), x)
    return straightness(x, wave + slope_um_per_m * x / 1000.0)


def test_twist_of_a_propeller() -> None:
    result = twist(X, 5.0 + 20.0 * X / 1000.0, gauge_mm=600.0)
    assert result.total_um_per_m == pytest.approx(40.0)
    assert result.end_to_end_um_per_m == pytest.approx(40.0)
    assert result.rate_um_per_m_per_m == pytest.approx(20.0)
    assert result.height_difference_um == pytest.approx(24.0)
    down = twist(X[::-1], 20.0 * X / 1000.0)
    assert (down.total_um_per_m, down.end_to_end_um_per_m) == pytest.approx((40.0, -40.0))
    assert down.height_difference_um is None


def test_a_constant_roll_is_no_twist_and_a_local_one_is_seen() -> None:
    assert twist(X, np.full(11, 80.0)).total_um_per_m == 0.0
    local = twist(X, np.where(X == 1000.0, 30.0, 0.0))
    assert (local.total_um_per_m, local.end_to_end_um_per_m) == (30.0, 0.0)
    draws = twist(X, np.random.default_rng(1).normal(size=(11, 5)), 100.0)
    assert draws.height_difference_um.shape == draws.rate_um_per_m_per_m.shape == (5,)
    with pytest.raises(BadInput, match="above zero"):
        twist(X, X, gauge_mm=0.0)


AXES = {"X": np.array([1.0, 0, 0]), "Y": np.array([0, 1.0, 0]), "Z": np.array([0, 0, 1.0])}
CODES = [
    ("C0Y", "X", "Y", "Z"),
    ("C0X", "Y", "X", "Z"),
    ("A0Z", "Y", "Z", "X"),
    ("A0Y", "Z", "Y", "X"),
    ("B0Z", "X", "Z", "Y"),
    ("B0X", "Z", "X", "Y"),
]


@pytest.mark.parametrize(("code", "first", "second", "about"), CODES)
def test_squareness_has_the_sign_of_a_right_hand_turn(code: str, first: str, second: str, about: str) -> None:
    """Truth as vectors: each axis direction is turned about the third by w (w x direction), then seen as a slope."""
    turn = {first: 7.0, second: -12.0}
    seen = {
        axis: float(np.cross(AXES[about] * turn[axis], AXES[axis]) @ AXES[other])
        for axis, other in ((first, second), (second, first))
    }
    result = squareness(tilted(seen[first]), tilted(seen[second], seed=2), code)
    assert result.value_um_per_m == pytest.approx(turn[second] - turn[first])
    assert (result.first_axis, result.second_axis) == (first, second)
    # the opening from the vectors themselves: cos of the angle between the two turned directions
    one = AXES[first] + 1e-6 * np.cross(AXES[about] * turn[first], AXES[first])
    two = AXES[second] + 1e-6 * np.cross(AXES[about] * turn[second], AXES[second])
    assert result.opening_um_per_m == pytest.approx(-float(one @ two) * 1e6, abs=1e-3)


def test_the_square_s_own_error_and_its_reversal() -> None:
    """A machine opening 10 um/m, a square opening 4: measured on it the slopes make 10 - 4, turned over 10 + 4."""
    machine, square = 10.0, 4.0
    normal = squareness(tilted(-(machine - square)), tilted(0.0), "C0Y")
    turned = squareness(tilted(-(machine + square)), tilted(0.0), "C0Y")
    parts = square_reversal(normal.opening_um_per_m, turned.opening_um_per_m)
    assert (parts.machine_um_per_m, parts.artefact_um_per_m) == pytest.approx((machine, square))
    known = squareness(tilted(-(machine - square)), tilted(0.0), "C0Y", artefact_um_per_m=square)
    assert known.value_um_per_m == pytest.approx(machine)


def test_three_squares_compared_in_pairs() -> None:
    a, b, c = 3.0, -5.0, 11.0
    assert three_squares(a + b, b + c, c + a) == pytest.approx((a, b, c))


@pytest.mark.parametrize("code", ["", "C0Z", "D0Y", "CXY", "C0W", "C0YY"])
def test_codes_that_are_none(code: str) -> None:
    with pytest.raises(BadInput, match="no squareness"):
        squareness(tilted(0.0), tilted(0.0), code)


def test_parallelism_over_the_common_length() -> None:
    result = parallelism(tilted(4.0), tilted(10.0, start_mm=500.0))
    assert result.angle_um_per_m == pytest.approx(6.0)
    assert result.length_mm == pytest.approx(1500.0)
    assert result.over_length_um == pytest.approx(9.0)
    with pytest.raises(BadInput, match="no length"):
        parallelism(tilted(0.0), tilted(0.0, start_mm=5000.0))


def test_positioning_figures_by_hand() -> None:
    """Definitions of ISO 230-2:2014 (formulas from memory); a set made so that each figure can be checked by hand."""
    runs = np.array([-1.0, -1.0, 0.0, 1.0, 1.0])  # mean 0, standard deviation 1
    up = np.array([0.0, 2, 5, 4, 1])[:, None] + np.outer([0.5, 0.5, 1, 0.5, 0.5], runs)
    down = np.array([-2.0, -1, 1, 2, -2])[:, None] + np.outer([0.5, 0.75, 0.5, 0.5, 1], runs)
    r = positioning(np.arange(5) * 100.0, up, down)
    found = (
        r.reversal_um, r.mean_reversal_um, r.repeatability_up_um, r.repeatability_down_um, r.repeatability_um,
        r.systematic_um, r.systematic_up_um, r.systematic_down_um, r.mean_deviation_um,
        r.accuracy_up_um, r.accuracy_down_um, r.accuracy_um,
    )  # fmt: skip
    assert found == pytest.approx((4.0, 2.8, 4.0, 4.0, 7.0, 7.0, 5.0, 4.0, 4.0, 8.0, 7.0, 11.0))


def test_one_run_each_way_has_no_repeatability() -> None:
    r = positioning([0.0, 1000.0, 3000.0], [0.0, 5.0, 9.0], [-1.0, 3.0, 9.0])
    assert (r.repeatability_um, r.accuracy_um, r.accuracy_up_um) == (None, None, None)
    assert (r.reversal_um, r.systematic_um, r.runs) == (2.0, 10.0, 1)
    with pytest.raises(BadInput, match="as many each way"):
        positioning([0.0, 1.0, 2.0], np.zeros((3, 2)), np.zeros((3, 3)))


def test_the_straightedge_and_the_machine_are_separated() -> None:
    random = np.random.default_rng(2)
    machine, edge = random.normal(size=11), random.normal(size=11)
    sag = -0.4 * (X / 1000.0 - 1.0) ** 2
    parts = straightedge_reversal(X, machine + edge + sag, machine - edge + sag, sag)
    assert parts.machine_um == pytest.approx(machine)
    assert parts.straightedge_um == pytest.approx(edge)
    without = straightedge_reversal(X, machine + edge + sag, machine - edge + sag)
    assert without.machine_um == pytest.approx(machine + sag)  # the sag does not turn over with the edge
    many = straightedge_reversal(X, np.stack([machine + edge] * 2, 1), np.stack([machine - edge] * 2, 1))
    assert many.machine_um[:, 1] == pytest.approx(machine)
    with pytest.raises(BadInput, match="same stations and repetitions"):
        straightedge_reversal(X, machine, np.stack([machine] * 2, 1))


@settings(max_examples=60)
@given(st.integers(0, 10_000), st.integers(3, 60), st.floats(0.0, 2 * np.pi))
def test_a_plane_profile_has_its_minimum_zone_as_diameter(seed: int, stations: int, angle: float) -> None:
    """With one plane straight the cylinder is the planar zone, whichever way that plane is turned."""
    random = np.random.default_rng(seed)
    x, y = np.cumsum(random.uniform(50.0, 300.0, stations)), random.normal(size=stations)
    planar = straightness(x, y, "minimum-zone").value_um
    line = 5.0 - 0.003 * x
    assert spatial_straightness(x, y, line).diameter_um == pytest.approx(planar, rel=1e-9, abs=1e-9)
    turned = spatial_straightness(x, y * np.cos(angle) + line, y * np.sin(angle) - 2.0 * line)
    assert turned.diameter_um == pytest.approx(planar, rel=1e-8, abs=1e-9)


@settings(max_examples=20)
@given(st.integers(0, 10_000), st.integers(4, 25))
def test_the_cylinder_equals_a_general_solver(seed: int, stations: int) -> None:
    """Sequential quadratic programming (SLSQP) on the epigraph, several starts."""
    random = np.random.default_rng(seed)
    u, h, v = np.sort(random.uniform(-1, 1, stations)), random.normal(size=stations), random.normal(size=stations)

    def squared(p: np.ndarray) -> np.ndarray:
        return np.asarray((h - p[0] - p[1] * u) ** 2 + (v - p[2] - p[3] * u) ** 2)

    best = np.inf
    for _ in range(3):
        start = np.append(random.normal(size=4) * 0.1, 0.0)
        start[4] = squared(start).max()
        found = minimize(
            lambda p: p[4],
            start,
            jac=lambda p: np.array([0.0, 0, 0, 0, 1]),
            constraints={"type": "ineq", "fun": lambda p: p[4] - squared(p)},
            method="SLSQP",
            options={"ftol": 1e-14, "maxiter": 500},
        )
        best = min(best, float(np.sqrt(squared(found.x).max())))
    diameter = spatial_straightness(u * 1000.0, h, v).diameter_um
    assert diameter == pytest.approx(2.0 * best, rel=1e-5)
    assert diameter <= 2.0 * best * (1.0 + 1e-9)


def test_a_helix_lies_on_its_cylinder() -> None:
    turns = np.linspace(0.0, 6 * np.pi, 61)
    result = spatial_straightness(turns * 100.0, 7.0 + 3.0 * np.cos(turns), 3.0 * np.sin(turns) - 0.01 * turns * 100.0)
    assert result.diameter_um == pytest.approx(6.0, rel=0.02)  # three turns end where the axis can still tip a little
    assert result.vertical.slope_um_per_m == pytest.approx(-10.0, abs=0.5)


def test_the_axis_belongs_to_the_diameter() -> None:
    random = np.random.default_rng(3)
    h, v = random.normal(size=(2, 11))
    result = spatial_straightness(X, h, v)
    away = np.hypot(h - result.horizontal.at(X), v - result.vertical.at(X))
    assert 2.0 * away.max() == pytest.approx(result.diameter_um)
    draws = spatial_straightness(X, np.stack([h, 2 * h], 1), np.stack([v, 2 * v], 1))
    assert draws.diameter_um == pytest.approx([result.diameter_um, 2 * result.diameter_um])
    assert spatial_straightness(X, 0 * X, X).diameter_um == pytest.approx(0.0, abs=1e-9)


def test_many_stations_go_the_same_way() -> None:
    random = np.random.default_rng(4)
    x = np.linspace(0.0, 5000.0, 20_000)
    angle, radius = random.uniform(0, 2 * np.pi, x.size), np.sqrt(random.uniform(0, 1, x.size))
    h, v = radius * np.cos(angle), radius * np.sin(angle)
    diameter = spatial_straightness(x, h, v).diameter_um
    assert 1.98 < diameter <= 2.0
    assert spatial_straightness(x, h * 1e-3, v * 1e-3).diameter_um == pytest.approx(diameter * 1e-3, rel=1e-9)
