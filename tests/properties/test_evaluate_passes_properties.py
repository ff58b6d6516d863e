"""What must hold for any passes and segments: datum, unit, order, a mirrored axis."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waywright.evaluate.anomalies import check_passes
from waywright.evaluate.drift import estimate_drift, remove_drift
from waywright.evaluate.passes import Traverse, join_passes
from waywright.evaluate.segments import Segment, join_segments

few = settings(max_examples=40, deadline=None)
seeds = st.integers(0, 2**32 - 1)


def made_passes(seed: int, stations: int, directions: str) -> list[Traverse]:
    rng = np.random.default_rng(seed)
    shape = rng.normal(0, 5, stations).cumsum()
    base = np.sort(rng.choice(np.arange(40) * 250.0, stations, replace=False))
    found, began = [], 0.0
    for letter in directions:
        x = base + rng.uniform(-20, 20, stations)
        order = slice(None) if letter == "F" else slice(None, None, -1)
        time = began + np.arange(stations) * rng.uniform(5, 20)
        began = float(time[-1]) + 60
        y = (shape + rng.normal(0, 0.5, stations))[order]
        sd = rng.uniform(0.3, 0.6, stations)
        found.append(Traverse(x[order], y, "forward" if letter == "F" else "backward", time, sd))
    return found


def changed(passes: list[Traverse], change: Callable[[np.ndarray, np.ndarray], np.ndarray]) -> list[Traverse]:
    return [replace(one, value=change(np.asarray(one.position_mm), np.asarray(one.value))) for one in passes]


directions = st.sampled_from(["FB", "FF", "FBF", "FBFB", "BFB"])


@few
@given(seeds, st.integers(8, 20), directions, st.floats(-1e4, 1e4), st.floats(-1.0, 1.0))
def test_a_common_datum_changes_neither_reversal_nor_drift_nor_findings(
    seed: int, stations: int, ways: str, offset: float, tilt: float
) -> None:
    passes = made_passes(seed, stations, ways)
    moved = changed(passes, lambda x, y: y + offset + tilt * x)
    before, after = join_passes(passes), join_passes(moved)
    assert after.reversal == pytest.approx(before.reversal, abs=1e-6, nan_ok=True)
    assert after.repeatability == pytest.approx(before.repeatability, abs=1e-6, nan_ok=True)
    assert after.mean == pytest.approx(before.mean + offset + tilt * before.position_mm, abs=1e-6)
    one, other = estimate_drift(passes), estimate_drift(moved)
    assert other.separable == one.separable
    assert other.angle_per_h == pytest.approx(one.angle_per_h, rel=1e-6, abs=1e-5)


@few
@given(seeds, st.integers(8, 20), directions)
def test_the_order_of_stations_and_passes_does_not_matter(seed: int, stations: int, ways: str) -> None:
    passes = made_passes(seed, stations, ways)
    before, after = join_passes(passes), join_passes(passes[::-1])
    assert after.mean == pytest.approx(before.mean)
    assert after.reversal == pytest.approx(before.reversal, nan_ok=True)
    one, other = estimate_drift(passes), estimate_drift(passes[::-1])
    assert other.offset_per_h == pytest.approx(one.offset_per_h, rel=1e-6, abs=1e-6, nan_ok=True)


@few
@given(seeds, st.integers(8, 20), directions, st.sampled_from([1e-3, 25.4, 1e3]))
def test_another_unit_scales_everything(seed: int, stations: int, ways: str, factor: float) -> None:
    passes = made_passes(seed, stations, ways)
    scaled = [
        replace(one, value=one.value * factor, standard_deviation=one.standard_deviation * factor) for one in passes
    ]
    assert join_passes(scaled).mean == pytest.approx(join_passes(passes).mean * factor)
    one, other = estimate_drift(passes), estimate_drift(scaled)
    assert other.angle_per_h == pytest.approx(one.angle_per_h * factor, rel=1e-6, nan_ok=True)
    assert other.covariance == pytest.approx(one.covariance * factor**2, rel=1e-6, nan_ok=True)
    before, after = check_passes(passes), check_passes(scaled)
    assert [each.kinds for each in after.found] == [each.kinds for each in before.found]
    assert after.noise == pytest.approx(before.noise * factor, nan_ok=True)


@few
@given(seeds, st.integers(8, 20), directions)
def test_a_mirrored_axis_mirrors_the_result(seed: int, stations: int, ways: str) -> None:
    passes = made_passes(seed, stations, ways)
    mirrored = [replace(one, position_mm=10_000.0 - np.asarray(one.position_mm)) for one in passes]
    before, after = join_passes(passes), join_passes(mirrored)
    assert after.position_mm.size == before.position_mm.size
    assert after.mean == pytest.approx(before.mean[::-1])
    one, other = estimate_drift(passes, source_mm=0.0), estimate_drift(mirrored, source_mm=10_000.0)
    assert other.offset_per_h == pytest.approx(one.offset_per_h, rel=1e-6, abs=1e-6, nan_ok=True)
    assert other.angle_per_h == pytest.approx(-one.angle_per_h, rel=1e-6, abs=1e-6, nan_ok=True)


@few
@given(seeds, st.floats(-200, 200), st.floats(-200, 200))
def test_any_even_drift_is_found_beside_any_profile_and_any_reversal(seed: int, offset: float, angle: float) -> None:
    passes = [replace(one, position_mm=np.asarray(one.position_mm)) for one in made_passes(seed, 12, "FBF")]
    before = estimate_drift(passes, source_mm=0.0)
    added = [
        replace(one, value=one.value + (offset + angle * one.position_mm / 1000) * one.time_s / 3600) for one in passes
    ]
    after = estimate_drift(added, source_mm=0.0)
    # times are interpolated between stations as values are: a product of the two is not, to a small part
    assert after.offset_per_h - before.offset_per_h == pytest.approx(
        offset, abs=0.02 * (abs(offset) + abs(angle)) + 1e-6
    )
    assert after.angle_per_h - before.angle_per_h == pytest.approx(angle, abs=0.02 * (abs(offset) + abs(angle)) + 1e-6)
    again = estimate_drift(remove_drift(passes, before), source_mm=0.0)
    assert again.offset_per_h == pytest.approx(0.0, abs=0.02 * (abs(before.offset_per_h) + abs(before.angle_per_h)))


@few
@given(
    seeds, st.integers(2, 5), st.lists(st.tuples(st.floats(-500, 500), st.floats(-0.5, 0.5)), min_size=5, max_size=5)
)
def test_segments_come_back_whatever_their_offsets_and_tilts(
    seed: int, count: int, frames: list[tuple[float, float]]
) -> None:
    """Stations in common: nothing is interpolated, so the profile is exact."""
    rng = np.random.default_rng(seed)
    shared = int(rng.integers(2, 6))
    x = np.arange(count * 8) * 200.0
    truth = rng.normal(0, 20, x.size).cumsum()
    parts = [slice(max(8 * k - (shared if k else 0), 0), 8 * k + 8) for k in range(count)]
    given_segments = [
        Segment(x[part], truth[part] - offset - tilt * x[part])
        for part, (offset, tilt) in zip(parts, frames, strict=False)
    ]
    joined = join_segments(given_segments)
    offset, tilt = frames[0]
    assert joined.position_mm == pytest.approx(x)
    assert joined.value_um == pytest.approx(truth - offset - tilt * x, abs=1e-6)
    assert all(each.rms_um < 1e-7 for each in joined.overlaps)
