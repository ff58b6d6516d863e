"""What must hold for any readings: units, offsets and signs change nothing but themselves."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waywright.guard import (
    Circumstances,
    Detector,
    Figure,
    KnownMove,
    Mounting,
    Outcome,
    Seen,
    Wish,
    alignment,
    challenge_bow,
    direction_test,
    generalized_esd,
    overlapping_deviation,
    plan_effort,
)
from waywright.quantities import Direction

FINITE = st.floats(-1e3, 1e3)


@given(st.integers(0, 10_000), st.integers(1, 12), st.floats(0.01, 100.0), FINITE)
def test_allan_deviation_scales_and_forgets_the_offset(seed: int, factor: int, scale: float, offset: float) -> None:
    y = np.random.default_rng(seed).normal(size=64)
    plain = overlapping_deviation(y, factor)
    assert overlapping_deviation(scale * y + offset, factor) == pytest.approx(scale * plain, rel=1e-6, abs=1e-9)
    assert overlapping_deviation(y[::-1], factor) == pytest.approx(plain, rel=1e-9)


@given(st.integers(0, 10_000), FINITE, st.floats(0.1, 50.0), st.integers(0, 19))
def test_outliers_do_not_depend_on_unit_offset_or_order(seed: int, offset: float, scale: float, moved: int) -> None:
    y = np.random.default_rng(seed).normal(size=20)
    y[moved] += 9.0
    turned = np.roll(np.arange(20), moved)
    plain = set(generalized_esd(y, 4, 0.01).found.tolist())
    changed = {int(turned[k]) for k in generalized_esd((scale * y + offset)[turned], 4, 0.01).found}
    assert changed == plain


@given(st.floats(-180.0, 180.0), st.booleans(), st.floats(50.0, 500.0))
def test_any_mounting_is_told_or_not_resolved_but_never_told_wrong(turn: float, mirror: bool, size: float) -> None:
    """A detector turned by any angle, perhaps mirrored: its nearest quarter is named, or nothing is."""
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    mounted = np.array([[c, -s], [s, c]]) @ np.diag([1.0, -1.0 if mirror else 1.0])
    zero = Seen(0.0, 0.0, 0.2)
    moves = [
        KnownMove(way, size, 1.0, zero, Seen(*(float(v) for v in size * (mounted @ unit)), 0.2), seating_um=0.5)
        for way, unit in ((Direction.UP, np.array([1.0, 0.0])), (Direction.TOWARDS, np.array([0.0, 1.0])))
    ]
    found = direction_test(moves, (Direction.UP, Direction.TOWARDS))
    if found.channels is None:
        quarter = abs((turn % 90.0) - 45.0)
        assert quarter < 5.0
        return
    strongest = [int(np.abs(row).argmax()) for row in mounted]
    signs = [bool(row[k] > 0) for row, k in zip(mounted, strongest, strict=True)]
    names = [(Direction.DOWN, Direction.UP), (Direction.AWAY, Direction.TOWARDS)]
    assert found.channels == tuple(names[k][int(sign)] for k, sign in zip(strongest, signs, strict=True))
    if found.mounting is Mounting.AS_DESCRIBED and found.roll_deg is not None:
        assert found.roll_deg == pytest.approx(turn, abs=0.1)
    assert (found.outcome is Outcome.PASSED) <= (abs(turn) < 2.0 and not mirror)


@given(st.floats(-500, 500), st.floats(-80, 80), st.lists(st.floats(0.2, 20.0), min_size=2, max_size=6, unique=True))
def test_alignment_undoes_any_lie(offset: float, slope: float, distance: list[float]) -> None:
    d = np.array(sorted(distance))
    if np.ptp(d) < 0.5:
        return
    found = alignment(d, -(offset + slope * d), detector=Detector((-5000.0, 5000.0)), tolerance_um=40.0)
    after = -(offset + found.shift_um + (slope + found.tilt_um_per_m) * d)
    assert np.abs(after).max() < 1e-6
    assert found.predicted_um < 1e-6


@given(FINITE, st.floats(1.0, 40.0), st.floats(-2.0, 2.0), st.floats(-1.0, 1.0))
def test_a_bow_is_the_sum_of_what_explains_it_and_what_remains(bow: float, length: float, k: float, g: float) -> None:
    around = Circumstances(height_m=0.8, top_minus_foot_k=Figure(k, 0.1), gradient_k_per_m=Figure(g, 0.1))
    found = challenge_bow(bow, length, tolerance_um=40.0, error_um=0.5, circumstances=around)
    assert found.explained_um + found.remaining_um == pytest.approx(bow, abs=1e-9)
    assert found.explained_um == pytest.approx(sum(one.bow_um for one in found.imitations), abs=1e-9)
    reaches = [one.reach_um for one in found.imitations]
    assert reaches == sorted(reaches, reverse=True)


@given(
    st.floats(500.0, 20_000.0),
    st.lists(st.floats(0.0, 20_000.0), max_size=12, unique=True),
    st.none() | st.floats(100.0, 2000.0),
)
def test_stations_cover_the_travel_in_steps_that_every_rule_allows(
    length: float, supports: list[float], window: float | None
) -> None:
    found = plan_effort(Wish(0.0, length, 40.0, 1.0, 0.1, supports_mm=tuple(supports), window_mm=window))
    steps = np.diff(found.stations_mm)
    assert (found.stations_mm[0], found.stations_mm[-1]) == (0.0, length)
    assert (steps > 0).all()
    assert steps.max() <= found.step_mm + 0.2  # places are rounded to a tenth of a millimetre
    assert found.step_mm <= length / 10 + 1e-9
    if window is not None:
        assert found.step_mm <= window / 3 + 1e-9
