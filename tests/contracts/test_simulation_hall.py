"""The workshop's world on a clock that the test holds in its hand."""

from __future__ import annotations

from datetime import UTC, datetime

import msgspec
import numpy as np
import pytest

from waywright.simulation import load_scenario, protocol
from waywright.simulation.hall import Hall, WorldTime

CALM = load_scenario("calm-hall")
DRIVE = b'{"do":"drive"}'


class HandClock:
    def __init__(self, factor: float) -> None:
        self.factor = factor
        self.now_s = 1000.0

    def monotonic_s(self) -> float:
        return self.now_s

    def utc(self) -> datetime:
        return datetime(2031, 5, 6, tzinfo=UTC)

    async def sleep(self, duration_s: float) -> None:
        self.now_s += duration_s


def said_during(hall: Hall, clock: HandClock, lasts_s: float, step_s: float) -> dict[str, list[str]]:
    said: dict[str, list[str]] = {name: [] for name in ("distance", "level", "beam")}
    for _ in range(round(lasts_s / step_s)):
        clock.now_s += step_s
        for name, lines in hall.tick().items():
            said[name] += lines
    return said


@pytest.mark.parametrize(("factor", "step_s"), [(1.0, 0.02), (20.0, 0.08), (20.0, 0.9)])
def test_the_same_is_said_at_every_factor_and_however_the_process_is_woken(factor: float, step_s: float) -> None:
    clock = HandClock(factor)
    said = said_during(Hall(CALM, clock), clock, 72.0, step_s)
    plain = HandClock(1.0)
    expected = said_during(Hall(CALM, plain), plain, 72.0, 0.4)
    for name, lines in expected.items():
        shared = min(len(lines), len(said[name]))
        assert shared > 0.99 * len(lines)
        assert said[name][:shared] == lines[:shared]


def test_a_whole_programme_reaches_both_ends_in_the_readings_of_the_distance_meter() -> None:
    clock = HandClock(20.0)
    hall = Hall(CALM, clock)
    said_during(hall, clock, 3.0, 0.5)
    assert hall.answer(DRIVE) == protocol.Done(True)
    said = said_during(hall, clock, hall.carriage.programme.duration_s + 2.0, 0.5)
    read_mm = np.array([float(text.removesuffix(" mm")) for text in said["distance"]])
    assert read_mm.max() == pytest.approx(5200.0, abs=2.2)
    assert np.abs(read_mm[[0, -1]]).max() < 2.2
    state = hall.answer(b'{"do":"state"}')
    assert isinstance(state, protocol.WorkshopState)
    assert state.finished
    assert state.direction is None
    rest_s = 10 * (hall.carriage.programme.duration_s + 2.0)
    assert len(said["distance"]) == pytest.approx(rest_s, abs=10)
    assert len(said["beam"]) == pytest.approx(5 * rest_s, abs=50)


def test_driving_twice_is_driving_once_until_he_has_finished() -> None:
    clock = HandClock(20.0)
    hall = Hall(CALM, clock)
    said_during(hall, clock, 1.0, 0.5)
    hall.answer(DRIVE)
    said_during(hall, clock, 30.0, 0.5)
    place = hall.carriage.at(np.array([hall.time.world_s])).position_mm
    assert place > 300.0
    hall.answer(DRIVE)
    assert hall.carriage.at(np.array([hall.time.world_s])).position_mm == place


def test_a_second_programme_begins_where_the_first_ended() -> None:
    clock = HandClock(20.0)
    hall = Hall(CALM, clock)
    for _ in range(2):
        hall.answer(DRIVE)
        said = said_during(hall, clock, hall.carriage.programme.duration_s + 5.0, 0.5)
    read_mm = np.array([float(text.removesuffix(" mm")) for text in said["distance"]])
    assert read_mm.max() == pytest.approx(5200.0, abs=2.2)
    # 100 mm/s is 10 mm from line to line: the carriage never jumps
    assert np.abs(np.diff(read_mm)).max() < 10.5


def test_the_fitter_turns_while_the_carriage_stands_and_only_supports_that_are_there() -> None:
    clock = HandClock(20.0)
    hall = Hall(CALM, clock)
    said_during(hall, clock, 1.0, 0.5)
    ask = b'{"do":"truth","position_mm":[0.0, 2600.0, 5200.0]}'
    before = hall.answer(ask)
    assert hall.answer(b'{"do":"turn","support":"99","move_um":60}') == protocol.Done(False)
    assert hall.answer(ask) == before
    assert hall.answer(b'{"do":"turn","support":"4","move_um":60}') == protocol.Done(True)
    said_during(hall, clock, 300.0, 0.5)
    after = hall.answer(ask)
    assert isinstance(before, protocol.TrueForm)
    assert isinstance(after, protocol.TrueForm)
    risen_um = np.array(after.height_um) - before.height_um
    assert risen_um[1] > risen_um[[0, 2]].mean() + 4.0
    hall.answer(b'{"do":"drive","programme":"brief"}')
    said_during(hall, clock, 30.0, 0.5)
    assert hall.answer(b'{"do":"turn","support":"4","move_um":60}') == protocol.Done(False)


def test_a_brief_programme_is_one_way_and_can_be_followed_by_a_whole_one() -> None:
    clock = HandClock(20.0)
    hall = Hall(CALM, clock)
    read_mm: list[float] = []
    for name in ("brief", "whole", "brief"):
        assert hall.answer(b'{"do":"drive","programme":"%s"}' % name.encode()) == protocol.Done(True)
        said = said_during(hall, clock, hall.carriage.programme.duration_s + 5.0, 0.5)
        read_mm += [float(text.removesuffix(" mm")) for text in said["distance"]]
    assert max(read_mm) == pytest.approx(5200.0, abs=2.2)
    assert np.abs(np.diff(read_mm)).max() < 10.5
    assert hall.answer(b'{"do":"drive","programme":"dance"}') == protocol.Done(False)


def test_a_long_delay_makes_the_world_stand_still_while_clocks_go_on() -> None:
    clock = HandClock(20.0)
    hall = Hall(CALM, clock)
    before = said_during(hall, clock, 10.0, 0.5)["beam"]
    clock.now_s += 60.0
    hall.tick()
    after = said_during(hall, clock, 2.0, 0.5)["beam"]
    assert hall.time.paused_s == pytest.approx(59.0)
    assert hall.time.world_s == pytest.approx(13.0)
    stamps = [int(line.split()[0]) for line in (before[-1], after[-1])]
    assert stamps[1] - stamps[0] == pytest.approx(62_000.0, abs=30.0)


def test_a_short_delay_is_caught_up() -> None:
    clock = HandClock(1.0)
    time = WorldTime(clock)
    for step_s in (0.02, 0.45, 0.02):
        clock.now_s += step_s
        time.advance()
    assert time.world_s == pytest.approx(0.49)
    assert time.paused_s == pytest.approx(0.0, abs=1e-12)


def test_the_truth_is_told_on_request_as_plain_numbers() -> None:
    hall = Hall(CALM, HandClock(1.0))
    told = hall.answer(b'{"do":"truth","position_mm":[0, 2600.5]}')
    assert isinstance(told, protocol.TrueForm)
    assert told.height_um == hall.form.at(np.array([0.0, 2600.5])).height_um.tolist()
    assert len(msgspec.json.decode(msgspec.json.encode(told))["roll_um_per_m"]) == 2
