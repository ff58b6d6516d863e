"""What counts as a standstill, and what does not."""

from __future__ import annotations

import numpy as np
import pytest

from capture_streams import BEAM, POSITION, RATES_HZ, Signals, driven, inside_a_stand, take, usual
from waywright.capture import Accepted
from waywright.capture.events import (
    Disturbed,
    Gap,
    HandMoved,
    NotCalm,
    Restless,
    Returned,
    Silent,
    TooSmallStep,
    TravelEnd,
)

LONG_S = 8.0


def places(windows: list[Accepted]) -> list[float]:
    return [round(window.position_mm) for window in windows]


def test_a_reading_keeps_mean_deviation_number_and_samples() -> None:
    drive = driven([(100.0, LONG_S), (350.0, LONG_S)])
    first, second = take(drive).windows
    assert [value.channel for value in first.values] == [POSITION, *BEAM]
    for value, trace in zip(second.values, second.window, strict=True):
        inside = (trace.time_s > second.began_s) & (trace.time_s <= second.ended_s)
        assert trace.channel == value.channel
        assert inside.all()
        assert value.samples == len(trace.value) == pytest.approx(5.0 * RATES_HZ[value.channel.split(".")[0]], abs=1)
        assert value.mean == pytest.approx(trace.value.mean(), rel=1e-12)
        assert value.standard_deviation == pytest.approx(trace.value.std(ddof=1), rel=1e-12)
    assert second.position_mm == second.values[0].mean
    assert second.ended_s - second.began_s == pytest.approx(5.0)


def test_forward_and_backward_are_told_by_the_motion_before_the_stop() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (500.0, LONG_S), (330.0, LONG_S)])
    assert [window.direction for window in take(drive).windows] == [None, "forward", "forward", "backward"]


def test_a_source_that_counts_down_on_the_way_forward() -> None:
    drive = driven([(500.0, LONG_S), (250.0, LONG_S)])
    assert take(drive, settings=usual(forward_sense=-1)).windows[1].direction == "forward"


def test_a_station_that_was_overrun_was_reached_from_the_other_side() -> None:
    drive = driven([(0.0, LONG_S), (258.0, 0.3), (250.0, LONG_S)])
    assert take(drive).windows[1].direction == "backward"


def test_a_hesitation_is_no_station() -> None:
    drive = driven([(0.0, LONG_S), (120.0, 5.5), (250.0, LONG_S), (400.0, 1.2), (500.0, LONG_S)])
    assert places(take(drive).windows) == [0, 250, 500]


def test_a_lost_beam_is_retaken_by_itself() -> None:
    drive = driven([(0.0, LONG_S), (250.0, 14.0)])
    start_s = drive.stands[1][0]
    taken = take(drive, Signals(disturbances=((BEAM[0], start_s + 3.0, start_s + 4.0, np.nan),)))
    window = taken.windows[1]
    assert places(taken.windows) == [0, 250]
    assert window.began_s >= start_s + 3.98
    (told,) = taken.of(Disturbed)
    assert (told.cause, told.channel, told.retaken) == ("lost", BEAM[0], True)
    assert told.duration_s == pytest.approx(1.0, abs=0.05)
    assert told.position_mm == pytest.approx(250.0, abs=0.05)


def test_somebody_in_the_beam_who_only_shades_it_is_noticed_too() -> None:
    drive = driven([(0.0, LONG_S), (250.0, 14.0)])
    start_s = drive.stands[1][0]
    taken = take(drive, Signals(disturbances=((BEAM[1], start_s + 3.0, start_s + 3.8, 40.0),)))
    assert abs(taken.windows[1].values[2].mean) < 0.5
    (told,) = taken.of(Disturbed)
    assert (told.cause, told.channel, told.retaken) == ("outliers", BEAM[1], True)
    # It looks every half second; which of two levels is the disturbed one shows only after it ends.
    assert 0.8 - 0.05 <= told.duration_s <= 0.8 + 0.5


