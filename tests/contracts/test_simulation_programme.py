"""The truth and the operator's programme of the invented workshop."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest

from waywright.errors import BadInput
from waywright.quantities import Direction, code, iso_sign
from waywright.simulation import load_scenario, scenario_names
from waywright.simulation.operator import brief_programme, plan_programme
from waywright.simulation.scenario import read_scenario
from waywright.simulation.truth import carriage_form

CALM = load_scenario("calm-hall")
PLACES_MM = np.linspace(0.0, 5200.0, 521)
# what capture wants at least: dwell, a window, and the window once more
DWELL_S, WINDOW_S = 1.5, 3.0


def test_the_same_seed_gives_the_same_truth_and_another_seed_another() -> None:
    first, again, other = (carriage_form(msgspec.structs.replace(CALM, seed=seed)) for seed in (5, 5, 6))
    for name in ("height_um", "side_um", "roll_um_per_m"):
        value = getattr(first.at(PLACES_MM), name)
        assert np.array_equal(value, getattr(again.at(PLACES_MM), name))
        assert not np.allclose(value, getattr(other.at(PLACES_MM), name), atol=0.1)


def test_the_truth_has_the_size_of_a_worn_bed_that_has_settled() -> None:
    seen = carriage_form(CALM).at(PLACES_MM)
    ends = np.array([0, -1])

    def from_ends(values: np.ndarray) -> np.ndarray:
        return values - np.interp(PLACES_MM, PLACES_MM[ends], values[ends])

    assert 60.0 < np.ptp(from_ends(seen.height_um)) < 90.0
    assert 10.0 < np.ptp(from_ends(seen.side_um)) < 30.0
    assert 40.0 < np.ptp(seen.roll_um_per_m) < 90.0
    # a smooth way: no step between places 10 mm apart
    assert np.abs(np.diff(from_ends(seen.height_um))).max() < 1.0


@pytest.mark.parametrize("seed", [CALM.seed, 1, 2, 3])
def test_the_operator_stops_about_every_240_mm_but_never_exactly_and_reaches_both_ends(seed: int) -> None:
    programme = plan_programme(msgspec.structs.replace(CALM, seed=seed))
    forward = np.array(
        [stop.position_mm for stop in programme.stops if stop.direction == "forward" and not stop.repeat]
    )
    backward = np.array([stop.position_mm for stop in programme.stops if stop.direction == "backward"])
    assert (forward.size, backward.size) == (23, 22)
    for way in (forward, backward[::-1]):
        assert way[0] == pytest.approx(0.0, abs=2.0)
        assert np.diff(way).min() > 200.0
        assert np.diff(way).max() < 270.0
    assert forward[-1] == pytest.approx(5200.0, abs=2.0)
    assert np.std(np.diff(forward)) > 3.0
    assert np.abs(forward[1:-1] - backward[::-1][1:]).min() > 0.01


def test_he_goes_back_once_to_a_station_already_taken_and_then_goes_on() -> None:
    stops = plan_programme(CALM).stops
    (index,) = [number for number, stop in enumerate(stops) if stop.repeat]
    earlier = [stop.position_mm for stop in stops[:index]]
    back = stops[index].position_mm
    assert np.abs(np.array(earlier) - back).argmin() == len(earlier) - 3
    assert np.abs(np.array(earlier) - back).min() < 3.0
    assert stops[index + 1].position_mm > max(earlier) + 200.0


@pytest.mark.parametrize("seed", [CALM.seed, 1, 2, 3])
def test_hesitations_are_shorter_than_any_stop_and_lie_between_stations(seed: int) -> None:
    programme = plan_programme(msgspec.structs.replace(CALM, seed=seed))
    lengths_s = [leg.end_s - leg.start_s for leg in programme.hesitations]
    assert len(lengths_s) == 7
    assert max(lengths_s) <= 1.2 < DWELL_S
    assert min(stop.to_s - stop.from_s for stop in programme.stops) > DWELL_S + 2 * WINDOW_S - 1.0
    assert min(stop.to_s - stop.from_s for stop in programme.stops) >= 7.0
    stations = np.array([stop.position_mm for stop in programme.stops])
    for leg in programme.hesitations:
        assert np.abs(stations - leg.from_mm).min() > 0.05


def test_the_programme_takes_about_eight_and_a_half_minutes() -> None:
    assert 480.0 < plan_programme(CALM).duration_s < 540.0


def test_the_carriage_moves_smoothly_at_the_speed_of_a_patient_hand() -> None:
    programme = plan_programme(CALM)
    seconds = np.arange(0.0, programme.duration_s, 0.01)
    motion = programme.track.at(seconds)
    speed = np.gradient(motion.position_mm, seconds)
    acceleration = np.gradient(speed, seconds)
    np.testing.assert_allclose(np.abs(speed), motion.speed_mm_per_s, atol=2.0)
    assert 95.0 < np.abs(speed).max() <= 100.5
    # v = V (3 x^2 - 2 x^3) has its steepest place at 1.5 V / ramp
    assert np.abs(acceleration).max() < 1.5 * 100.0 / 0.5 * 1.02
    assert np.abs(np.diff(acceleration)).max() < 6.0 * 100.0 / 0.5**2 * 0.01 * 1.1


def test_halted_time_counts_from_each_arrival_and_is_infinite_on_the_way() -> None:
    programme = plan_programme(CALM)
    stop, following = programme.stops[3], programme.stops[4]
    at = programme.track.at(np.array([0.5, stop.from_s + 0.25, (stop.to_s + following.from_s) / 2, 1e6]))
    assert at.halted_s[1] == pytest.approx(0.25)
    assert np.isinf(at.halted_s[[0, 2]]).all()
    assert at.position_mm[3] == pytest.approx(programme.stops[-1].position_mm)
    assert at.position_mm[1] == pytest.approx(stop.position_mm)


def test_on_the_invented_lathe_up_is_minus_y_and_leftward_travel_lowers_z() -> None:
    machine = CALM.machine
    assert machine.invented
    assert iso_sign(code("EYZ"), Direction.UP, machine.axes, "tool") == -1
    assert iso_sign(code("EXZ"), Direction.TOWARDS, machine.axes, "tool") == 1
    assert machine.axes.vector("Z") == (1, 0, 0)
    assert CALM.zero.sense == -1
    assert machine.bed is not None
    assert [support.name for support in machine.bed.supports if support.row == "front"] == list("1234567")
    assert len(machine.bed.supports) == 14
    travel = machine.travels[0]
    assert travel.to_mm - travel.from_mm == CALM.travel_mm
    assert CALM.mark_mm == travel.to_mm
    assert machine.bed.headstock_mm is not None
    assert machine.bed.headstock_mm[1] < travel.from_mm


def test_the_brief_programme_is_one_quiet_pass_forward_and_home_again() -> None:
    whole, brief = plan_programme(CALM), brief_programme(CALM)
    assert {stop.direction for stop in brief.stops} == {"forward"}
    assert not any(stop.repeat for stop in brief.stops)
    assert not brief.hesitations
    assert brief.passers_s == ()
    assert len(brief.stops) == 23
    assert brief.stops[-1].position_mm == pytest.approx(5200.0, abs=2.0)
    assert min(stop.to_s - stop.from_s for stop in brief.stops) >= 7.0
    # both begin and end in the same place, so that either may follow the other
    for programme in (whole, brief):
        assert programme.legs[0].from_mm == programme.legs[-1].to_mm == whole.stops[0].position_mm
    assert brief.duration_s < 0.65 * whole.duration_s


def test_the_scenarios_that_come_with_the_program_can_all_be_planned() -> None:
    assert "calm-hall" in scenario_names()
    for name in scenario_names():
        assert plan_programme(load_scenario(name)).stops


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ((b"noise_um = 0.4", b"noise_um = -0.4"), "$.beam.noise_um"),
        ((b"noise_um = 0.4", b"noise_um = 'much'"), "$.beam.noise_um"),
        ((b"vibration_um", b"vibratoin_um"), "vibratoin_um"),
        ((b'mark = "tailstock mark"', b'mark = "the door"'), "the door"),
        ((b'up = "-Y"', b'up = "-X"'), "$.machine.axes"),
        ((b"returns_by = 2", b"returns_by = 15"), "returns_by"),
        ((b"stop = 9", b"stop = 99"), "passers.stop"),
        ((b"format = 1", b"format = 2"), "$.format"),
        ((b"seed = 20260", b"seed = "), "calm.toml"),
        ((b"found_um = { 1 = 78.0", b"found_um = { 99 = 78.0"), "found_um names 99"),
        ((b"carriage = {", b"# carriage = {"), "machine.bed.carriage"),
        ((b"bending_n_m2 = 7.3e8", b"bending_n_m2 = -7.3e8"), "$.truth.bed.bending_n_m2"),
    ],
)
def test_a_scenario_that_cannot_be_used_says_where_and_why(change: tuple[bytes, bytes], complaint: str) -> None:
    from importlib import resources

    content = (resources.files("waywright.simulation") / "scenarios" / "calm-hall.toml").read_bytes()
    assert change[0] in content
    with pytest.raises(BadInput, match="cannot be used") as raised:
        read_scenario(content.replace(change[0], change[1], 1), "calm.toml")
    assert complaint in str(raised.value)
    assert "calm.toml" in str(raised.value)


def test_an_unknown_scenario_names_those_that_exist() -> None:
    with pytest.raises(BadInput, match="calm-hall"):
        load_scenario("stormy-hall")
