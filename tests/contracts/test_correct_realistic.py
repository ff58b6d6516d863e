"""The planner before a bed as it is found: stiffness unknown, one support hanging, part of the form machined in.

The truth is the invented lathe of the practice workshop: its bed, its seats and its hanging support are computed with
a stiffness of their own, with the carriage's weight where it stands, none of which the planner is told. A second case
is a machine record with supports and little else, over a form that may as well have been machined in.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from waywright.correct import Plan, plan_correction, update_belief
from waywright.machine import Bed
from waywright.simulation import load_scenario
from waywright.simulation.places import Places
from waywright.simulation.truth import CarriageForm, carriage_form

CALM = load_scenario("calm-hall")
GOAL_UM = 15.0
POSITION_MM = np.linspace(CALM.travel_mm, 0.0, 23)
BED_MM = Places(CALM).bearing_mm(POSITION_MM)


def bed() -> Bed:
    assert CALM.machine.bed is not None
    return CALM.machine.bed


def bare_bed() -> Bed:
    """Supports, length and gauge: all that a hasty machine record holds."""
    whole = bed()
    return Bed(whole.length_mm, whole.supports, gauge_mm=whole.gauge_mm, headstock_mm=whole.headstock_mm)


def measured(form: CarriageForm, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Height in um and roll in um/m as the instruments give them: with noise, an offset and a tilt of the beam."""
    seen, noise = form.at(POSITION_MM), np.random.default_rng(seed).normal(0.0, 0.6, (2, POSITION_MM.size))
    return seen.height_um + noise[0] + 20.0 + 3e-3 * POSITION_MM, seen.roll_um_per_m + noise[1] + 17.0


def plan_of(which: Bed, height_um: np.ndarray, roll_um_per_m: np.ndarray) -> Plan:
    quantity = "carriage" if which.carriage else "guideway"
    return plan_correction(
        which, BED_MM, height_um, quantity=quantity, noise_um=1.0, goal_um=GOAL_UM, roll_um_per_m=roll_um_per_m
    )


def plan_as_found() -> Plan:
    return plan_of(bed(), *measured(carriage_form(CALM), 1))


def plan_over_a_bow() -> Plan:
    """A hollow bow of 38 um, an S and a wave, told to a planner that knows supports and length only."""
    u = POSITION_MM / CALM.travel_mm
    height_um = (
        -38.0 * 4.0 * u * (1.0 - u) + 11.0 * np.sin(2.0 * np.pi * u) + 5.0 * np.cos(2.0 * np.pi * BED_MM / 1000.0)
    )
    roll = 9.0 * 4.0 * u * (1.0 - u) + 12.0 * np.sin(2.0 * np.pi * u)
    noise = np.random.default_rng(4).normal(0.0, 0.6, (2, POSITION_MM.size))
    return plan_of(bare_bed(), height_um + noise[0], roll + noise[1])


@pytest.fixture(scope="module", params=[plan_as_found, plan_over_a_bow], ids=["as-found", "bow"])
def plan(request: pytest.FixtureRequest) -> Plan:
    made: Plan = request.param()
    return made


def test_with_no_support_touched_the_value_is_the_value_now(plan: Plan) -> None:
    [none] = [row for row in plan.trade_off if row.supports == 0]
    assert none.value_um == pytest.approx(plan.value_now_um, abs=0.05)
    assert none.proven


def test_one_more_support_never_makes_it_worse(plan: Plan) -> None:
    values = [row.value_um for row in plan.trade_off]
    assert [row.supports for row in plan.trade_off] == list(range(len(values)))
    assert all(after <= before + 0.05 for before, after in itertools.pairwise(values))


def test_the_interval_holds_the_value_that_is_expected(plan: Plan) -> None:
    low, high = plan.interval_um
    assert low <= plan.value_um <= high


def test_a_plan_is_worth_turning_for(plan: Plan) -> None:
    """What is expected, even at the upper end of the interval, is better than leaving the machine alone."""
    assert plan.value_um < 0.5 * plan.value_now_um
    assert plan.interval_um[1] < plan.value_now_um
    assert np.abs(plan.moves_um).max() <= 200.0


def test_a_form_that_is_not_straight_does_not_prove_that_supports_hang(plan: Plan) -> None:
    assert len(plan.hollow_now) <= 1


def test_the_invented_lathe_comes_to_its_goal_within_three_rounds() -> None:
    form = carriage_form(CALM)
    assert form.bed is not None
    height_um, roll = measured(form, 1)
    belief = None
    values: list[float] = []
    for number in range(4):
        plan = plan_correction(
            bed(), BED_MM, height_um, quantity="carriage", noise_um=1.0, goal_um=GOAL_UM,
            roll_um_per_m=roll, belief=belief,
        )  # fmt: skip
        values.append(plan.value_now_um)
        if values[-1] <= GOAL_UM:
            break
        for name, move_um in zip(plan.supports, plan.moves_um, strict=True):
            if move_um:
                form.bed.turn(name, float(move_um), 0.0)
        after_um, roll_after = measured(form, number + 2)
        learnt = update_belief(
            plan.belief, bed(), BED_MM, height_um, after_um, plan.moves_um, noise_um=1.0, quantity="carriage",
            roll_before_um_per_m=roll, roll_after_um_per_m=roll_after,
        )  # fmt: skip
        belief, height_um, roll = learnt.belief, after_um, roll_after
    assert 60.0 < values[0] < 95.0
    assert min(values) <= GOAL_UM