def test_a_disturbance_that_cannot_be_retaken_leaves_no_reading_and_says_so() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (500.0, LONG_S)])
    start_s = drive.stands[1][0]
    taken = take(drive, Signals(disturbances=((BEAM[0], start_s + 3.0, start_s + 4.0, np.nan),)))
    assert places(taken.windows) == [0, 500]
    assert [told.retaken for told in taken.of(Disturbed)] == [False]


def test_one_garbled_digit_is_not_a_disturbance_and_does_not_pull_the_mean() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S)])
    at_s = drive.stands[1][0] + 4.0
    clean = take(drive).windows[1].values[1]
    garbled = take(drive, Signals(disturbances=((BEAM[0], at_s, at_s + 0.019, 900.0),)))
    value = garbled.windows[1].values[1]
    assert not garbled.of(Disturbed)
    assert value.samples == clean.samples - 1
    assert abs(value.mean - clean.mean) < clean.standard_deviation
    assert np.abs(garbled.windows[1].window[1].value).max() > 800.0


def test_air_that_stays_restless_is_accepted_in_the_end_and_told() -> None:
    drive = driven([(0.0, LONG_S), (250.0, 25.0)])
    drawn = np.random.default_rng(5)
    start_s = drive.stands[1][0]
    kicks = tuple(
        (BEAM[0], start_s + 0.05 * k, start_s + 0.05 * k + 0.04, float(drawn.normal(0.0, 7.0))) for k in range(500)
    )
    taken = take(drive, Signals(disturbances=kicks))
    assert places(taken.windows) == [0, 250]
    (told,) = taken.of(Restless)
    assert told.channel == BEAM[0]
    assert 4.0 < told.times < 12.0


def test_a_return_to_a_station_is_a_repeat() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (500.0, LONG_S), (252.0, LONG_S), (750.0, LONG_S)])
    windows = take(drive).windows
    assert places(windows) == [0, 250, 500, 252, 750]
    assert [window.repeats for window in windows] == [None, None, None, 1, None]
    assert [window.number for window in windows] == [0, 1, 2, 3, 4]


def test_a_repeat_of_a_repeat_supersedes_the_last_one() -> None:
    stops = [(0.0, LONG_S), (250.0, LONG_S), (0.0, LONG_S), (250.0, LONG_S), (0.0, LONG_S)]
    assert [window.repeats for window in take(driven(stops)).windows] == [None, None, 0, 1, 2]


def test_a_small_step_without_a_return_is_no_station() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (255.0, LONG_S), (500.0, LONG_S)])
    taken = take(drive)
    assert places(taken.windows) == [0, 250, 500]
    (told,) = taken.of(TooSmallStep)
    assert told.step_mm == pytest.approx(5.0, abs=0.05)


def test_a_real_return_to_the_last_station_is_a_repeat() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (290.0, 0.5), (251.0, LONG_S)])
    assert [window.repeats for window in take(drive).windows] == [None, None, 1]


def test_standing_on_for_ten_minutes_gives_one_reading() -> None:
    taken = take(driven([(0.0, 600.0), (250.0, LONG_S)]))
    assert places(taken.windows) == [0, 250]
    assert not taken.of(TooSmallStep)


@pytest.mark.parametrize("source", ["beam", "distance"])
def test_no_reading_spans_a_gap(source: str) -> None:
    drive = driven([(0.0, LONG_S), (250.0, 16.0)])
    gap = (drive.stands[1][0] + 3.0, drive.stands[1][0] + 4.5)
    taken = take(drive, Signals(missing=((source, *gap),)))
    assert places(taken.windows) == [0, 250]
    for window in taken.windows:
        assert window.ended_s <= gap[0] or window.began_s >= gap[1] - 1e-9
    (told,) = taken.of(Gap)
    assert told.source == source
    assert told.duration_s == pytest.approx(1.5, abs=0.15)


def test_a_gap_at_a_short_stop_costs_the_station_and_nothing_else() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (500.0, LONG_S)])
    gap = (drive.stands[1][0] + 3.0, drive.stands[1][0] + 4.0)
    assert places(take(drive, Signals(missing=(("beam", *gap),))).windows) == [0, 500]


