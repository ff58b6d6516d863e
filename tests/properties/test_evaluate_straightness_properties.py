"""What must hold for any profile, whatever its shape."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from waywright.evaluate import REFERENCES, ReferenceLine, straightness, straightness_by_reference

Profile = tuple[np.ndarray, np.ndarray]

micrometres = st.floats(-500.0, 500.0, allow_nan=False).map(lambda v: round(v, 3))


@st.composite
def profiles(draw: st.DrawFn) -> Profile:
    """3 to 40 stations up to 10 m, spaced 1 mm at least, deviations of up to half a millimetre."""
    x = draw(st.lists(st.integers(0, 10_000), min_size=3, max_size=40, unique=True))
    y = draw(st.lists(micrometres, min_size=len(x), max_size=len(x)))
    return np.sort(np.array(x, dtype=float)), np.array(y)


references = st.sampled_from(REFERENCES)


@given(profiles(), references, st.floats(-1e5, 1e5), st.floats(-1e3, 1e3))
def test_offset_and_tilt_leave_value_and_deviations(
    profile: Profile, reference: str, offset_um: float, tilt_um_per_m: float
) -> None:
    x, y = profile
    before = straightness(x, y, reference)
    after = straightness(x, y + offset_um + tilt_um_per_m * x / 1000.0, reference)
    assert after.value_um == pytest.approx(before.value_um, abs=1e-8)
    if reference != "minimum-zone":  # where several directions are equally good, another may be taken
        moved_um_per_m = after.line.slope_um_per_m - before.line.slope_um_per_m
        assert moved_um_per_m == pytest.approx(tilt_um_per_m, abs=1e-5)
        assert after.deviation_um == pytest.approx(before.deviation_um, abs=1e-8)


@given(profiles(), references)
def test_reversing_the_traverse_or_the_sign_leaves_the_value(profile: Profile, reference: str) -> None:
    x, y = profile
    value = straightness(x, y, reference).value_um
    assert straightness(10_000.0 - x[::-1], y[::-1], reference).value_um == pytest.approx(value, abs=1e-9)
    turned = straightness(x, -y, reference)
    assert turned.value_um == pytest.approx(value, abs=1e-9)


@given(profiles(), references, st.sampled_from([1e-3, 1 / 25.4, 25.4, 1e3]))
def test_a_change_of_unit_scales_the_value(profile: Profile, reference: str, factor: float) -> None:
    x, y = profile
    value = straightness(x, y, reference).value_um
    assert straightness(x, y * factor, reference).value_um == pytest.approx(value * factor, rel=1e-9, abs=1e-9)
    assert straightness(x * factor, y, reference).value_um == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(profiles(), references, st.randoms(use_true_random=False))
def test_the_order_of_the_stations_does_not_matter(profile: Profile, reference: str, random: object) -> None:
    x, y = profile
    order = list(range(x.size))
    random.shuffle(order)  # type: ignore[attr-defined]
    sorted_result, shuffled = straightness(x, y, reference), straightness(x[order], y[order], reference)
    assert shuffled.value_um == pytest.approx(sorted_result.value_um, abs=1e-9)
    assert shuffled.deviation_um == pytest.approx(sorted_result.deviation_um[order], abs=1e-9)


@given(profiles())
def test_the_minimum_zone_is_the_smallest(profile: Profile) -> None:
    by = straightness_by_reference(*profile)
    least = by["minimum-zone"].value_um
    assert least <= by["least-squares"].value_um + 1e-9
    assert least <= by["end-points"].value_um + 1e-9


def by_linear_programme(x: np.ndarray, y: np.ndarray) -> float:
    """Smallest 2 t with |y - a - b u| <= t, solved by HiGHS; u is the position scaled to -1 to 1."""
    u = 2.0 * (x - x.min()) / (x.max() - x.min()) - 1.0
    one = np.ones_like(u)
    rows = np.block([[one[:, None], u[:, None], -one[:, None]], [-one[:, None], -u[:, None], -one[:, None]]])
    result = linprog([0, 0, 1], A_ub=rows, b_ub=np.r_[y, -y], bounds=[(None, None)] * 3, method="highs")
    assert result.success
    return 2.0 * float(result.fun)


@settings(deadline=None)
@given(profiles())
def test_the_minimum_zone_equals_an_independent_linear_programme(profile: Profile) -> None:
    x, y = profile
    # HiGHS works to 1e-7 of feasibility
    assert straightness(x, y, "minimum-zone").value_um == pytest.approx(by_linear_programme(x, y), abs=1e-5)


@given(profiles(), references)
def test_value_deviations_and_line_belong_together(profile: Profile, reference: str) -> None:
    x, y = profile
    result = straightness(x, y, reference)
    off = result.deviation_um
    assert off.max() == result.largest_um
    assert off.min() == result.smallest_um
    assert result.value_um == result.largest_um - result.smallest_um
    assert off == pytest.approx(y - result.line.at(x), abs=1e-7)
    again = straightness(x, y, line=result.line)
    assert again.reference == "given"
    assert again.value_um == pytest.approx(result.value_um, abs=1e-7)


@given(profiles(), references)
def test_the_input_is_untouched(profile: Profile, reference: str) -> None:
    x, y = profile
    x, y = x[::-1].copy(), y[::-1].copy()
    before = x.copy(), y.copy()
    result = straightness(x, y, reference)
    assert np.array_equal(x, before[0])
    assert np.array_equal(y, before[1])
    kept = result.deviation_um
    y += 1.0  # the record has its own numbers
    assert np.array_equal(result.deviation_um, kept)


@given(st.integers(1, 20), st.floats(0.01, 100.0), st.floats(-0.05, 0.05), st.booleans())
def test_a_parabola_about_its_vertex_is_the_same_for_all_lines(
    half: int, spacing_mm: float, curvature: float, with_middle: bool
) -> None:
    steps = np.arange(1, half + 1) if not with_middle else np.arange(0, half + 1)
    u = np.unique(np.concatenate([-steps, steps])).astype(float)
    if u.size < 3:
        return
    y = curvature * u**2
    values = [straightness(5_000.0 + u * spacing_mm, y, reference).value_um for reference in REFERENCES]
    expected = abs(curvature) * (u.max() ** 2 - np.abs(u).min() ** 2)
    assert values == pytest.approx([expected] * 3, rel=1e-9, abs=1e-12)


@settings(max_examples=40)
@given(profiles(), references, st.integers(1, 5), st.integers(0, 1000))
def test_the_draws_axis_is_column_by_column(profile: Profile, reference: str, draws: int, seed: int) -> None:
    x, y = profile
    many = y[:, None] + np.random.default_rng(seed).normal(size=(x.size, draws))
    together = straightness(x, many, reference)
    assert together.value_um.shape == (draws,)
    assert together.deviation_um.shape == many.shape
    for k in range(draws):
        alone = straightness(x, many[:, k], reference)
        assert together.value_um[k] == pytest.approx(alone.value_um, abs=1e-9)
        assert together.line.offset_um[k] == pytest.approx(alone.line.offset_um, abs=1e-6)
        assert together.line.slope_um_per_m[k] == pytest.approx(alone.line.slope_um_per_m, abs=1e-6)
        assert together.deviation_um[:, k] == pytest.approx(alone.deviation_um, abs=1e-9)


@given(profiles(), st.lists(micrometres, min_size=1, max_size=3))
def test_several_readings_at_one_position_are_a_set_of_points(profile: Profile, more: list[float]) -> None:
    """A second reading inside the zone changes nothing; one outside widens it as the linear programme says."""
    x, y = profile
    x_more, y_more = np.append(x, [x[1]] * len(more)), np.append(y, more)
    value = straightness(x_more, y_more, "minimum-zone").value_um
    assert value == pytest.approx(by_linear_programme(x_more, y_more), abs=1e-5)
    assert value >= straightness(x, y, "minimum-zone").value_um - 1e-9


@given(profiles(), st.floats(-100, 100), st.floats(-100, 100))
def test_about_a_given_line_the_deviations_are_the_difference(profile: Profile, offset: float, slope: float) -> None:
    x, y = profile
    result = straightness(x, y, line=ReferenceLine(offset, slope))
    assert result.deviation_um == pytest.approx(y - offset - slope * x / 1000.0, abs=1e-9)
