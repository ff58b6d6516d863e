"""Worked straightness examples from teaching material. Their values are end-point values, not minimum zones.

s01: technician examination question, coincidence level of 0.01 mm/m per division on a 1200 mm guideway in six steps of
200 mm, readings +3 +6 -3 -1 -3 +4 divisions; two independent published copies with full solution.
s02: university course slides "Straightness checking: autocollimator and reflector", 100 mm base, forward and backward
readings; the slides use the rounded 0.5 um per arcsecond and 100 mm.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from waywright.evaluate import heights_from_steps, straightness, straightness_by_reference

DIVISIONS = np.array([3.0, 6.0, -3.0, -1.0, -3.0, 4.0])
UM_PER_M_PER_DIVISION = 10.0  # 0.01 mm/m
FORWARD_ARCSEC = np.array([128.0, 128.0, 131.0, 135.0, 128.0, 129.0, 134.0])
BACKWARD_ARCSEC = np.array([132.0, 132.0, 135.0, 139.0, 128.0, 131.0, 134.0])
EXACT = math.pi / 648_000 * 1e6  # um/m in an arcsecond
CLASSROOM = 5.0  # um/m in an arcsecond: 0.5 um per 100 mm, rounded


def test_level_steps_published_heights_and_value() -> None:
    height = heights_from_steps(DIVISIONS * UM_PER_M_PER_DIVISION, 200.0)
    result = straightness(np.arange(7) * 200.0, height, "end-points")
    # printed: heights about the end points 0 2 7 3 1 -3 0 divisions, 10 divisions in all, 0.02 mm
    assert result.deviation_um == pytest.approx(np.array([0.0, 2.0, 7.0, 3.0, 1.0, -3.0, 0.0]) * 2.0, abs=1e-12)
    assert result.value_um == pytest.approx(20.0, abs=1e-12)
    assert result.line.slope_um_per_m == pytest.approx(10.0)  # printed: mean reading 1 division


def test_level_steps_other_lines_are_smaller() -> None:
    """8.2857 and 8.2 divisions: independent recomputation in exact fractions, not printed in the source."""
    height = heights_from_steps(DIVISIONS * UM_PER_M_PER_DIVISION, 200.0)
    by = straightness_by_reference(np.arange(7) * 200.0, height)
    assert by["least-squares"].value_um == pytest.approx(58 / 7 * 2.0, abs=1e-12)
    assert by["minimum-zone"].value_um == pytest.approx(8.2 * 2.0, abs=1e-12)


def autocollimator(um_per_m_per_arcsec: float) -> np.ndarray:
    mean = (FORWARD_ARCSEC + BACKWARD_ARCSEC) / 2
    return heights_from_steps((mean - mean[0])[1:] * um_per_m_per_arcsec, 100.0)


def test_autocollimator_with_the_rounded_factor_as_printed() -> None:
    height = autocollimator(CLASSROOM)
    assert height == pytest.approx([0.0, 0.0, 1.5, 5.0, 4.0, 4.0, 6.0])  # printed column
    result = straightness(np.arange(7) * 100.0, height, "end-points")
    assert result.deviation_um == pytest.approx([0.0, -1.0, -0.5, 2.0, 0.0, -1.0, 0.0], abs=1e-12)
    assert (result.largest_um, result.smallest_um) == pytest.approx((2.0, -1.0))
    assert result.value_um == pytest.approx(3.0)


def test_autocollimator_with_the_exact_arcsecond_is_3_percent_less() -> None:
    result = straightness(np.arange(7) * 100.0, autocollimator(EXACT), "end-points")
    assert result.value_um == pytest.approx(3.0 * 0.4848136811 / 0.5, rel=1e-9)
    assert result.value_um == pytest.approx(2.909, abs=5e-4)


def test_autocollimator_minimum_zone_equals_the_end_points_here() -> None:
    by = straightness_by_reference(np.arange(7) * 100.0, autocollimator(CLASSROOM))
    assert by["minimum-zone"].value_um == pytest.approx(3.0)
    assert by["least-squares"].value_um == pytest.approx(3.0 + 1 / 28)  # recomputed in fractions
