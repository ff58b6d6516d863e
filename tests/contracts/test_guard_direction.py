"""The direction test on a detector of known mounting: simulated physics, then what the test makes of the readings."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.guard import Foot, KnownMove, Mounting, Outcome, Seen, direction_test, level_reversal, level_sign
from waywright.quantities import Direction
from waywright.wording import text

UP, DOWN, TOWARDS, AWAY = Direction.UP, Direction.DOWN, Direction.TOWARDS, Direction.AWAY
UNIT = {UP: (1.0, 0.0), DOWN: (-1.0, 0.0), TOWARDS: (0.0, 1.0), AWAY: (0.0, -1.0)}


def detector(real: tuple[Direction, Direction], roll_deg: float = 0.0, scale: float = 1.0):
    """Channels that count in the directions ``real``; rolled so that its up leans away from the operator."""
    c, s = math.cos(math.radians(roll_deg)), math.sin(math.radians(roll_deg))

    def read(up_um: float, towards_um: float, error_um: float = 0.3) -> Seen:
        seen = np.array([c * up_um - s * towards_um, s * up_um + c * towards_um]) * scale
        return Seen(*(float(np.dot(UNIT[way], seen)) + 7.0 for way in real), error_um)

    return read


def moves(read, size_um: float = 50.0, tolerance_um: float = 0.5, error_um: float = 0.3) -> list[KnownMove]:
    zero = read(0.0, 0.0, error_um)
    return [
        KnownMove(UP, size_um, tolerance_um, zero, read(size_um, 0.0, error_um), seating_um=0.5),
        KnownMove(TOWARDS, size_um, tolerance_um, zero, read(0.0, size_um, error_um), seating_um=0.5),
    ]


CROSSED = [(a, b) for a, b in product(UNIT, UNIT) if np.dot(UNIT[a], UNIT[b]) == 0.0]


@pytest.mark.parametrize("real", CROSSED)
@pytest.mark.parametrize("described", [(UP, TOWARDS), (DOWN, TOWARDS), (AWAY, UP)])
def test_all_mountings_are_found(real, described) -> None:
    found = direction_test(moves(detector(real)), described)
    assert found.channels == real
    assert found.outcome is (Outcome.PASSED if real == described else Outcome.FAILED)
    assert (found.mounting is Mounting.AS_DESCRIBED) is (real == described)


@pytest.mark.parametrize(
    ("real", "mounting"),
    [
        ((DOWN, TOWARDS), Mounting.MIRRORED),
        ((UP, AWAY), Mounting.MIRRORED),
        ((DOWN, AWAY), Mounting.UPSIDE_DOWN),
        ((TOWARDS, UP), Mounting.SWAPPED),
        ((AWAY, UP), Mounting.QUARTER_TURN),
    ],
)
def test_mountings_have_their_names(real, mounting) -> None:
    found = direction_test(moves(detector(real)), (UP, TOWARDS))
    assert found.mounting is mounting
    assert text(found.why[0].key, **found.why[0].facts)


def test_moving_down_and_away_proves_as_much() -> None:
    read = detector((UP, AWAY))
    zero = read(0.0, 0.0)
    made = [KnownMove(DOWN, 50.0, 0.5, zero, read(-50.0, 0.0)), KnownMove(AWAY, 80.0, 0.5, zero, read(0.0, -80.0))]
    assert direction_test(made, (UP, AWAY)).outcome is Outcome.PASSED
    assert direction_test(made, (UP, TOWARDS)).mounting is Mounting.MIRRORED


@pytest.mark.parametrize("roll_deg", [-8.0, -3.0, 3.0, 8.0])
@pytest.mark.parametrize("real", [(UP, TOWARDS), (TOWARDS, UP), (DOWN, TOWARDS)])
def test_roll_comes_back(roll_deg: float, real) -> None:
    found = direction_test(moves(detector(real, roll_deg)), (UP, TOWARDS))
    expected = roll_deg if real == (UP, TOWARDS) else None
    assert found.roll_deg is not None
    assert abs(found.roll_deg) == pytest.approx(abs(roll_deg), abs=0.01)
    if expected is not None:
        assert found.roll_deg == pytest.approx(expected)
        assert found.crosstalk == pytest.approx(math.sin(math.radians(expected)))
    assert any(reason.key == "guard.direction_rolled" for reason in found.why)
    assert found.outcome is Outcome.FAILED


def test_a_small_roll_passes() -> None:
    assert direction_test(moves(detector((UP, TOWARDS), 0.5)), (UP, TOWARDS)).outcome is Outcome.PASSED


def test_the_size_has_three_answers() -> None:
    good = direction_test(moves(detector((UP, TOWARDS), scale=1.01), 200.0, 0.5), (UP, TOWARDS))
    assert [scale.within for scale in good.scales] == [True, True]
    wrong = direction_test(moves(detector((UP, TOWARDS), scale=1.2), 200.0, 0.5), (UP, TOWARDS))
    assert [scale.within for scale in wrong.scales] == [False, False]
    assert wrong.outcome is Outcome.FAILED
    rough = direction_test(moves(detector((UP, TOWARDS), scale=1.02), 50.0, 5.0), (UP, TOWARDS))
    assert [scale.within for scale in rough.scales] == [None, None]
    assert rough.outcome is Outcome.PASSED  # sign and channel are proved; a feeler is rarely good to 5 % of 50 um


def test_uncertainty_is_that_of_shim_seating_and_readings() -> None:
    """By hand: 3 um rectangular 1.732, seating 2, readings 0.5 twice 0.707; together 2.738 of 50 um."""
    read = detector((UP, TOWARDS))
    made = [KnownMove(UP, 50.0, 3.0, read(0, 0, 0.5), read(50.0, 0, 0.5), seating_um=2.0)]
    found = direction_test(made, (UP, TOWARDS))
    assert found.scales[0].standard_uncertainty == pytest.approx(2.738 / 50, rel=1e-3)
    assert found.outcome is Outcome.NOT_RESOLVED  # one direction only
    assert found.why[-1].key == "guard.direction_one_move"


@pytest.mark.parametrize("size_um", [0.5, 2.0])
def test_a_thin_shim_does_not_resolve(size_um: float) -> None:
    found = direction_test(moves(detector((UP, TOWARDS)), size_um, error_um=2.0), (UP, TOWARDS))
    assert found.outcome is Outcome.NOT_RESOLVED
    assert found.channels is None
    assert text(found.why[0].key, **found.why[0].facts).startswith("Not resolved")


def test_45_degrees_do_not_resolve() -> None:
    found = direction_test(moves(detector((UP, TOWARDS), 45.0)), (UP, TOWARDS))
    assert found.outcome is Outcome.NOT_RESOLVED


@pytest.mark.parametrize(
    ("tilt_of", "foot"), [(-1.0, Foot.OPERATOR_SIDE), (1.0, Foot.FAR_SIDE), (0.0, Foot.FRONT_OR_BACK)]
)
def test_a_shim_under_one_foot_is_recognised(tilt_of: float, foot: Foot) -> None:
    """50 um under one of two feet 80 mm apart: rises 25 um, tilts by 625 um/m, shifts the centre at 90 mm by 56 um."""
    read = detector((UP, TOWARDS))
    zero, size = read(0.0, 0.0), 50.0
    lifted = read(size / 2, tilt_of * size / 80.0 * 90.0)
    up = KnownMove(UP, size, 2.0, zero, lifted, feet_mm=80.0, centre_mm=90.0)
    found = direction_test([up, moves(read)[1]], (UP, TOWARDS))
    assert (found.outcome, found.foot) == (Outcome.FAILED, foot)
    assert "under all feet" in text(found.why[0].key, **found.why[0].facts)


def test_one_foot_is_not_taken_for_a_swap_nor_a_swap_for_one_foot() -> None:
    read = detector((TOWARDS, UP))
    made = [KnownMove(UP, 50.0, 2.0, read(0, 0), read(50.0, 0), feet_mm=80.0, centre_mm=90.0), moves(read)[1]]
    assert direction_test(made, (UP, TOWARDS)).mounting is Mounting.SWAPPED


@pytest.mark.parametrize("channels", [(UP, DOWN), (UP, UP), (TOWARDS, AWAY), (UP, Direction.RIGHT)])
def test_channels_must_cross(channels) -> None:
    with pytest.raises(BadInput, match="one sideways"):
        direction_test(moves(detector((UP, TOWARDS))), channels)


def test_impossible_moves_are_refused() -> None:
    read = detector((UP, TOWARDS))
    up = moves(read)[0]
    with pytest.raises(BadInput, match="2 moves were given"):
        direction_test([up, up], (UP, TOWARDS))
    with pytest.raises(BadInput, match="not right"):
        KnownMove(Direction.RIGHT, 50.0, 1.0, up.before, up.after)
    with pytest.raises(BadInput, match="greater than zero"):
        KnownMove(UP, 0.0, 1.0, up.before, up.after)


@pytest.mark.parametrize("sign", [1, -1])
def test_level_reversal_finds_the_zero_but_not_the_sign(sign: int) -> None:
    zero, tilt = 17.0, -42.0
    found = level_reversal(zero + sign * tilt, zero - sign * tilt, 1.0)
    assert found.zero_um_per_m == pytest.approx(zero)
    assert found.tilt_um_per_m == pytest.approx(sign * tilt)
    assert found.standard_uncertainty_um_per_m == pytest.approx(0.7071, abs=1e-4)


@pytest.mark.parametrize(
    ("after", "outcome"),
    [(260.0, Outcome.PASSED), (-240.0, Outcome.FAILED), (520.0, Outcome.FAILED), (15.0, Outcome.NOT_RESOLVED)],
)
def test_a_known_tilt_proves_the_sign(after: float, outcome: Outcome) -> None:
    """A shim of 50 um under one end of 200 mm: 250 um/m."""
    found = level_sign(10.0, after, lift_um=50.0, tolerance_um=2.0, base_mm=200.0, error_um_per_m=1.0)
    assert found.known_um_per_m == pytest.approx(250.0)
    assert found.outcome is outcome
    assert text(found.why.key, **found.why.facts)
