"""The workshop's further instruments against its own truth: signs, physics, faults."""

from __future__ import annotations

import math

import msgspec
import numpy as np

from waywright.simulation.carriage import Carriage
from waywright.simulation.devices import AirGradient, CrossLevel
from waywright.simulation.further_devices import (
    OVER_RANGE,
    ControllerPosition,
    PitchAndYaw,
    RidingIndicator,
    SteadyLevel,
    Thermometers,
)
from waywright.simulation.further_sections import Autocollimator, Climate, Controller, Indicator, ReferenceLevel
from waywright.simulation.motion import Leg, StickSlip, Track
from waywright.simulation.operator import plan_programme
from waywright.simulation.scenario import Scenario, load_scenario
from waywright.simulation.sections import Form, Level, Truth, Warming
from waywright.simulation.truth import CarriageForm, carriage_form

# a carriage that falls and goes away from the operator along a gentle arc; no bed, no noise
BOWED = msgspec.structs.replace(
    load_scenario("calm-hall"),
    truth=Truth(height=Form(bow=80.0), side=Form(bow=-30.0), roll=Form(bow=5.0)),
    autocollimator=Autocollimator(noise_um_per_m=0.0, air_um_per_m=0.0, zero_um_per_m=(40.0, -20.0)),
    indicator=Indicator(friction_um=0.0, noise_um=0.0, resolution_um=0.01),
    controller=Controller(backlash_mm=0.0),
    reference_level=ReferenceLevel(noise_um_per_m=0.0),
    climate=Climate(noise_k=0.0),
)


def driven(scenario: Scenario) -> Carriage:
    carriage = Carriage(plan_programme(scenario))
    carriage.begin(0.0)
    return carriage


def parts(scenario: Scenario) -> tuple[CarriageForm, Carriage]:
    return carriage_form(scenario), driven(scenario)


def test_the_autocollimator_sees_the_slope_of_the_carriages_path() -> None:
    form, carriage = parts(BOWED)
    seconds = np.arange(0.0, carriage.programme.duration_s, 3.0)
    position_mm = carriage.at(seconds).position_mm
    tilt, turn = PitchAndYaw(BOWED, form, carriage).reading_um_per_m(seconds)
    # derivative of bow 4 u (1 - u); positions grow to the left (sense -1), so "right side up" turns it over
    slope_per_m = 4.0 * (1.0 - 2.0 * position_mm / BOWED.travel_mm) / (BOWED.travel_mm * 1e-3)
    np.testing.assert_allclose(tilt, -80.0 * slope_per_m + 40.0, atol=1e-6)
    np.testing.assert_allclose(turn, -30.0 * slope_per_m - 20.0, atol=1e-6)


def test_the_indicator_is_pressed_in_as_the_carriage_sinks_and_over_range_beside_its_straightedge() -> None:
    form, carriage = parts(BOWED)
    dial = RidingIndicator(BOWED, form, carriage)
    ends_mm = np.array([BOWED.indicator.from_mm, BOWED.indicator.to_mm])
    high, low = dial.pressed_um(ends_mm, np.ones(2), np.zeros(2))
    height_um = form.at(ends_mm).height_um
    assert math.isclose(low - high, BOWED.indicator.tilt_um - (height_um[1] - height_um[0]))
    said = dial.lines(carriage.programme.duration_s / 2.0)
    place_mm = carriage.at(np.array([when for when, _ in said])).position_mm
    on_it = (place_mm >= ends_mm[0]) & (place_mm <= ends_mm[1])
    assert on_it.any()
    assert not on_it.all()
    assert [text == OVER_RANGE for _, text in said] == (~on_it).tolist()


def test_friction_of_the_indicator_lags_either_way() -> None:
    rough = msgspec.structs.replace(BOWED, indicator=msgspec.structs.replace(BOWED.indicator, friction_um=0.8))
    dial = RidingIndicator(rough, *parts(rough))
    there = dial.pressed_um(np.array([2000.0, 2000.0]), np.array([1.0, -1.0]), np.zeros(2))
    assert math.isclose(there[1] - there[0], 1.6)


