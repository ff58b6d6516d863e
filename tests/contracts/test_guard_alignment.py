"""Alignment of a beam: the source moved as told makes the readings vanish; limits by table and by rule."""

from __future__ import annotations

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import Adjuster, Detector, Linearity, Ready, alignment, steering_step
from waywright.wording import text

WIDE = Detector((-2500.0, 2500.0))


def readings(
    distance_m: np.ndarray, beam_um: float, beam_um_per_m: float, bed_um: np.ndarray | float = 0.0
) -> np.ndarray:
    """Detector against a beam that leaves the source ``beam_um`` high and rises."""
    return bed_um - (beam_um + beam_um_per_m * distance_m)


@pytest.mark.parametrize(("offset", "slope"), [(164.0, 14.0), (-92.0, -9.0), (0.0, 200.0)])
def test_the_source_moved_as_told_reads_zero_near_and_far(offset: float, slope: float) -> None:
    d = np.array([0.4, 5.6])
    found = alignment(d, readings(d, offset, slope), detector=WIDE, tolerance_um=40.0)
    after = readings(d, offset + found.shift_um, slope + found.tilt_um_per_m)
    assert after == pytest.approx([0.0, 0.0], abs=1e-9)
    assert (found.near_um, found.far_um) == pytest.approx(tuple(readings(d, offset, slope)))


def test_turns_of_the_sources_own_screws() -> None:
    d = np.array([0.4, 5.6])
    screws = Adjuster(shift_um_per_turn=500.0, tilt_um_per_m_per_turn=-100.0, slack_turns=0.02)
    found = alignment(d, readings(d, -250.0, 150.0), detector=WIDE, tolerance_um=40.0, adjuster=screws, error_um=1.0)
    assert found.shift_turns == pytest.approx(0.5)
    assert found.tilt_turns == pytest.approx(1.5)
    assert found.predicted_um >= 0.02 * (500.0 + 100.0 * 5.6)
    assert alignment(d, readings(d, 1.0, 1.0), detector=WIDE, tolerance_um=40.0).shift_turns is None


def test_uncertainty_and_what_no_line_takes_away() -> None:
    d = np.linspace(0.5, 5.5, 6)
    bed = np.array([0.0, 8.0, -3.0, 5.0, -6.0, 1.0])
    rng = np.random.default_rng(4)
    noisy = [readings(d, 50.0, 20.0, bed) + rng.normal(0, 2.0, 6) for _ in range(300)]
    shifts = [alignment(d, one, detector=WIDE, tolerance_um=40.0).shift_um for one in noisy]
    found = alignment(d, readings(d, 50.0, 20.0, bed), detector=WIDE, tolerance_um=40.0, error_um=2.0)
    assert found.shift_error_um == pytest.approx(np.std(shifts), rel=0.15)
    after = readings(d, 50.0 + found.shift_um, 20.0 + found.tilt_um_per_m, bed)
    assert np.abs(after).max() <= found.predicted_um <= np.abs(after).max() + 6.0


def test_rule_without_a_table() -> None:
    """100 times the smallest deviation sought (1 um), and 5 % of a range of 5000 um: 100 and 250 um."""
    d = np.array([0.0, 5.0])
    for far_um, ready in ((99.0, Ready.GOOD_ENOUGH), (101.0, Ready.ALIGN)):
        found = alignment(d, [0.0, far_um], detector=WIDE, tolerance_um=40.0, smallest_um=1.0)
        assert (found.ready, found.limit_excursion_um) == (ready, 100.0)
        assert text(found.why.key, **found.why.facts)
    assert alignment(d, [0.0, 251.0], detector=WIDE, tolerance_um=40.0, smallest_um=9.0).limit_excursion_um == 250.0
    assert {rule.source for rule in found.rules} == {"guard_rules.source_common_practice"}


def test_a_table_decides_by_what_it_adds_to_straightness() -> None:
    """A parabola of 8 um at 1000 um from the middle. By hand: over x its end-line bow is 8 (x / 2000)^2."""
    place = np.linspace(-1000.0, 1000.0, 81)
    table = Linearity(tuple(place), tuple(8.0 * (place / 1000.0) ** 2))
    assert table.straightness_um(-200.0, 200.0) == pytest.approx(8.0 * 0.2**2)
    assert table.straightness_um(0.0, 400.0) == pytest.approx(8.0 * 0.2**2)  # a scale error would drop out as well
    exact = Detector((-1000.0, 1000.0), table)
    d = np.array([0.0, 5.0])
    good = alignment(d, [-200.0, 200.0], detector=exact, tolerance_um=40.0)
    assert (good.ready, good.error_um, good.limit_um) == (Ready.GOOD_ENOUGH, pytest.approx(0.32), pytest.approx(4.0))
    assert alignment(d, [-900.0, 900.0], detector=exact, tolerance_um=40.0).ready is Ready.ALIGN


def test_a_pure_scale_error_adds_nothing() -> None:
    table = Linearity((-1000.0, 0.0, 1000.0), (-10.0, 0.0, 10.0))
    assert table.straightness_um(-700.0, 300.0) == pytest.approx(0.0, abs=1e-12)


def test_steering_goes_in_bounded_steps_and_ends() -> None:
    d, slope = np.array([0.5, 5.5]), 180.0
    for _ in range(5):
        step = steering_step(list(d), list(readings(d, 3.0, slope)), 50.0)
        assert abs(step) <= 50.0
        slope += step
    assert slope == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("distance", "reading", "word"),
    [([1.0], [0.0], "Read near"), ([1.0, 1.0], [0.0, 1.0], "Read near"), ([1.0, 2.0], [0.0, 9999.0], "beyond the")],
)
def test_what_shows_nothing_is_refused(distance: list[float], reading: list[float], word: str) -> None:
    with pytest.raises(BadInput, match=word):
        alignment(distance, reading, detector=WIDE, tolerance_um=40.0)
    if len(set(distance)) < 2:
        with pytest.raises(BadInput, match="Read near"):
            steering_step(distance, reading, 10.0)


def test_bad_tables_are_refused() -> None:
    with pytest.raises(BadInput, match="at least two"):
        Linearity((0.0,), (0.0,))
    with pytest.raises(BadInput, match="must increase"):
        Linearity((0.0, 0.0), (0.0, 1.0))
    with pytest.raises(BadInput, match="beyond the linearity table"):
        Linearity((0.0, 10.0), (0.0, 1.0)).straightness_um(-5.0, 5.0)
