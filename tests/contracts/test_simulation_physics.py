"""What the invented workshop's instruments say, against its own truth: signs, distances, noise."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import msgspec
import numpy as np
import pytest

from waywright.instruments import Decoder, Flaw, read_instrument
from waywright.simulation.carriage import Carriage
from waywright.simulation.descriptions import write_descriptions
from waywright.simulation.devices import BeamDetector, CrossLevel, DistanceMeter, devices
from waywright.simulation.operator import plan_programme
from waywright.simulation.places import Places
from waywright.simulation.protocol import Endpoint
from waywright.simulation.scenario import Scenario, load_scenario
from waywright.simulation.sections import Air, Beam, Drift, Level
from waywright.simulation.sections import DistanceMeter as Meter
from waywright.simulation.truth import carriage_form

CALM = load_scenario("calm-hall")
SILENT = msgspec.structs.replace(
    CALM,
    beam=Beam(alignment_um=(30.0, -20.0), alignment_um_per_m=(12.0, -7.0)),
    drift=Drift(),
    air=Air(),
    level=Level(zero_um_per_m=17.0),
    distance=Meter(),
    passers=(),
)
ENDPOINTS = {
    "beam": Endpoint("tcp", 50001, host="127.0.0.1"),
    "distance": Endpoint("serial", r"COM7\odd", baud=115200),
    "level": Endpoint("tcp", 50002, host="127.0.0.1"),
}


def driven(scenario: Scenario) -> Carriage:
    carriage = Carriage(plan_programme(scenario))
    carriage.begin(0.0)
    return carriage


def test_without_noise_a_beam_reading_is_the_truth_and_the_known_lie_of_the_beam() -> None:
    form, carriage = carriage_form(SILENT), driven(SILENT)
    seconds = np.arange(0.0, carriage.programme.duration_s, 0.7)
    position_mm = carriage.at(seconds).position_mm
    # source clamped at bed 6320 mm; zero at 5950 mm, positions grow to the left; detector 60 mm to the left
    distance_m = (6320.0 - (5950.0 - position_mm - 60.0)) / 1000.0
    vertical_um, side_um = BeamDetector(SILENT, form, carriage).reading_um(seconds)
    np.testing.assert_allclose(vertical_um, form.at(position_mm).height_um + 30.0 + 12.0 * distance_m, atol=1e-9)
    np.testing.assert_allclose(side_um, form.at(position_mm).side_um - 20.0 - 7.0 * distance_m, atol=1e-9)


def test_without_noise_the_level_says_the_roll_and_its_own_zero_error() -> None:
    form, carriage = carriage_form(SILENT), driven(SILENT)
    seconds = np.arange(0.0, carriage.programme.duration_s, 0.7)
    roll = form.at(carriage.at(seconds).position_mm).roll_um_per_m
    level = CrossLevel(SILENT, form, carriage)
    np.testing.assert_allclose(level.reading_um_per_m(seconds), roll + 17.0, atol=1e-9)


def test_without_noise_the_distance_meter_reads_positions_to_its_resolution() -> None:
    carriage = driven(SILENT)
    lines = DistanceMeter(SILENT, carriage).lines(60.0)
    read_mm = np.array([float(text.removesuffix(" mm")) for _, text in lines])
    true_mm = carriage.at(np.array([instant for instant, _ in lines])).position_mm
    assert len(lines) == 601
    assert np.ptp(true_mm) > 800.0
    assert np.abs(read_mm - true_mm).max() <= 0.005 + 1e-9


def test_the_air_grows_with_the_distance_from_the_source() -> None:
    scenario = msgspec.structs.replace(SILENT, air=Air((2.0, 1.0), (0.0, 0.0)))
    form, carriage = carriage_form(scenario), Carriage(plan_programme(scenario))
    carriage.begin(0.0)
    places = Places(scenario)
    stops = (carriage.programme.stops[2], carriage.programme.stops[20])
    for stop in stops:
        seconds = np.linspace(stop.from_s, stop.to_s, 8000)
        scatter_um = BeamDetector(scenario, form, carriage).reading_um(seconds).std(axis=1)
        growth = (places.from_source_m(np.array([stop.position_mm]))[0] / 5.0) ** 1.5
        np.testing.assert_allclose(scatter_um, np.array([2.0, 1.0]) * growth, rtol=0.04)


def test_slow_air_is_correlated_over_its_memory_and_the_white_part_is_not() -> None:
    def correlation(air: Air) -> float:
        scenario = msgspec.structs.replace(SILENT, air=air)
        carriage = Carriage(plan_programme(scenario))
        seconds = np.arange(200_000) / 50.0
        reading = BeamDetector(scenario, carriage_form(scenario), carriage).reading_um(seconds)[0]
        reading = reading - reading.mean()
        return float((reading[50:] * reading[:-50]).mean() / reading.var())

    # one second apart with a memory of one second: exp(-1)
    assert correlation(Air((0.0, 0.0), (2.0, 2.0), 1.0)) == pytest.approx(np.exp(-1.0), abs=0.06)
    assert correlation(Air((2.0, 2.0), (0.0, 0.0), 1.0)) == pytest.approx(0.0, abs=0.02)


def test_the_beam_drifts_slowly_from_nothing_by_about_its_size() -> None:
    scenario = msgspec.structs.replace(SILENT, drift=CALM.drift)
    carriage, form = Carriage(plan_programme(scenario)), carriage_form(scenario)
    seconds = np.arange(0.0, 3600.0, 1.0)
    drift_um = BeamDetector(scenario, form, carriage).reading_um(seconds)
    drift_um -= drift_um[:, :1]
    distance_m = Places(scenario).from_source_m(carriage.at(np.zeros(1)).position_mm)[0]
    bound_um = 1.5 * (np.array(CALM.drift.offset_um) + np.array(CALM.drift.angle_um_per_m) * distance_m)
    assert (np.abs(drift_um).max(axis=1) < bound_um).all()
    assert (np.abs(drift_um).max(axis=1) > 0.3 * bound_um).all()
    assert np.abs(np.diff(drift_um)).max() < 0.05


def test_noise_follows_simulated_time_however_it_is_cut_up() -> None:
    form = carriage_form(CALM)
    for name in devices(CALM, form, driven(CALM)):
        whole = devices(CALM, form, driven(CALM))[name].lines(30.0)
        cut = devices(CALM, form, driven(CALM))[name]
        pieces = [line for until in (0.013, 0.5, 0.5, 7.77, 29.99, 30.0) for line in cut.lines(until)]
        assert pieces == whole


def test_the_level_rings_after_a_halt_and_is_calm_before_a_window_begins() -> None:
    scenario = msgspec.structs.replace(SILENT, level=Level(settle_um_per_m=45.0, settle_s=0.35))
    form, carriage = carriage_form(scenario), driven(scenario)
    stop = carriage.programme.stops[5]
    since_s = np.arange(0.0, 5.0, 0.05)
    ringing = CrossLevel(scenario, form, carriage).reading_um_per_m(stop.from_s + since_s)
    ringing = np.abs(ringing - form.at(np.array([stop.position_mm])).roll_um_per_m)
    assert ringing[0] == pytest.approx(45.0)
    assert ringing[since_s < 0.7].max() > 10.0
    assert ringing[since_s > 1.5].max() < 1.0


def test_a_passer_by_disturbs_and_cuts_the_beam_during_one_stop_only() -> None:
    carriage = driven(CALM)
    lines = BeamDetector(CALM, carriage_form(CALM), carriage).lines(carriage.programme.duration_s)
    lost_s = np.array([instant for instant, text in lines if text.endswith("V9999.9 S9999.9")])
    stop = carriage.programme.stops[CALM.passers[0].stop - 1]
    assert 0.4 < np.ptp(lost_s) < CALM.passers[0].lasts_s
    assert (lost_s > stop.from_s + CALM.passers[0].after_s).all()
    # the operator begins his count again, so that a window taken anew still fits
    assert stop.to_s - lost_s[-1] >= CALM.operator.wait_s[0]


def test_every_line_matches_the_description_that_is_written_for_it(tmp_path: Path) -> None:
    carriage = driven(CALM)
    peers = devices(CALM, carriage_form(CALM), carriage)
    paths = write_descriptions(tmp_path, CALM, ENDPOINTS)
    for name, path in paths.items():
        described = tomllib.loads(path.read_text(encoding="utf-8"))
        pattern = re.compile(described["stream"]["pattern"])
        lines = peers[name].lines(300.0)
        assert len(lines) == 300 * described["stream"]["rate_hz"] + 1
        assert all(pattern.match(text) for _, text in lines)
        groups = {channel["group"] for channel in described["channel"]}
        assert groups <= set(pattern.groupindex)
    assert tomllib.loads(paths["distance"].read_text(encoding="utf-8"))["link"]["port"] == r"COM7\odd"


def test_the_beams_own_clock_counts_milliseconds_from_an_origin_of_its_own() -> None:
    detector = BeamDetector(CALM, carriage_form(CALM), driven(CALM))
    stamps = np.array([int(text.split()[0]) for _, text in detector.lines(100.0)])
    assert stamps[0] > 1_000_000
    assert set(np.diff(stamps)) <= {19, 20, 21}
    assert stamps[-1] - stamps[0] == round(100_000 * (1 + 35e-6))
    # the world was held up for three seconds, its own clock was not
    assert int(detector.lines(100.02, 3.0)[0][1].split()[0]) - stamps[-1] == 3020


def test_the_descriptions_are_read_and_the_lines_decoded_like_those_of_any_instrument(tmp_path: Path) -> None:
    carriage = driven(CALM)
    peers = devices(CALM, carriage_form(CALM), carriage)
    channels: list[str] = []
    for name, path in write_descriptions(tmp_path, CALM, ENDPOINTS).items():
        instrument = read_instrument(path)
        lines = peers[name].lines(300.0)
        decoded = Decoder(instrument.description).decode([text for _, text in lines])
        assert decoded.malformed == 0
        assert len(decoded.value) == len(lines)
        lost = np.array(["9999.9" in text for _, text in lines])
        flaw = np.zeros(decoded.value.shape) if decoded.flaw is None else decoded.flaw
        assert (flaw[lost] == Flaw.LOST).all()
        assert (flaw[~lost] == Flaw.NONE).all()
        assert lost.any() == (name == "beam")
        channels += instrument.channels
    assert channels == ["beam.vertical_um", "beam.side_um", "distance.position_mm", "level.cross_um_per_m"]