def test_the_thermometers_show_the_gradient_that_bends_the_beam_and_the_heat_that_crowns_the_bed() -> None:
    cold = msgspec.structs.replace(
        load_scenario("cold-morning"), climate=Climate(noise_k=0.0, low_m=0.4, high_m=2.4, expansion_um_per_m_k=11.5)
    )
    warm = msgspec.structs.replace(cold, truth=msgspec.structs.replace(cold.truth, warming=Warming(38.0, 900.0)))
    seconds = np.array([0.0, 600.0, 1e6])
    low, high, top, foot = Thermometers(warm, carriage_form(warm)).degc(seconds)
    np.testing.assert_allclose((high - low) / 2.0, AirGradient(warm).at(seconds))
    # a bar that is warmer on top by dT crowns by a dT L^2 / (8 h): 11.5 um/(m K), 6.4 m long, 0.62 m high
    np.testing.assert_allclose(11.5 * (top - foot)[-1] * 6.4**2 / (8.0 * 0.62), 38.0, rtol=1e-9)
    assert (top - foot)[0] == 0.0


def test_the_second_level_of_the_pair_feels_the_same_floor() -> None:
    calm = Level(zero_um_per_m=17.0, sway_um_per_m=12.0, settle_um_per_m=0.0)
    swaying = msgspec.structs.replace(BOWED, level=calm)
    still = Carriage(plan_programme(swaying))
    form = carriage_form(swaying)
    upper = np.array([float(text[1:]) for _, text in CrossLevel(swaying, form, still).lines(200.0)])
    lower = np.array([float(text[1:]) for _, text in SteadyLevel(swaying, form).lines(200.0)])
    # the floor sways by 12 um/m, less a correlation time of 4 s in 200 s; the difference is rounding alone
    assert upper.std() > 8.0
    assert (upper - lower).std() < 0.5


def test_the_controller_counts_too_little_on_a_scale_that_is_too_long() -> None:
    carriage = driven(BOWED)
    said = ControllerPosition(BOWED, carriage).lines(carriage.programme.duration_s / 2.0)
    when = np.array([second for second, _ in said])
    told_mm = np.array([float(text) for _, text in said])
    true_mm = carriage.at(when).position_mm
    np.testing.assert_allclose(true_mm - told_mm, 14e-6 * true_mm, atol=0.00051)


def test_stick_and_slip_lags_in_steps_and_never_goes_back() -> None:
    legs = (Leg(0.0, 1.0, 0.0, 0.0), Leg(1.0, 5.0, 0.0, 240.0), Leg(5.0, 8.0, 240.0, 240.0), Leg(8.0, 12.0, 240.0, 0.0))
    seconds = np.arange(0.0, 12.0, 0.002)
    smooth, rough = (Track(legs, 0.5, how).at(seconds) for how in (None, StickSlip(0.1, 12.0)))
    lag_mm = np.abs(rough.position_mm - smooth.position_mm)
    assert 0.05 < lag_mm.max() <= 0.1 + 1e-9
    assert np.all(lag_mm[smooth.speed_mm_per_s >= 12.0] == 0.0)
    there, back = seconds < 8.0, seconds >= 8.0
    assert np.all(np.diff(rough.position_mm[there]) >= -1e-9)
    assert np.all(np.diff(rough.position_mm[back]) <= 1e-9)
    slow = (smooth.speed_mm_per_s > 0.0) & (smooth.speed_mm_per_s < 6.0)
    assert np.mean(np.diff(rough.position_mm[slow]) == 0.0) > 0.5


def test_the_scenario_lets_the_carriage_stick() -> None:
    sticky = msgspec.structs.replace(
        BOWED, operator=msgspec.structs.replace(BOWED.operator, stick_mm=0.2, stick_below_mm_per_s=8.0)
    )
    assert plan_programme(sticky).sticks == StickSlip(0.2, 8.0)
    assert plan_programme(BOWED).sticks is None
