"""plan_correction and update_belief: what callers rely on."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from waywright.correct import Source, TurningError, expected_reading_change, plan_correction, update_belief
from waywright.correct.belief import prior
from waywright.correct.planning import best_fit, problem_for
from waywright.correct.programme import least_remainder
from waywright.correct.response import BedModel, Stiffness, bed_model
from waywright.correct.seen import stations
from waywright.correct.trade_off import trade_off
from waywright.errors import BadInput
from waywright.machine import Bed, Carriage, Support

NOISE_UM = 1.0
EXACT = TurningError(0.5, 0.0)


def one_row(count: int = 7, *, anchored: bool = True, ratio: float = 3.0) -> Bed:
    supports = tuple(
        Support(str(i + 1), 200.0 + 900.0 * i, "middle", anchored=anchored, seat_n_per_um=300.0, smallest_step_um=5.0)
        for i in range(count)
    )
    length = 400.0 + 900.0 * (count - 1)
    return Bed(length, supports, mass_kg=count * 300 * 40 / 9.80665, bending_n_m2=300e6 * 0.9**3 / ratio)


def two_rows(*, anchored: bool = True) -> Bed:
    supports = tuple(
        Support(str(i + 1 + 5 * r), 200.0 + 1000.0 * i, row, anchored=anchored, seat_n_per_um=300.0)
        for r, row in enumerate(("front", "rear"))
        for i in range(5)
    )
    return Bed(4400.0, supports, gauge_mm=600.0, mass_kg=10 * 300 * 40 / 9.80665, bending_n_m2=2e8, torsion_n_m2=6e7)


def read(model: BedModel, stiffness: Stiffness, setting: np.ndarray, places: np.ndarray) -> np.ndarray:
    """Heights of the middle, without noise, of a bed made straight when it lay level."""
    rows = model.rows(stations(model.bed, places, None, "guideway"))
    return rows @ (model.rest(stiffness, setting).shape - model.level_shape(stiffness))


def value(places: np.ndarray, heights: np.ndarray) -> float:
    return best_fit(heights, np.column_stack([np.ones(places.size), places]))[0]


def found_bed(bed: Bed, seed: int = 0, spread: float = 40.0) -> tuple[BedModel, Stiffness, np.ndarray, np.ndarray]:
    model = bed_model(bed)
    places = np.linspace(0.0, bed.length_mm, 29)
    rng = np.random.default_rng(seed)
    return model, prior(model).stiffness, rng.normal(0.0, spread, len(model.supports)), places


@pytest.mark.parametrize("anchored", [True, False])
def test_the_moves_bring_the_bed_below_the_goal(anchored: bool) -> None:
    model, stiffness, setting, places = found_bed(one_row(anchored=anchored))
    before = read(model, stiffness, setting, places)
    plan = plan_correction(model.bed, places, before, quantity="guideway", noise_um=NOISE_UM, goal_um=20.0)
    assert value(places, before) > 50.0
    assert plan.value_now_um == pytest.approx(value(places, before), abs=1e-3)
    assert plan.reaches_goal
    after = read(model, stiffness, setting + plan.moves_um, places)
    assert value(places, after) == pytest.approx(plan.calculated_um, abs=1.0 if anchored else 8.0)
    assert value(places, after) < plan.interval_um[1]
    assert (np.abs(plan.moves_um) <= 200.0).all()
    assert plan.moves_um / 5.0 == pytest.approx(np.round(plan.moves_um / 5.0), abs=1e-9)
    if not anchored:
        assert plan.hollow == ()
        assert (plan.force_n > 0.0).all()


def test_the_interval_holds_what_is_read_afterwards() -> None:
    # Beds drawn from the belief, turned with the stated error and read with the stated noise: 95 % should be held.
    model, stiffness, setting, places = found_bed(one_row(), seed=6)
    heights = read(model, stiffness, setting, places)
    plan = plan_correction(model.bed, places, heights, quantity="guideway", noise_um=NOISE_UM, goal_um=15.0)
    rng, held = np.random.default_rng(4), 0
    rows = model.rows(stations(model.bed, places, None, "guideway"))
    for _ in range(120):
        true = Stiffness(
            stiffness.bending_n_m2 * np.exp(rng.normal(0.0, 0.35)),
            1.0,
            stiffness.seat_n_per_um * np.exp(rng.normal(0.0, 0.4, setting.size)),
        )
        made = plan.moves_um + rng.normal(0.0, 1.0, setting.size) * plan.turning.standard_deviation_um(plan.moves_um)
        change = model.influence(true, rows) @ made
        noise = rng.normal(0.0, NOISE_UM * np.sqrt(2.0), places.size)
        held += plan.interval_um[0] <= value(places, heights + change + noise) <= plan.interval_um[1]
    assert 0.87 <= held / 120 <= 1.0
    assert plan.interval_um[1] - plan.interval_um[0] < plan.value_now_um


def test_locked_supports_stay_and_those_beyond_the_stations_too() -> None:
    model, stiffness, setting, places = found_bed(one_row())
    short = places[places > 1500.0]
    heights = read(model, stiffness, setting, short)
    plan = plan_correction(
        model.bed, short, heights, quantity="guideway", noise_um=NOISE_UM, goal_um=10.0, locked=("5",)
    )
    assert plan.locked == ("1", "2", "5")
    assert plan.moves_um[[0, 1, 4]].tolist() == [0.0, 0.0, 0.0]
    assert plan.moves_um.any()
    reached = plan_correction(
        model.bed, short, heights, quantity="guideway", noise_um=NOISE_UM, goal_um=10.0, locked=("5",), unlocked=("2",)
    )
    assert reached.locked == ("1", "5")


def test_few_supports_are_touched_when_asked() -> None:
    model, stiffness, setting, places = found_bed(one_row(), seed=3)
    heights = read(model, stiffness, setting, places)
    few = plan_correction(model.bed, places, heights, quantity="guideway", noise_um=1.0, goal_um=5.0, max_supports=2)
    assert 1 <= np.count_nonzero(few.moves_um) <= 2
    assert few.value_um < 0.5 * few.value_now_um
    best_two = next(row for row in few.trade_off if row.supports == 2)
    assert few.value_um >= best_two.at_least_um - 1e-6


def test_the_trade_off_is_the_one_found_by_trying_all_choices() -> None:
    model, stiffness, setting, places = found_bed(one_row(5), seed=1)
    heights = read(model, stiffness, setting, places)
    plan = plan_correction(model.bed, places, heights, quantity="guideway", noise_um=1.0, goal_um=5.0)
    problem = problem_for(plan.belief, plan.model, plan.line, plan.wish, np.ones(5, dtype=bool))
    rows = plan.trade_off
    assert [row.supports for row in rows] == [0, 1, 2, 3, 4, 5]
    for row in rows:
        by_hand = min(
            least_remainder(problem.only(np.isin(np.arange(5), chosen))).remainder_um
            for chosen in itertools.combinations(range(5), row.supports)
        )
        assert row.proven
        assert row.value_um == pytest.approx(2 * by_hand, abs=0.11)
        assert row.at_least_um <= 2 * by_hand + 1e-6
        assert np.count_nonzero(np.abs(row.moves_um) > 1e-6) <= row.supports


def test_above_twelve_supports_each_row_has_a_proven_bound() -> None:
    model, stiffness, setting, places = found_bed(one_row(14), seed=2)
    heights = read(model, stiffness, setting, places)
    plan = plan_correction(model.bed, places, heights, quantity="guideway", noise_um=1.0, goal_um=5.0)
    problem = problem_for(plan.belief, plan.model, plan.line, plan.wish, np.ones(14, dtype=bool))
    rows = trade_off(problem, improved_for_s=1.0)
    values = [row.value_um for row in rows]
    assert len(rows) == 15
    assert all(row.at_least_um <= row.value_um + 1e-6 for row in rows)
    assert values[0] > values[4] > values[14]
    assert all(later <= earlier + 0.2 for earlier, later in itertools.pairwise(values))


def test_what_no_support_can_correct_is_said() -> None:
    bed = one_row(ratio=0.1)  # a stiff bed: ripples shorter than the supports are in the ways themselves
    places = np.linspace(0.0, bed.length_mm, 41)
    ripple = 12.0 * np.cos(2 * np.pi * places / 700.0)
    plan = plan_correction(bed, places, ripple, quantity="guideway", noise_um=1.0, goal_um=5.0)
    assert plan.uncorrectable_um > 0.85 * plan.value_now_um
    assert np.corrcoef(plan.uncorrectable_curve_um, ripple)[0, 1] > 0.95
    assert not plan.reaches_goal
    bow = plan_correction(
        bed, places, 1e-5 * places * (bed.length_mm - places), quantity="guideway", noise_um=1.0, goal_um=5.0
    )
    assert bow.uncorrectable_um < 0.1 * bow.value_now_um


def test_a_crown_is_planned_as_the_target() -> None:
    bed = one_row()
    places = np.linspace(0.0, bed.length_mm, 29)
    crown = 30.0 * (1.0 - (2.0 * places / bed.length_mm - 1.0) ** 2)
    plan = plan_correction(bed, places, np.zeros(29), quantity="guideway", noise_um=1.0, goal_um=10.0, target_um=crown)
    change = expected_reading_change(plan, plan.moves_um, places, None)
    assert value(places, change - crown) < 10.0
    assert value(places, change) > 20.0


def test_height_and_twist_are_planned_together() -> None:
    bed = two_rows()
    model = bed_model(bed)
    places = np.linspace(200.0, 4200.0, 17)
    height = 30.0 * np.sin(np.pi * places / 4400.0)
    roll = np.linspace(-60.0, 60.0, 17)  # um/m: 72 um over the gauge of 0.6 m
    plan = plan_correction(bed, places, height, roll_um_per_m=roll, quantity="guideway", noise_um=1.0, goal_um=12.0)
    assert plan.reaches_goal
    assert plan.predicted_roll_um_per_m is not None
    assert np.ptp(plan.predicted_roll_um_per_m) * 0.6 <= plan.value_um + 1e-6
    assert np.ptp(plan.predicted_um) <= plan.value_um + 1e-6
    # front falls where the operator's side is up, against the rear
    front, rear = plan.moves_um[:5], plan.moves_um[5:]
    assert front[0] - rear[0] > 15.0
    assert front[4] - rear[4] < -15.0
    influence = model.influence(plan.belief.stiffness, plan.line.rows)
    value_um, _ = best_fit(plan.line.value_um + influence @ plan.moves_um, plan.line.free)
    assert plan.calculated_um == pytest.approx(value_um, abs=1e-6)


def test_the_expected_reading_is_in_the_frame_of_the_source() -> None:
    model, stiffness, setting, places = found_bed(one_row())
    heights = read(model, stiffness, setting, places)
    plan = plan_correction(model.bed, places, heights, quantity="guideway", noise_um=1.0, goal_um=20.0)
    raised = np.array([60.0, 0, 0, 0, 0, 0, 0])
    far = np.array([5400.0])
    floor = expected_reading_change(plan, raised, far, None)[0]
    clamped = expected_reading_change(plan, raised, far, Source(150.0))[0]
    assert abs(floor) < 12.0
    assert clamped > 60.0


def test_a_carriage_says_what_it_does_not_see() -> None:
    bed = replace(one_row(), carriage=Carriage(700.0, 500.0))
    places = np.linspace(400.0, 5400.0, 21)
    plan = plan_correction(bed, places, 1e-5 * places**2, quantity="carriage", noise_um=1.0, goal_um=10.0)
    assert plan.unseen_below_mm == 700.0


@pytest.mark.parametrize("anchored", [True, False])
def test_a_round_teaches_the_stiffness(anchored: bool) -> None:
    bed = one_row(anchored=anchored)
    model = bed_model(bed)
    start = prior(model)
    rng = np.random.default_rng(5)
    true = Stiffness(start.stiffness.bending_n_m2 * 1.6, 1.0, 300.0 * np.exp(rng.normal(0, 0.4, 7)))
    setting = rng.normal(0.0, 15.0, 7)
    places = np.linspace(0.0, bed.length_mm, 29)
    belief, seen = start, read(model, true, setting, places)
    before_log = np.log(true.seat_n_per_um) - np.log(start.stiffness.seat_n_per_um)
    turns = ([60.0, 0, 0, -30.0, 0, 0, 0], [0, 0, 60.0, 0, 0, -30.0, 40.0], [0, 60.0, 0, 0, 50.0, 0, 0])
    for moves in (np.array(turn) * sign for sign in (1.0, -0.9) for turn in turns):
        after = read(model, true, setting + moves, places)
        tilt = 50.0 + 0.02 * places  # a new set-up
        told = update_belief(
            belief, bed, places, seen, after + tilt + rng.normal(0, 0.5, 29), moves, noise_um=0.5, turning_error=EXACT
        )
        assert not told.surprise
        belief, setting, seen = told.belief, setting + moves, after
    assert belief.rounds == 6
    after_log = np.log(true.seat_n_per_um) - np.log(belief.stiffness.seat_n_per_um)
    assert np.sqrt(np.mean(after_log**2)) < 0.6 * np.sqrt(np.mean(before_log**2))
    assert belief.stiffness.bending_n_m2 / true.bending_n_m2 == pytest.approx(1.0, abs=0.2)


@pytest.mark.parametrize(
    ("asked", "made", "kind", "support", "other"),
    [
        ([0, 0, 80.0, 0, 0, 0, 0], [0, 0, 0, 80.0, 0, 0, 0], "wrong-support", "3", "4"),
        ([0, 0, 80.0, 0, 0, 0, 0], [0, 0, -80.0, 0, 0, 0, 0], "wrong-direction", "3", None),
        ([0, 0, 80.0, 0, 0, 40.0, 0], [0, 0, 0, 0, 0, 40.0, 0], "not-carrying", "3", None),
        ([0, 0, 80.0, 0, 0, 0, 0], [0, 0, 160.0, 0, 0, 0, 0], "wrong-amount", "3", None),
        ([0, 0, 80.0, 0, 0, 0, 0], [0, 0, 80.0, 0, 0, -70.0, 0], "slipped", "6", None),
    ],
)
def test_a_surprise_is_named(asked: list[float], made: list[float], kind: str, support: str, other: str | None) -> None:
    bed = one_row(ratio=10.0)
    model, stiffness, setting, places = found_bed(bed, seed=8)
    before = read(model, stiffness, setting, places)
    after = read(model, stiffness, setting + np.array(made), places)
    noise = np.random.default_rng(1).normal(0.0, 1.0, (2, places.size))
    told = update_belief(None, bed, places, before + noise[0], after + noise[1], asked, noise_um=1.0)
    assert told.surprise
    first = told.causes[0]
    assert (first.kind, first.support, first.other) == (kind, support, other)
    assert first.probability > 0.5
    assert sum(cause.probability for cause in told.causes) <= 1.0 + 1e-9


def test_no_surprise_where_all_went_as_asked() -> None:
    model, stiffness, setting, places = found_bed(one_row(), seed=8)
    moves = np.array([0, 0, 80.0, 0, 0, -40.0, 0])
    after = read(model, stiffness, setting + moves, places)
    told = update_belief(None, model.bed, places, read(model, stiffness, setting, places), after, moves, noise_um=1.0)
    assert not told.surprise
    assert told.causes == ()
    assert told.observed_um == pytest.approx(told.expected_um, abs=1e-6)


def test_the_same_setup_keeps_offset_and_tilt() -> None:
    # All supports of one end raised: a pure tilt, which only a source that stayed put can see.
    bed = one_row()
    model, stiffness, setting, places = found_bed(bed)
    place = np.array([s.bed_mm for s in model.supports])
    asked, made = 0.02 * place, 0.01 * place
    before, after = (read(model, stiffness, s, places) for s in (setting, setting + made))
    free = update_belief(None, bed, places, before, after, asked, noise_um=1.0)
    held = update_belief(None, bed, places, before, after, asked, noise_um=1.0, same_setup=True)
    assert not free.surprise
    assert held.surprise
    assert held.distance > 5 * free.distance


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"locked": ("9",)}, "correct.unknown_support"),
        ({"locked": tuple("1234567")}, "correct.all_locked"),
        ({"goal_um": 0.0}, "correct.goal_not_positive"),
        ({"quantity": "spindle"}, "correct.unknown_quantity"),
        ({"max_supports": 0}, "correct.no_support_allowed"),
        ({"roll_um_per_m": [0.0]}, "correct.lengths_differ"),
        ({"target_um": [0.0]}, "correct.lengths_differ"),
        ({"noise_um": -1.0}, "correct.negative_noise"),
    ],
)
def test_bad_input_is_refused_in_words(change: dict[str, object], key: str) -> None:
    bed = one_row()
    places = np.linspace(0.0, bed.length_mm, 9)
    asked: dict[str, object] = {"quantity": "guideway", "noise_um": 1.0, "goal_um": 10.0, **change}
    with pytest.raises(BadInput) as caught:
        plan_correction(bed, places, np.zeros(9), **asked)  # type: ignore[arg-type]
    assert caught.value.key == key
    assert len(str(caught.value)) > 20


def test_a_belief_about_another_bed_is_refused() -> None:
    belief = prior(bed_model(one_row(5)))
    places = np.linspace(0.0, 5000.0, 9)
    with pytest.raises(BadInput, match="Start afresh"):
        plan_correction(one_row(7), places, np.zeros(9), quantity="guideway", noise_um=1.0, goal_um=9.0, belief=belief)
