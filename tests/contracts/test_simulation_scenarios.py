"""Every scenario that comes with the program does what its name says, and is the calm hall in everything else."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import msgspec
import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.simulation import Scenario, load_scenario, scenario_names
from waywright.simulation.carriage import Carriage
from waywright.simulation.devices import BeamDetector, DistanceMeter
from waywright.simulation.operator import Stop, plan_programme
from waywright.simulation.places import Places
from waywright.simulation.scenario import read_scenario
from waywright.simulation.sections import Air, Beam, Drift, Level
from waywright.simulation.truth import CarriageForm, carriage_form

CALM = load_scenario("calm-hall")
RATE_HZ = 50.0


def driven(scenario: Scenario) -> tuple[CarriageForm, Carriage]:
    carriage = Carriage(plan_programme(scenario))
    carriage.begin(0.0)
    return carriage_form(scenario), carriage


def beam_of(scenario: Scenario) -> tuple[np.ndarray, np.ndarray, np.ndarray, tuple[Stop, ...]]:
    """Times (n,), reading less truth (2, n) in um, readings (2, n), and the stops of a whole programme."""
    form, carriage = driven(scenario)
    time_s = np.arange(0.0, carriage.programme.duration_s, 1.0 / RATE_HZ)
    reading_um = BeamDetector(scenario, form, carriage).reading_um(time_s)
    seen = form.at(carriage.at(time_s).position_mm, time_s)
    return time_s, reading_um - np.stack([seen.height_um, seen.side_um]), reading_um, carriage.programme.stops


def silent(scenario: Scenario, **kept: object) -> Scenario:
    """The scenario without noise, drift and visitors; ``kept`` says what stays."""
    quiet = {"beam": Beam(), "drift": Drift(), "air": Air(), "level": Level(), "passers": ()}
    return msgspec.structs.replace(scenario, **(quiet | kept))


def at_stop(time_s: np.ndarray, stop: Stop, from_s: float, lasts_s: float) -> np.ndarray:
    return (time_s > stop.from_s + from_s) & (time_s < stop.from_s + from_s + lasts_s)


def spread_um(name: str, lasts_s: float = 3.0) -> tuple[float, float]:
    """Far from the source: scatter of single samples in a window, and of the means of windows, in um (height)."""
    time_s, off_um, _, stops = beam_of(load_scenario(name))
    far = [stop for stop in stops if stop.position_mm > 3500.0]
    windows = [off_um[0, at_stop(time_s, stop, 2.0, lasts_s)] for stop in far]
    means = np.array([window.mean() for window in windows])
    place = np.array([stop.position_mm for stop in far])
    # how the beam lies aslant is a straight line and does not count
    line = np.polyval(np.polyfit(place, means, 1), place)
    return float(np.mean([window.std() for window in windows])), float((means - line).std())


def test_all_that_are_promised_are_there_and_share_the_machine() -> None:
    names = {
        "calm-hall", "open-door", "person-in-the-beam", "slipped-magnet", "hollow-support", "swapped-channels",
        "cold-morning",
    }  # fmt: skip
    assert set(scenario_names()) == names
    for name in names:
        scenario = load_scenario(Path(name))
        assert scenario == load_scenario(name)
        assert scenario.machine == CALM.machine
        assert scenario.travel_mm == CALM.travel_mm
        assert scenario.title.lower().replace(" ", "-") == name


def test_in_the_calm_hall_a_reading_repeats_within_a_micrometre_or_two() -> None:
    single_um, mean_um = spread_um("calm-hall")
    assert single_um < 3.0
    assert mean_um < 1.5


def test_an_open_door_makes_the_air_restless_and_means_no_longer_repeat() -> None:
    calm, door = spread_um("calm-hall"), spread_um("open-door")
    assert door[0] > 2.5 * calm[0]
    assert door[1] > 3.0 * calm[1]


def test_air_that_is_warmer_above_lifts_what_the_detector_reads_with_the_square_of_the_distance() -> None:
    """dn/dT = -0.93e-6 per K: a ray bends by that times the gradient; 1 K/m over 5 m is 11.6 um."""
    scenario = silent(CALM, air=Air(gradient_k_per_m=1.0))
    _, off_um, _, _ = beam_of(scenario)
    _, carriage = driven(scenario)
    time_s = np.arange(0.0, carriage.programme.duration_s, 1.0 / RATE_HZ)
    distance_m = Places(scenario).from_source_m(carriage.at(time_s).position_mm)
    np.testing.assert_allclose(off_um[0], 0.465 * distance_m**2, atol=1e-9)
    assert off_um[0].max() > 11.6
    assert np.abs(off_um[1]).max() < 1e-9


def test_people_cut_the_beam_four_times_and_once_for_longer_than_a_window() -> None:
    scenario = load_scenario("person-in-the-beam")
    form, carriage = driven(scenario)
    lines = BeamDetector(scenario, form, carriage).lines(carriage.programme.duration_s)
    lost_s = np.array([instant for instant, text in lines if "9999.9" in text])
    cuts = np.split(lost_s, np.flatnonzero(np.diff(lost_s) > 1.0) + 1)
    assert len(cuts) == 4
    assert max(np.ptp(cut) for cut in cuts) > 4.0
    calm = BeamDetector(CALM, *driven(CALM)).lines(carriage.programme.duration_s)
    assert 0 < sum("9999.9" in text for _, text in calm) < 0.2 * lost_s.size


def test_a_slipped_magnet_shifts_every_reading_from_then_on_by_the_same() -> None:
    scenario = silent(load_scenario("slipped-magnet"))
    time_s, off_um, _, stops = beam_of(scenario)
    stop = stops[13]
    before, after = time_s < stop.from_s + 6.9, time_s > stop.from_s + 7.1
    np.testing.assert_allclose(off_um[:, before], 0.0, atol=1e-9)
    np.testing.assert_allclose(off_um[:, after].T, [[-26.0, 9.0]] * int(after.sum()), atol=1e-9)
    # it slips while he still waits there, after a window has been taken, and only once
    assert stop.to_s > stop.from_s + 7.0
    _, carriage = driven(scenario)
    carriage.begin(carriage.programme.duration_s + 1.0)
    assert carriage.has_slipped(np.array([1e5]))[0] == 1.0


def test_in_the_hollow_support_scenario_two_supports_hang_and_turning_them_a_little_does_nothing() -> None:
    form = carriage_form(load_scenario("hollow-support"))
    assert form.bed is not None
    assert [name for name, force_n in form.bed.force_n().items() if force_n == 0.0] == ["4", "11"]
    places_mm = np.linspace(0.0, 5200.0, 27)
    before = form.at(places_mm)
    form.bed.turn("4", 15.0, 0.0)
    form.bed.turn("11", 15.0, 0.0)
    np.testing.assert_array_equal(form.at(places_mm).height_um, before.height_um)
    form.bed.turn("4", 50.0, 0.0)
    assert form.bed.force_n()["4"] > 0.0
    assert np.ptp(form.at(places_mm).height_um - before.height_um) > 1.0


def test_with_swapped_channels_the_height_comes_as_side() -> None:
    scenario = load_scenario("swapped-channels")
    assert scenario.beam.swapped
    quiet = silent(scenario, beam=Beam(swapped=True))
    form, carriage = driven(quiet)
    time_s = np.arange(0.0, carriage.programme.duration_s, 0.5)
    first, second = BeamDetector(quiet, form, carriage).reading_um(time_s)
    seen = form.at(carriage.at(time_s).position_mm, time_s)
    np.testing.assert_allclose(first, seen.side_um, atol=1e-9)
    np.testing.assert_allclose(second, seen.height_um, atol=1e-9)


def test_on_a_cold_morning_the_bed_crowns_while_it_is_measured_and_the_beam_wanders() -> None:
    scenario = load_scenario("cold-morning")
    form = carriage_form(scenario)
    places_mm = np.array([0.0, 2600.0, 5200.0])

    def crown_um(time_s: float) -> float:
        height_um = form.at(places_mm, time_s).height_um
        return float(height_um[1] - height_um[[0, 2]].mean())

    grown = [crown_um(time_s) - crown_um(0.0) for time_s in (270.0, 540.0, 900.0, 1e6)]
    np.testing.assert_allclose(
        grown, [38.0 * (1.0 - np.exp(-t / 900.0)) for t in (270.0, 540.0, 900.0, 1e6)], atol=1e-6
    )
    # between the middles of the two passes of one programme: more than any noise of the calm hall
    assert crown_um(400.0) - crown_um(130.0) > 7.0
    assert spread_um("cold-morning")[1] > 1.3 * spread_um("calm-hall")[1]


def test_a_turned_detector_mixes_height_and_side_and_one_that_is_not_linear_bends_large_readings() -> None:
    aslant = silent(CALM, beam=Beam(alignment_um=(1000.0, 500.0), roll_um_per_m=10_000.0))
    _, off_um, _, _ = beam_of(aslant)
    assert off_um[0].mean() == pytest.approx(1000.0 + 500.0 * 0.01, abs=3.5)
    assert off_um[1].mean() == pytest.approx(500.0 - 1000.0 * 0.01, abs=3.5)
    bent = silent(CALM, beam=Beam(alignment_um=(1000.0, 0.0), nonlinearity_um=20.0))
    _, off_um, reading_um, _ = beam_of(bent)
    met_um = reading_um[0] - (off_um[0] - 1000.0)
    np.testing.assert_allclose(off_um[0] - 1000.0, 20.0 * ((met_um + 0.0) / 1000.0) ** 3, atol=1e-6)


def test_play_makes_the_meter_read_differently_forward_and_backward() -> None:
    meter = msgspec.structs.replace(CALM.distance, backlash_mm=0.4, noise_mm=0.0)
    scenario = msgspec.structs.replace(CALM, distance=meter)
    _, carriage = driven(scenario)
    lines = DistanceMeter(scenario, carriage).lines(carriage.programme.duration_s)
    time_s = np.array([instant for instant, _ in lines])
    lag_mm = np.array([float(text.removesuffix(" mm")) for _, text in lines]) - carriage.at(time_s).position_mm
    forward, backward = time_s < 150.0, time_s > carriage.programme.duration_s - 100.0
    moved = time_s > carriage.programme.stops[0].to_s + 1.0
    np.testing.assert_allclose(lag_mm[forward & moved], -0.2, atol=0.006)
    np.testing.assert_allclose(lag_mm[backward], 0.2, atol=0.006)


def test_a_scenario_may_say_only_what_is_different_from_one_that_comes_with_the_program() -> None:
    changed = read_scenario(b'based_on = "calm-hall"\ntitle = "Quiet"\n[air]\nwhite_um = [0.1, 0.1]\n', "own.toml")
    assert changed.title == "Quiet"
    assert changed.air == msgspec.structs.replace(CALM.air, white_um=(0.1, 0.1))
    assert replace(changed.machine) == CALM.machine
    with pytest.raises(BadInput, match=r"based_on must be one of .*calm-hall"):
        read_scenario(b'based_on = "moon"\n', "own.toml")
    with pytest.raises(BadInput, match=r"\$\.air"):
        read_scenario(b'based_on = "calm-hall"\n[air]\nwhite = [1, 1]\n', "own.toml")
