"""Side jacks, and a belief that is kept with the machine."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import numpy as np
import pytest

from waywright.correct import Belief, bed_model, plan_correction, update_belief
from waywright.errors import BadInput
from waywright.machine import Bed, Support

PLACES = np.linspace(100.0, 4900.0, 25)


def with_jacks() -> Bed:
    feet = tuple(Support(str(i + 1), 200.0 + 1150.0 * i, "middle", anchored=True) for i in range(5))
    jacks = tuple(Support(f"S{i + 1}", 200.0 + 1150.0 * i, kind="side-jack") for i in range(5))
    return Bed(5000.0, feet + jacks, height_mm=600.0, row_distance_mm=500.0)


def test_the_side_is_planned_on_the_side_jacks() -> None:
    side = 40.0 * np.sin(np.pi * PLACES / 5000.0)
    plan = plan_correction(with_jacks(), PLACES, side, quantity="guideway", noise_um=1.0, goal_um=15.0, sideways=True)
    assert plan.supports == ("S1", "S2", "S3", "S4", "S5")
    assert plan.value_um < 0.5 * plan.value_now_um
    # the middle bulges towards the operator: jacks there ease it away, against those at the ends
    assert plan.moves_um[2] < plan.moves_um[[0, 4]].max()
    height = plan_correction(with_jacks(), PLACES, side, quantity="guideway", noise_um=1.0, goal_um=15.0)
    assert height.supports == ("1", "2", "3", "4", "5")


def test_side_without_jacks_is_refused() -> None:
    bed = replace(with_jacks(), supports=with_jacks().supports[:5])
    with pytest.raises(BadInput, match="two side jacks"):
        bed_model(bed, sideways=True)


def test_a_belief_survives_being_stored() -> None:
    bed = with_jacks()
    moves = np.array([0.0, 60.0, 0.0, 0.0, -40.0])
    model = bed_model(bed)
    rows = np.random.default_rng(0).normal(0.0, 1.0, PLACES.size)
    told = update_belief(None, bed, PLACES, np.zeros(PLACES.size), rows, moves * 0.0, noise_um=1.0)
    again = msgspec.json.decode(msgspec.json.encode(told.belief), type=Belief)
    assert again == told.belief
    assert again.rounds == 1
    assert again.stiffness.seat_n_per_um.shape == (len(model.supports),)
