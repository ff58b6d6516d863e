"""Network of slope lines and flatness: invented surfaces come back, closures show what does not close."""

from __future__ import annotations

import importlib

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from waywright.errors import BadInput
from waywright.evaluate import SlopeLine, flatness, heights_from_network

BASE = 250.0
DIAGONAL = np.hypot(300.0, 400.0)


def surface(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """An invented surface in um: bow, twist and a dent."""
    return 8e-6 * x**2 - 5e-6 * x * y + 3.0 * np.exp(-((x - 600.0) ** 2 + (y - 300.0) ** 2) / 2e4)


def line(start: tuple[float, float], end: tuple[float, float], steps: int) -> SlopeLine:
    """A line over the invented surface, every step read without error."""
    share = np.linspace(0.0, 1.0, steps + 1)
    x, y = start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
    base = float(np.hypot(end[0] - start[0], end[1] - start[1])) / steps
    return SlopeLine(start, end, np.diff(surface(x, y)) / base * 1000.0, base)


def union_of_lines() -> list[SlopeLine]:
    """Sides, both diagonals and both middle lines of 1200 by 800 mm: the eight lines of a surface plate."""
    a, b, c, d = (0.0, 0.0), (1200.0, 0.0), (1200.0, 800.0), (0.0, 800.0)
    sides = [line(a, b, 6), line(d, c, 6), line(a, d, 4), line(b, c, 4)]
    across = [
        line(a, c, 4),
        line(b, d, 4),
        line((0.0, 400.0), (1200.0, 400.0), 6),
        line((600.0, 0.0), (600.0, 800.0), 4),
    ]
    return sides + across


def test_a_surface_comes_back_from_its_slopes() -> None:
    found = heights_from_network(union_of_lines(), BASE)
    true = surface(found.x_mm, found.y_mm)
    assert found.height_um == pytest.approx(true - true[0], abs=1e-9)
    assert found.closure_um == pytest.approx(np.zeros(8), abs=1e-9)
    assert found.degrees_of_freedom == 38 - (len(true) - 1)


def test_with_a_zero_for_each_line_all_but_the_general_tilt_comes_back() -> None:
    zeros = np.array([3.0, -8.0, 1.0, 0.5, 40.0, -2.0, 9.0, 7.0])
    lines = [
        SlopeLine(one.start_mm, one.towards_mm, np.asarray(one.tilt_um_per_m) + zero, one.base_mm)
        for one, zero in zip(union_of_lines(), zeros, strict=True)
    ]
    found = heights_from_network(lines, BASE, own_zero=True)
    true = surface(found.x_mm, found.y_mm)
    plane = np.column_stack([np.ones_like(true), found.x_mm, found.y_mm])
    difference = found.height_um - true
    left = difference - plane @ np.linalg.lstsq(plane, difference, rcond=None)[0]
    assert left == pytest.approx(np.zeros_like(true), abs=1e-8)
    assert flatness(found.x_mm, found.y_mm, found.height_um).value_um == pytest.approx(
        flatness(found.x_mm, found.y_mm, true).value_um, abs=1e-8
    )


def test_a_square_that_does_not_close_is_shared_by_its_sides() -> None:
    """By hand: four sides of one step; the sum round the loop misses by 4 um, so each side gives a quarter."""
    tilt = 1000.0 / BASE  # one um over the base
    corners = [(0.0, 0.0), (BASE, 0.0), (BASE, BASE), (0.0, BASE)]
    lines = [SlopeLine(corners[k], corners[(k + 1) % 4], [tilt]) for k in range(4)]
    found = heights_from_network(lines, BASE)
    assert found.closure_um == pytest.approx(np.ones(4))
    assert found.height_um == pytest.approx(np.zeros(4), abs=1e-12)
    assert found.residual_sd_um == pytest.approx(2.0)  # four residuals of 1, one degree of freedom


def test_draws_are_column_by_column() -> None:
    random = np.random.default_rng(3)
    lines = union_of_lines()
    noisy = [
        SlopeLine(
            one.start_mm,
            one.towards_mm,
            np.asarray(one.tilt_um_per_m)[:, None] + random.normal(size=(len(np.asarray(one.tilt_um_per_m)), 3)),
            one.base_mm,
        )
        for one in lines
    ]
    together = heights_from_network(noisy, BASE)
    for k in range(3):
        alone = heights_from_network(
            [
                SlopeLine(one.start_mm, one.towards_mm, np.asarray(one.tilt_um_per_m)[:, k], one.base_mm)
                for one in noisy
            ],
            BASE,
        )
        assert together.height_um[:, k] == pytest.approx(alone.height_um, abs=1e-9)
        assert together.closure_um[:, k] == pytest.approx(alone.closure_um, abs=1e-9)


def test_the_standard_errors_are_those_of_a_simulation() -> None:
    random = np.random.default_rng(4)
    lines = union_of_lines()
    many = [
        SlopeLine(
            one.start_mm,
            one.towards_mm,
            random.normal(size=(len(np.asarray(one.tilt_um_per_m)), 4000)) * 1000.0 / float(one.base_mm or BASE),
            one.base_mm,
        )
        for one in lines
    ]  # each height step has noise of 1 um
    found = heights_from_network(many, BASE)
    expected = np.sqrt((found.standard_error_um**2).mean(axis=1))
    assert found.height_um.std(axis=1)[1:] == pytest.approx(expected[1:], rel=0.06)


def test_a_network_that_does_not_hang_together_names_the_line() -> None:
    lines = [SlopeLine((0.0, 0.0), (1.0, 0.0), [1.0, 2.0]), SlopeLine((0.0, 900.0), (1.0, 900.0), [1.0])]
    with pytest.raises(BadInput, match="Line 2 does not meet"):
        heights_from_network(lines, BASE)
    with pytest.raises(BadInput, match="Step 2 of line 1"):
        heights_from_network([SlopeLine((0.0, 0.0), (1.0, 0.0), [1.0, np.nan])], BASE)
    with pytest.raises(BadInput, match="at least one line"):
        heights_from_network([], BASE)


def minimum_by_search(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> float:
    """An independent way to the minimum zone: every plane through three points, and every pair of parallel edges.

    At the optimum either three points carry one plane and one the other, or two carry each.
    """
    from itertools import combinations

    best = np.inf
    for i, j, k in combinations(range(z.size), 3):
        m = np.array([[x[j] - x[i], y[j] - y[i]], [x[k] - x[i], y[k] - y[i]]])
        if abs(np.linalg.det(m)) > 1e-9:
            a, b = np.linalg.solve(m, [z[j] - z[i], z[k] - z[i]])
            best = min(best, np.ptp(z - a * x - b * y))
    for (i, j), (k, m_) in combinations(combinations(range(z.size), 2), 2):
        m = np.array([[x[j] - x[i], y[j] - y[i]], [x[m_] - x[k], y[m_] - y[k]]])
        if abs(np.linalg.det(m)) > 1e-9:
            a, b = np.linalg.solve(m, [z[j] - z[i], z[m_] - z[k]])
            best = min(best, np.ptp(z - a * x - b * y))
    return float(best)


@pytest.mark.parametrize("all_at_once", [0, 500])
@settings(max_examples=25)
@given(seed=st.integers(0, 10_000), points=st.integers(4, 9))
def test_the_minimum_zone_plane_equals_a_search_over_all_contacts(all_at_once: int, seed: int, points: int) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(importlib.import_module("waywright.evaluate.flatness"), "_ALL_AT_ONCE", all_at_once)
        compare_with_search(seed, points)


def compare_with_search(seed: int, points: int) -> None:
    random = np.random.default_rng(seed)
    x, y, z = random.uniform(0, 1, points), random.uniform(0, 1, points), random.normal(size=points)
    found = flatness(x * 900.0, y * 600.0, z)
    assert found.value_um == pytest.approx(minimum_by_search(x, y, z), abs=1e-9)
    assert np.ptp(found.deviation_um) == pytest.approx(found.value_um, abs=1e-12)
    assert found.largest_um == pytest.approx(-found.smallest_um, abs=1e-9)


@given(st.integers(0, 1000), st.floats(-50, 50), st.floats(-50, 50))
def test_a_tilt_of_the_surface_changes_nothing(seed: int, along_x: float, along_y: float) -> None:
    random = np.random.default_rng(seed)
    x, y = (grid.ravel() for grid in np.meshgrid(np.arange(5) * 100.0, np.arange(4) * 150.0))
    z = random.normal(size=x.size)
    tilted = z + 3.0 + along_x * x / 1000.0 + along_y * y / 1000.0
    for reference, through in [("minimum-zone", None), ("least-squares", None), ("three-points", (0, 4, 15))]:
        before, after = (flatness(x, y, height, reference, through) for height in (z, tilted))
        assert after.value_um == pytest.approx(before.value_um, abs=1e-8)
        if reference != "minimum-zone":
            assert after.plane.slope_x_um_per_m - before.plane.slope_x_um_per_m == pytest.approx(along_x, abs=1e-7)
            assert after.plane.slope_y_um_per_m - before.plane.slope_y_um_per_m == pytest.approx(along_y, abs=1e-7)
        assert flatness(x, y, z).value_um <= before.value_um + 1e-9


def test_shapes_whose_flatness_is_known() -> None:
    x, y = (grid.ravel() for grid in np.meshgrid(np.linspace(-1, 1, 21), np.linspace(-1, 1, 21)))
    assert flatness(x, y, 5.0 * x**2).value_um == pytest.approx(5.0)  # a cylinder
    assert flatness(x, y, 5.0 * (x**2 + y**2)).value_um == pytest.approx(10.0)  # a bowl: rim corners and middle
    assert flatness(x, y, 3.0 * x * y).value_um == pytest.approx(6.0)  # pure twist
    assert flatness(x, y, np.zeros_like(x)).value_um == 0.0
    assert flatness(x, y, 7.0 + 2.0 * x - y).value_um == pytest.approx(0.0, abs=1e-12)


def test_a_large_cloud_agrees_with_the_programme_on_all_points() -> None:
    from scipy.optimize import linprog

    random = np.random.default_rng(8)
    x, y, z = random.uniform(-1, 1, 3000), random.uniform(-1, 1, 3000), random.normal(size=3000)
    rows = np.column_stack([np.ones(3000), x, y])
    one = np.ones((3000, 1))
    whole = linprog([0, 0, 0, 1], np.block([[rows, -one], [-rows, -one]]), np.r_[z, -z], bounds=[(None, None)] * 4)
    assert flatness(x, y, z).value_um == pytest.approx(2.0 * whole.fun, abs=1e-6)


def test_flatness_of_draws_is_column_by_column() -> None:
    random = np.random.default_rng(9)
    x, y, z = random.uniform(0, 900, 12), random.uniform(0, 600, 12), random.normal(size=(12, 3))
    for reference, through in [("minimum-zone", None), ("least-squares", None), ("three-points", (0, 1, 2))]:
        together = flatness(x, y, z, reference, through)
        for k in range(3):
            assert together.value_um[k] == pytest.approx(flatness(x, y, z[:, k], reference, through).value_um, abs=1e-9)


def test_flatness_refusals() -> None:
    x = np.arange(4.0)
    with pytest.raises(BadInput, match="lie on one line"):
        flatness(x, 2.0 * x, np.zeros(4))
    with pytest.raises(BadInput, match="three different ones"):
        flatness(x, x**2, np.zeros(4), "three-points")
    with pytest.raises(BadInput, match="no reference"):
        flatness(x, x**2, np.zeros(4), "given")


def test_minimize_is_no_better() -> None:
    """A general optimiser, started at the plane found, finds nothing lower."""
    random = np.random.default_rng(10)
    x, y, z = random.uniform(-1, 1, 40), random.uniform(-1, 1, 40), random.normal(size=40)
    found = flatness(x, y, z)
    start = [found.plane.slope_x_um_per_m / 1000.0, found.plane.slope_y_um_per_m / 1000.0]
    best = minimize(lambda p: np.ptp(z - p[0] * x - p[1] * y), start, method="Nelder-Mead", options={"xatol": 1e-10})
    assert best.fun >= found.value_um - 1e-9