@pytest.mark.parametrize("source", ["beam", "distance"])
def test_a_silent_source_stops_taking_and_is_named(source: str) -> None:
    drive = driven([(0.0, LONG_S), (250.0, 30.0), (500.0, LONG_S), (750.0, LONG_S)])
    quiet = (drive.stands[1][0] + 2.0, drive.stands[2][1])
    taken = take(drive, Signals(missing=((source, *quiet),)))
    assert places(taken.windows) == [0, 750]
    assert [told.source for told in taken.of(Silent)] == [source]
    (back,) = taken.of(Returned)
    assert back.source == source
    assert back.silence_s == pytest.approx(quiet[1] - quiet[0], abs=0.25)


def test_the_end_of_the_travel_is_told_after_its_station() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S), (497.0, LONG_S)])
    taken = take(drive, settings=usual(travel_end_mm=500.0))
    (end,) = taken.of(TravelEnd)
    assert places(taken.windows) == [0, 250, 497]
    assert end.position_mm == taken.windows[-1].position_mm


def test_a_reading_by_hand_is_taken_now() -> None:
    drive = driven([(0.0, LONG_S), (250.0, 20.0)])
    at_s = drive.stands[1][0] + 0.2
    windows = take(drive, triggers=[at_s]).windows
    assert [(window.taken_by, round(window.position_mm)) for window in windows] == [("standstill", 0), ("hand", 250)]
    assert windows[1].began_s == at_s


def test_by_hand_at_a_station_already_taken_is_a_repeat() -> None:
    drive = driven([(0.0, 30.0)])
    windows = take(drive, triggers=[15.0]).windows
    assert [(window.taken_by, window.repeats) for window in windows] == [("standstill", None), ("hand", 0)]


def test_by_hand_while_the_axis_moves_off_gives_no_reading() -> None:
    drive = driven([(0.0, LONG_S), (250.0, LONG_S)])
    taken = take(drive, triggers=[7.5])
    assert len(taken.of(HandMoved)) == 1
    assert [(window.taken_by, round(window.position_mm)) for window in taken.windows] == [
        ("standstill", 0),
        ("standstill", 250),
    ]


def test_automatic_averaging_stops_at_the_wished_standard_error() -> None:
    drive = driven([(0.0, 40.0), (250.0, 40.0)])
    settings = usual(averaging_s=None, standard_error_um=0.1, longest_s=60.0)
    window = take(drive, settings=settings).windows[1]
    for value in window.values[1:]:
        assert value.standard_deviation / np.sqrt(value.samples) <= 0.1
    # 1 um of white noise at 50 Hz needs 100 samples for 0.1 um; the block estimate wanders by a third.
    assert 1.5 < window.ended_s - window.began_s < 12.0


def test_automatic_averaging_takes_ten_samples_at_least() -> None:
    settings = usual(averaging_s=None, standard_error_um=50.0)
    window = take(driven([(0.0, LONG_S)]), settings=settings).windows[0]
    assert 10 <= min(value.samples for value in window.values) <= 16


def test_automatic_averaging_ends_at_the_longest_window_and_says_what_was_reached() -> None:
    settings = usual(averaging_s=None, standard_error_um=0.01, longest_s=10.0)
    taken = take(driven([(0.0, 15.0)]), settings=settings)
    (told,) = taken.of(NotCalm)
    assert taken.windows[0].ended_s - taken.windows[0].began_s == pytest.approx(10.0, abs=0.6)
    assert 0.02 < told.standard_error < 0.2


def test_a_window_of_ten_minutes() -> None:
    window = take(driven([(0.0, 605.0)]), settings=usual(averaging_s=600.0)).windows[0]
    assert window.values[1].samples == pytest.approx(30_000, abs=1)


def test_a_slow_creep_is_no_standstill() -> None:
    drive = driven([(0.0, LONG_S), (3.0, 0.2), (8.0, LONG_S)], speed_mm_per_s=0.1)
    windows = take(drive, settings=usual(smallest_step_mm=2.0)).windows
    assert places(windows) == [0, 8]
    assert all(inside_a_stand(window, drive) for window in windows)
