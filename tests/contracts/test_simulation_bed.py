"""The invented bed on its supports, against statics that need no model: rigid beds, loose supports, straight lines."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import msgspec
import numpy as np
import pytest

from waywright.simulation import load_scenario
from waywright.simulation.bed import BedOnSupports
from waywright.simulation.scenario import Scenario
from waywright.simulation.sections import BedTruth

CALM = load_scenario("calm-hall")
PLACES_MM = np.linspace(0.0, 5200.0, 105)
LATER_S = 1e6


def bed_of(scenario: Scenario = CALM, **changed: Any) -> BedOnSupports:
    truth = scenario.truth.bed
    assert isinstance(truth, BedTruth)
    return BedOnSupports(scenario, msgspec.structs.replace(truth, **changed))


def change_by(bed: BedOnSupports, moves_um: dict[str, float]) -> np.ndarray:
    before = bed.at(PLACES_MM, LATER_S)
    for support, move_um in moves_um.items():
        bed.turn(support, move_um, 0.0)
    return np.asarray(bed.at(PLACES_MM, LATER_S) - before)


EXACT = {"turning_part": 0.0, "turning_um": 0.0}
LEVEL = {"found_um": {}, "seat_scatter": 0.0}
SOFT = {"bending_n_m2": 5.0e6, "torsion_n_m2": 2.0e6}


def test_a_rigid_bed_takes_its_source_along_so_that_no_reading_moves() -> None:
    """Only the level tells: both rows differ by 30 um over 0.82 m."""
    front = dict.fromkeys("1234567", 30.0)
    bed = bed_of(bending_n_m2=1e14, torsion_n_m2=1e14, **EXACT, **LEVEL)
    height_um, side_um, roll = change_by(bed, front)
    np.testing.assert_allclose(roll, 30.0 / 0.82, atol=0.05)
    # the detector stands 210 mm from the middle, where the source has its own: a shift, no form
    assert np.ptp(height_um) < 0.05
    assert np.abs(side_um).max() < 0.05
    tilted = bed_of(bending_n_m2=1e14, torsion_n_m2=1e14, **EXACT, **LEVEL)
    support_mm = {name: 200.0 + 1000.0 * (int(name) - 1) % 7000.0 for name in tilted.supports}
    height_um, side_um, roll = change_by(tilted, {name: 0.01 * mm for name, mm in support_mm.items()})
    assert np.abs([height_um, side_um, roll]).max() < 0.05


def test_turning_the_support_under_the_source_moves_readings_far_away_along_a_straight_line() -> None:
    """A soft bed does not move 3 m from the support that is turned; the reading there does, as the source tilts."""
    bed = bed_of(**SOFT, **EXACT, **LEVEL)
    height_um, _, roll = change_by(bed, {"7": 10.0, "14": 10.0})
    far = PLACES_MM > 3200.0
    assert np.abs(roll[far]).max() < 0.02
    line = np.polyfit(PLACES_MM[far] / 1000.0, height_um[far], 1)
    assert np.abs(height_um[far] - np.polyval(line, PLACES_MM[far] / 1000.0)).max() < 0.3
    # raised at 6200 mm, 120 mm left of the source: the source leans back towards the headstock or forward, never not
    assert abs(line[0]) > 1.0
    middle = bed_of(**SOFT, **EXACT, **LEVEL)
    height_um, _, _ = change_by(middle, {"3": 10.0, "10": 10.0})
    near_source = PLACES_MM < 1200.0
    assert np.abs(height_um[near_source]).max() < 0.5
    assert PLACES_MM[np.argmax(height_um)] == pytest.approx(5950.0 - 2200.0, abs=150.0)


def test_a_support_that_hangs_does_nothing_until_it_touches() -> None:
    bed = bed_of(**EXACT)
    force_n = bed.force_n()
    assert [name for name, force in force_n.items() if force == 0.0] == ["10"]
    assert min(force for name, force in force_n.items() if name != "10") > 1000.0
    assert np.abs(change_by(bed, {"10": 60.0})).max() == pytest.approx(0.0, abs=1e-9)
    raised = change_by(bed, {"10": 105.0})
    assert np.ptp(raised[0]) > 5.0
    assert bed.force_n()["10"] > 1000.0


def test_all_supports_together_carry_the_weight_of_the_bed() -> None:
    bed = bed_of()
    assert CALM.machine.bed is not None
    weight_n = (CALM.machine.bed.mass_kg or 0.0) * 9.80665
    assert sum(bed.force_n().values()) == pytest.approx(weight_n, rel=1e-6)


def test_a_turn_is_made_as_well_as_a_fitter_can() -> None:
    bed = bed_of()
    small = np.array([bed.turn("4", 10.0, 0.0) - 10.0 for _ in range(150)])
    large = np.array([bed.turn("4", (-1) ** n * 100.0, 0.0) - (-1) ** n * 100.0 for n in range(150)])
    # normal, cut off at twice its standard deviation: 0.88 of it is left
    assert small.std() == pytest.approx(3.0 * 0.88, rel=0.2)
    assert large.std() == pytest.approx(10.0 * 0.88, rel=0.2)
    assert np.abs(small).max() <= 6.0 + 1e-9
    assert np.abs(large).max() <= 20.0 + 1e-9
    assert abs(large.mean()) < 2.5


def test_most_of_a_turn_is_there_at_once_and_the_rest_creeps_in() -> None:
    bed = bed_of(**EXACT)
    before = bed.at(PLACES_MM, 0.0)
    bed.turn("4", 50.0, 100.0)
    at_once, a_while, settled = (bed.at(PLACES_MM, time_s) - before for time_s in (100.0, 145.0, LATER_S))
    part = 0.12
    np.testing.assert_allclose(at_once, (1.0 - part) * settled, atol=1e-9)
    np.testing.assert_allclose(a_while, (1.0 - part / np.e) * settled, atol=1e-9)
    # a second turn on top of the first, which has not come through
    there = bed.at(PLACES_MM, 110.0)
    bed.turn("5", 1e-9, 110.0)
    np.testing.assert_allclose(bed.at(PLACES_MM, 1e5), before + settled, atol=1e-6)
    assert np.abs(bed.at(PLACES_MM, 110.0) - there).max() < np.abs(settled - (there - before)).max()


def test_the_carriage_presses_the_bed_down_where_it_stands() -> None:
    """Level and even: only the moving mass makes a form, deepest between two supports of a bed soft between them."""
    assert CALM.machine.bed is not None
    assert CALM.machine.bed.carriage is not None
    light = bed_of(**LEVEL).at(PLACES_MM)[0]
    heavier = replace(CALM.machine.bed.carriage, mass_kg=2.0 * CALM.machine.bed.carriage.mass_kg)
    machine = replace(CALM.machine, bed=replace(CALM.machine.bed, carriage=heavier))
    heavy = bed_of(msgspec.structs.replace(CALM, machine=machine), **LEVEL).at(PLACES_MM)[0]
    more = heavy - light
    assert np.ptp(more - np.polyval(np.polyfit(PLACES_MM, more, 1), PLACES_MM)) > 0.5
    assert np.ptp(light) < 40.0


def test_with_a_twist_the_side_follows_the_height_of_the_detector_above_the_ways() -> None:
    bed = bed_of(**EXACT, **LEVEL)
    _, side_um, roll = change_by(bed, {name: 10.0 * int(name) for name in "1234567"})
    assert np.ptp(roll) > 30.0
    # 140 mm above the bearing centre, towards the operator negative where his side goes up; apart from the source's own
    np.testing.assert_allclose(np.diff(side_um), -0.14 * np.diff(roll), atol=1e-6)
