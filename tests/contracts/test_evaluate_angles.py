"""Angles to heights: right-hand signs on four machines, base and step, zero, earth, noise; targets and line flip."""

import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.evaluate import heights_from_steps, straightness, straightness_by_reference
from waywright.evaluate.angles import (
    GUIDEWAY_AVERAGED,
    check_base,
    heights_from_rotation,
    level_zero,
    slope_source,
    summed_noise_um,
    travel_sense,
    without_earth_curvature,
)
from waywright.evaluate.given import reference_flip, straightness_to_target
from waywright.quantities import Axes, Direction, code, iso_sign
from waywright.wording import text
from waywright.wording.said import sentence as said

# (right, up, towards the operator), as in waywright.quantities.directions
RIGHT, UP, TOWARDS = np.eye(3)
ACROSS = {Direction.UP: UP, Direction.TOWARDS: TOWARDS, Direction.RIGHT: RIGHT}
TURNS = {Direction.OPERATOR_SIDE_UP: -RIGHT, Direction.RIGHT_SIDE_UP: TOWARDS, Direction.ANTICLOCKWISE: UP}
PLACE_MM = np.linspace(0.0, 2000.0, 201)

FRONT_LATHE = Axes(up="-Y", operator="+X")  # flat bed, tool on the operator's side
REAR_LATHE = Axes(up="+Y", operator="-X")  # tool behind the work
TABLE_MILL = Axes(up="+Z", operator="-Y")  # X of a vertical mill

MACHINES = [
    pytest.param(FRONT_LATHE, "Z", "tool", Direction.RIGHT, id="front-tool lathe, carriage"),
    pytest.param(FRONT_LATHE, "Z", "tool", Direction.LEFT, id="front-tool lathe, counted from the tailstock"),
    pytest.param(REAR_LATHE, "Z", "tool", Direction.RIGHT, id="rear-tool lathe, carriage"),
    pytest.param(TABLE_MILL, "X", "work", Direction.RIGHT, id="moving table, counted to the right"),
    pytest.param(TABLE_MILL, "X", "work", Direction.LEFT, id="moving table, by its axis coordinate"),
    pytest.param(TABLE_MILL, "Z", "tool", Direction.UP, id="vertical axis"),
    pytest.param(TABLE_MILL, "Y", "work", Direction.TOWARDS, id="saddle"),
]


def bow_um(place_mm: np.ndarray) -> np.ndarray:
    return 25 * np.sin(place_mm / 700) + 0.004 * place_mm


def bow_slope_um_per_m(place_mm: np.ndarray) -> np.ndarray:
    return 25 / 0.7 * np.cos(place_mm / 700) + 4.0


@pytest.mark.parametrize(("axes", "axis", "side", "grows"), MACHINES)
def test_rotation_gives_the_straightness_of_the_way(axes: Axes, axis: str, side: str, grows: Direction) -> None:
    """A carriage follows a bent way in space; detectors report physical directions; both arrive as ISO signs.

    The rotation is found by turning the old tangent into the new one (no table of signs), the codes by the machine's
    axes.
    """
    travel = {Direction.LEFT: -RIGHT, Direction.UP: UP, Direction.TOWARDS: TOWARDS}.get(grows, RIGHT)
    for across, vector in ACROSS.items():
        if abs(travel @ vector) > 0.5:
            continue
        turn = np.cross(travel, vector)  # positive when the front of the carriage moves in the direction `across`
        named, sense = next((d, t @ turn) for d, t in TURNS.items() if abs(t @ turn) > 0.5)
        letter = next(a for a in "XYZ" if abs(np.dot(axes.vector(a), vector)) > 0.5)
        straight = code(f"E{letter}{axis}")
        rotation_code, _ = slope_source(straight.text)
        rotation_iso = iso_sign(code(rotation_code), named, axes, side) * sense * bow_slope_um_per_m(PLACE_MM)
        wanted_iso = iso_sign(straight, across, axes, side) * bow_um(PLACE_MM)
        shape = heights_from_rotation(straight.text, PLACE_MM, rotation_iso, sense=travel_sense(axis, grows, axes))
        # Trapezoid over 10 mm of a slope with |s''| <= 73 um/m per m2: less than 1e-3 um.
        assert shape.height_um == pytest.approx(wanted_iso - wanted_iso[0], abs=2e-3)
        assert shape.from_rotation == rotation_code
        assert shape.subject == GUIDEWAY_AVERAGED


