"""The bow challenge: every imitation against a simulated reading of a straight bed, and the plain recommendations."""

from __future__ import annotations

import math

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import Belief, Cause, Circumstances, Figure, challenge_bow
from waywright.guard.air import EARTH_RADIUS_M
from waywright.wording import text

QUIET = {
    "height_m": 0.6,
    "top_minus_foot_k": Figure(0.0, 0.002),
    "gradient_k_per_m": Figure(0.0, 0.02),
    "drift_um_per_m": Figure(0.0, 0.02),
    "nonlinearity_um": Figure(0.0, 0.02),
}


def challenged(bow_um: float, length_m: float = 10.0, tolerance_um: float = 40.0, **known: object):
    around = Circumstances(**(QUIET | known))  # type: ignore[arg-type]
    return challenge_bow(bow_um, length_m, tolerance_um=tolerance_um, error_um=0.3, circumstances=around)


def bow_of(cause: Cause, length_m: float = 10.0, **known: object) -> float:
    return next(one.bow_um for one in challenged(20.0, length_m, **known).imitations if one.cause is cause)


def end_line_bow(reading: np.ndarray) -> float:
    return float(reading[reading.size // 2] - (reading[0] + reading[-1]) / 2)


def test_air_as_a_beam_shows_it() -> None:
    """Warmer above: the beam falls by 0.928e-6 g d^2 / 2, so a straight bed reads hollow: 11.6 um at 10 m, 1 K/m."""
    d = np.linspace(0.0, 10.0, 101)
    beam_um = -0.9285 * 1.0 * d**2 / 2
    found = bow_of(Cause.AIR, gradient_k_per_m=Figure(1.0, 0.1))
    assert found == pytest.approx(end_line_bow(0.0 - beam_um), rel=1e-3)
    assert found == pytest.approx(-11.6, abs=0.05)


def test_angle_drift_as_a_pass_away_from_the_source_shows_it() -> None:
    """theta L / 4: the angle seen in the readings grows evenly to 2 um/m during the pass."""
    share = np.linspace(0.0, 1.0, 101)
    for nearest_m in (0.0, 3.0):
        reading = 2.0 * share * (nearest_m + 10.0 * share)
        assert bow_of(Cause.ANGLE_DRIFT, drift_um_per_m=Figure(2.0, 0.1)) == pytest.approx(end_line_bow(reading))
    assert bow_of(Cause.ANGLE_DRIFT, drift_um_per_m=Figure(2.0, 0.1)) == pytest.approx(-2.0 * 10.0 / 4)


def test_heat_as_a_circle() -> None:
    """A bed of curvature alpha dT / h, 37 um per K at 4 m and 0.6 m (11e-6 per K)."""
    radius_m = 0.6 / (11e-6 * 1.0)
    sagitta = radius_m - math.sqrt(radius_m**2 - 2.0**2)
    found = bow_of(Cause.HEAT, 4.0, top_minus_foot_k=Figure(1.0, 0.1))
    assert found == pytest.approx(sagitta * 1e6, rel=1e-4)
    assert found == pytest.approx(37, abs=0.5)


def test_earth_as_a_level_shows_it() -> None:
    """Tilts against the local horizontal, summed: a straight way turns against gravity by d / R."""
    d = np.linspace(0.0, 20.0, 2001)
    height = np.concatenate([[0.0], np.cumsum(np.diff(d) * (d[1:] + d[:-1]) / 2 / EARTH_RADIUS_M)]) * 1e6
    found = challenged(20.0, 20.0, method="level")
    assert {one.cause for one in found.imitations} == {Cause.HEAT, Cause.EARTH}
    assert bow_of(Cause.EARTH, 20.0, method="level") == pytest.approx(end_line_bow(height), rel=1e-3)


def test_the_side_knows_no_heat_and_no_weight_of_air() -> None:
    causes = {one.cause for one in challenged(20.0, vertical=False).imitations}
    assert causes == {Cause.AIR, Cause.ANGLE_DRIFT, Cause.NONLINEARITY}


def test_a_bow_that_nothing_else_can_make_is_believed() -> None:
    found = challenged(60.0, top_minus_foot_k=Figure(0.02, 0.02))
    assert found.belief is Belief.BELIEVE
    assert found.remaining_um == pytest.approx(60.0 - sum(one.bow_um for one in found.imitations))
    assert found.remaining_um == pytest.approx(60.0 - 0.02 * 11 * 100 / 8 / 0.6 + 0.394, abs=0.01)


@pytest.mark.parametrize(
    ("known", "belief", "cause"),
    [
        ({"top_minus_foot_k": Figure(0.4, 0.1)}, Belief.ANOTHER_HOUR, Cause.HEAT),
        ({"top_minus_foot_k": None}, Belief.ANOTHER_HOUR, Cause.HEAT),
        ({"gradient_k_per_m": Figure(1.0, 0.2)}, Belief.MIX_THE_AIR, Cause.AIR),
        ({"gradient_k_per_m": None}, Belief.MIX_THE_AIR, Cause.AIR),
        ({"drift_um_per_m": Figure(3.0, 0.2)}, Belief.ANOTHER_HOUR, Cause.ANGLE_DRIFT),
        ({"nonlinearity_um": Figure(9.0, 1.0)}, Belief.SECOND_METHOD, Cause.NONLINEARITY),
    ],
)
def test_the_largest_imitation_says_what_to_do(known: dict[str, object], belief: Belief, cause: Cause) -> None:
    found = challenged(15.0, **known)
    assert (found.belief, found.imitations[0].cause) == (belief, cause)
    assert found.imitations[0].measured is (next(iter(known.values())) is not None)
    sentence = text(found.why.key, **found.why.facts)
    assert "+15.0 um" in sentence


def test_a_level_of_a_long_way_is_challenged_by_the_earth() -> None:
    found = challenged(-15.0, 40.0, method="level", height_m=6.0, top_minus_foot_k=Figure(0.0, 0.001))
    assert (found.belief, found.imitations[0].cause) == (Belief.SECOND_METHOD, Cause.EARTH)
    assert found.remaining_um == pytest.approx(-15.0 + 31.4, abs=0.05)


def test_a_height_that_is_not_known_is_assumed() -> None:
    found = challenged(30.0, height_m=None, top_minus_foot_k=Figure(0.5, 0.1))
    assert not next(one for one in found.imitations if one.cause is Cause.HEAT).measured


def test_nonsense_is_refused() -> None:
    with pytest.raises(BadInput, match="greater than zero"):
        challenged(10.0, 0.0)
    with pytest.raises(BadInput, match="beam or level"):
        challenged(10.0, method="string")
