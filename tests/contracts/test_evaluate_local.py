"""Straightness in a sliding window, and heights from angles."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.evaluate import (
    REFERENCES,
    heights_from_slopes,
    heights_from_steps,
    local_straightness,
    straightness,
)
from waywright.wording import text


def test_the_whole_length_as_window_is_the_straightness() -> None:
    x, y = np.arange(9) * 50.0, np.random.default_rng(1).normal(size=9)
    for reference in REFERENCES:
        local = local_straightness(x, y, 400.0, reference)
        assert local.value_um == pytest.approx(straightness(x, y, reference).value_um, abs=1e-12)
        assert (local.start_mm, local.interpolated_start, local.interpolated_end) == (0.0, False, False)
        assert local.windows == 1


def test_a_dip_is_found_where_it_is() -> None:
    x = np.arange(21) * 100.0
    y = np.where(x == 1200.0, -5.0, 0.0)
    local = local_straightness(x, y, 300.0)
    # windows 900-1200 and 1200-1500 have the dip as an end point: (1/3 and 2/3 of 5) no; inside it shows whole
    assert local.value_um == pytest.approx(5.0)
    assert local.start_mm in {1000.0, 1100.0}
    assert local.judged


def test_between_stations_ends_are_interpolated_and_marked() -> None:
    x = np.array([0.0, 30.0, 60.0, 90.0, 130.0, 165.0, 200.0, 230.0])
    y = 0.001 * x**2
    local = local_straightness(x, y, 125.0)
    assert local.judged
    assert local.interpolated_start or local.interpolated_end
    # by hand: the window that starts at s has its ends on the broken line through the stations
    s, e = local.start_mm, local.start_mm + 125.0
    ends = np.interp([s, e], x, y)
    inside = (x > s + 1e-6) & (x < e - 1e-6)
    off = y[inside] - (ends[0] + (x[inside] - s) / 125.0 * (ends[1] - ends[0]))
    assert local.value_um == pytest.approx(max(off.max(), 0.0) - min(off.min(), 0.0), abs=1e-12)


def test_every_window_that_meets_a_station_is_looked_at() -> None:
    x = np.array([0.0, 30.0, 60.0, 90.0, 130.0, 165.0, 200.0, 230.0])
    # starts at 0 30 60 90, ends at 130 165 200 230: starts 5 40 75 105
    assert local_straightness(x, x * 0.0, 125.0).windows == 8


def test_stations_too_far_apart_give_a_reason_and_no_number() -> None:
    x = np.arange(6) * 400.0
    local = local_straightness(x, np.array([0.0, 3.0, 1.0, 4.0, 1.0, 5.0]), 300.0)
    assert not local.judged
    assert local.value_um is None
    assert local.start_mm is None
    assert local.reason is not None
    assert text(local.reason.key, **local.reason.facts) == "not judged: stations every 400 mm, needed 100"


@pytest.mark.parametrize(("spacing_mm", "judged"), [(100.0, True), (100.2, False), (99.0, True)])
def test_a_third_of_the_window_is_just_enough(spacing_mm: float, judged: bool) -> None:
    x = np.arange(12) * spacing_mm
    assert local_straightness(x, x * 0.0, 300.0).judged is judged


def test_one_wide_gap_is_enough_to_judge_nothing() -> None:
    x = np.concatenate([np.arange(6) * 50.0, 550.0 + np.arange(6) * 50.0])
    local = local_straightness(x, x * 0.0, 300.0)
    assert not local.judged
    assert local.spacing_mm == 300.0


@pytest.mark.parametrize("reference", REFERENCES)
def test_draws_are_column_by_column(reference: str) -> None:
    x = np.array([0.0, 20.0, 45.0, 70.0, 90.0, 115.0, 140.0])
    y = np.random.default_rng(5).normal(size=(7, 4))
    together = local_straightness(x, y, 80.0, reference)
    for k in range(4):
        alone = local_straightness(x, y[:, k], 80.0, reference)
        assert together.value_um[k] == pytest.approx(alone.value_um, abs=1e-12)
        assert together.start_mm[k] == alone.start_mm
        assert together.interpolated_end[k] == alone.interpolated_end


def test_a_tilt_and_the_order_of_stations_do_not_matter() -> None:
    x = np.array([0.0, 20.0, 45.0, 70.0, 90.0, 115.0, 140.0])
    y = np.random.default_rng(6).normal(size=7)
    expected = local_straightness(x, y, 80.0).value_um
    assert local_straightness(x[::-1], (y + 4.0 + 0.5 * x)[::-1], 80.0).value_um == pytest.approx(expected, abs=1e-9)


def test_steps_of_a_circle_add_up_to_its_sagitta() -> None:
    """Chord tilts of a parabola z = x^2 / 2R are exact: heights at the feet return exactly."""
    base_mm, radius_m = 250.0, 2000.0
    x = np.arange(9) * base_mm
    z = x**2 / (2.0 * radius_m)  # mm^2 / m = um
    tilt = np.diff(z) / base_mm * 1000.0
    assert heights_from_steps(tilt, base_mm) == pytest.approx(z, abs=1e-9)
    assert heights_from_steps(np.stack([tilt, -tilt], axis=1), base_mm) == pytest.approx(np.stack([z, -z], axis=1))
    assert heights_from_steps(tilt, np.full(8, base_mm)) == pytest.approx(z)


def test_sampled_slopes_of_a_parabola_are_exact_by_the_trapezoid() -> None:
    x = np.array([0.0, 70.0, 200.0, 260.0, 500.0])
    slope_um_per_m = 0.02 * x  # z = 1e-5 x^2 um
    assert heights_from_slopes(x, slope_um_per_m) == pytest.approx(1e-5 * x**2)
    backward = heights_from_slopes(x[::-1], slope_um_per_m[::-1])
    assert backward[-1] == pytest.approx(-1e-5 * 500.0**2)