def test_the_pairs_are_those_of_a_right_handed_system() -> None:
    """Rotation vector x direction of travel, written out."""
    for moving, along in zip("XYZ", np.eye(3), strict=True):
        for number, about in enumerate("ABC"):
            change = np.cross(np.eye(3)[number], along)
            for direction, size in zip("XYZ", change, strict=True):
                if size:
                    assert slope_source(f"E{direction}{moving}") == (f"E{about}{moving}", size)


def test_a_positioning_code_is_no_straightness() -> None:
    with pytest.raises(BadInput, match="EXX is not a straightness"):
        slope_source("EXX")
    with pytest.raises(BadInput, match="does not run up"):
        travel_sense("Z", Direction.UP, FRONT_LATHE)


def test_the_shape_says_what_it_is_not() -> None:
    shape = heights_from_rotation("EYZ", [0, 100, 200], [1.0, 2.0, 3.0])
    sentence = text(shape.reason.key, **shape.reason.facts)
    assert "averaged over the carriage" in sentence
    assert "not the straightness of the axis at the functional point" in sentence


def test_draws_stand_in_the_second_axis() -> None:
    rotation = np.random.default_rng(1).normal(0, 3, (201, 6))
    many = heights_from_rotation("EZX", PLACE_MM, rotation).height_um
    assert many.shape == (201, 6)
    assert many[:, 4] == pytest.approx(heights_from_rotation("EZX", PLACE_MM, rotation[:, 4]).height_um)


@pytest.mark.parametrize(("step_mm", "warns"), [(200.0, False), (204.0, False), (204.1, True), (195.9, True)])
def test_base_against_step_warns_beyond_two_percent(step_mm: float, warns: bool) -> None:
    check = check_base([200.0, step_mm, 200.0], 200.0)
    assert (check.reason is not None) == warns
    assert check.largest_share == pytest.approx(abs(step_mm - 200) / 200)
    if check.reason is not None:
        assert check.at_step == 2
        assert "Move by the base length" in text(check.reason.key, **check.reason.facts)


def test_an_impossible_base_is_refused() -> None:
    with pytest.raises(BadInput, match="base length of step 1 is 0 mm"):
        check_base(200.0, 0.0)


def test_reversal_finds_zero_and_tilt() -> None:
    zero = level_zero(12.0 + 7.0, 12.0 - 7.0)
    assert (zero.zero_um_per_m, zero.tilt_um_per_m) == (12.0, 7.0)
    many = level_zero(np.array([1.0, 5.0]), np.array([3.0, 1.0]))
    assert many.tilt_um_per_m.tolist() == [-1.0, 2.0]


@pytest.mark.parametrize(("length_m", "bow_um", "within_um"), [(10, 2.0, 0.05), (20, 7.8, 0.05), (40, 31.4, 0.05)])
def test_earth_curvature_is_l_squared_over_8r(length_m: float, bow_um: float, within_um: float) -> None:
    """L^2 / 8R with R = 6371 km: 2.0, 7.8 and 31.4 um over 10, 20 and 40 m. Level all along is a hump for a beam."""
    x = np.linspace(0, length_m * 1000, 41)
    seen = straightness(x, without_earth_curvature(x, x * 0), "end-points")
    assert seen.largest_um == pytest.approx(bow_um, abs=within_um)
    assert seen.smallest_um == pytest.approx(0.0, abs=1e-9)


def test_level_and_beam_agree_once_the_earth_is_taken_out() -> None:
    """A straight 20 m way seen by a level stepped along it: gravity turns by base / R from step to step."""
    steps, base_mm = 80, 250.0
    middle_mm = (np.arange(steps) + 0.5) * base_mm
    tilt = middle_mm / 6.371e9 * 1e6
    x = np.arange(steps + 1) * base_mm
    level = heights_from_steps(tilt, base_mm)
    assert straightness(x, level, "end-points").value_um == pytest.approx(7.85, abs=0.01)
    assert straightness(x, without_earth_curvature(x, level), "end-points").value_um == pytest.approx(0.0, abs=1e-6)


def test_noise_of_summed_steps_grows_to_sigma_b_root_n_over_two() -> None:
    """20 000 simulated lines of 40 steps: standard deviation about the end line, everywhere (0.5 % each)."""
    sigma, base_mm, steps = 2.0, 250.0, 40
    tilts = np.random.default_rng(6).normal(0, sigma, (steps, 20_000))
    x = np.arange(steps + 1) * base_mm
    off = straightness(x, heights_from_steps(tilts, base_mm), "end-points").deviation_um
    said = summed_noise_um(sigma, base_mm, steps)
    assert off.std(axis=1) == pytest.approx(said, rel=0.03, abs=1e-9)
    assert said.max() == said[20] == pytest.approx(sigma * base_mm / 1000 * np.sqrt(steps) / 2)


def test_deviation_from_a_target_curve() -> None:
    """A way ground 20 um convex, measured 20 um convex with a wave of 3 um: what is left is the wave."""
    x = np.linspace(0, 2000, 41)
    target = 20 * np.sin(np.pi * x / 2000)
    found = straightness_to_target(x, target + 1.5 * np.cos(x / 100 * np.pi) + 7.0, x, target)
    assert found.reference == "target"
    assert found.value_um == pytest.approx(3.0)
    assert found.largest_um == pytest.approx(8.5)
    tilted = straightness_to_target(x, target + 0.01 * x, x, target)
    assert tilted.value_um == pytest.approx(20.0)


def test_a_target_between_its_points_and_for_draws() -> None:
    x = np.linspace(0, 1000, 21)
    found = straightness_to_target(x, np.zeros((21, 3)), [1000, 0, 500], [0.0, 0.0, 10.0])
    assert found.value_um.tolist() == pytest.approx([10.0, 10.0, 10.0])
    with pytest.raises(BadInput, match="there is a station at 950 mm"):
        straightness_to_target(x, x * 0, [0, 900], [0, 0])
    with pytest.raises(BadInput, match="more than once"):
        straightness_to_target(x, x * 0, [0, 500, 500, 1000], [0, 0, 1, 0])


def test_the_choice_of_line_matters_or_not() -> None:
    x = np.linspace(0, 1000, 21)
    even = straightness_by_reference(x, 10 * np.sin(np.pi * x / 1000))
    assert reference_flip(even).reason is None
    crooked = straightness_by_reference(x, np.r_[6.0, np.zeros(19), -6.0] + 2 * np.cos(x))
    flip = reference_flip(crooked)
    assert flip.reason is not None
    assert flip.smallest == "minimum-zone"
    assert flip.difference_share == pytest.approx(flip.largest_um / flip.smallest_um - 1)
    assert "depends on the reference line" in text(flip.reason.key, **flip.reason.facts)


def test_a_limit_between_the_lines_is_said_however_little_they_differ() -> None:
    x = np.linspace(0, 1000, 21)
    by_line = straightness_by_reference(x, 10 * np.sin(x / 1000 * 4) + x * 0)
    values = sorted(found.value_um for found in by_line.values())
    limit = (values[0] + values[-1]) / 2
    flip = reference_flip(by_line, share=10.0, limit_um=limit)
    assert flip.crosses_limit
    assert flip.reason is not None
    assert "The reference line decides" in text(flip.reason.key, **flip.reason.facts)
    assert reference_flip(by_line, share=10.0, limit_um=2 * values[-1]).reason is None
    with pytest.raises(BadInput, match="at least two"):
        reference_flip({"end-points": by_line["end-points"]})


def test_flip_for_draws() -> None:
    x = np.linspace(0, 1000, 21)
    flip = reference_flip(straightness_by_reference(x, np.random.default_rng(2).normal(0, 1, (21, 50))), limit_um=3.5)
    assert flip.difference_share.shape == (50,)
    assert flip.crosses_limit is not None
    assert flip.crosses_limit.shape == (50,)


def test_sentences_have_true_minus_signs_and_no_idle_ones() -> None:
    assert said("results.reversal", {"value_um": -2.04, "at_mm": 10.0}).startswith(
        "Reversal (forward minus backward) at most \N{MINUS SIGN}2.0 µm"
    )
    assert "at most 0.0 µm" in said("results.reversal", {"value_um": -0.04, "at_mm": 10.0})
    assert said("results.positive", {"direction_key": "quantities.up"}) == "Figures are positive up."
    assert "+0.4" in said("results.reversal", {"value_um": 0.4, "at_mm": 10.0})
