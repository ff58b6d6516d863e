"""Readings screened as they are taken: the right station is called out, once, and nothing is changed."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from datetime import timedelta
from uuid import UUID

import numpy as np
import pytest

from capture_sinks import BEGAN, Notebook, Story, a_pass
from capture_streams import BEAM, POSITION, Signals, driven
from waywright.capture import Beside, Live, PassCapture, PassScreen, TakenBefore
from waywright.capture.telling import Told
from waywright.readings import ChannelValue, Reading
from waywright.visit import Pass
from waywright.wording import text

PLACES = np.arange(0.0, 5001.0, 250.0)
AIR = "air.near_degc"


def value_um(place_mm: np.ndarray) -> np.ndarray:
    return 20.0 * np.sin(np.pi * place_mm / 5000.0)


def readings_of(
    taken: Pass,
    places_mm: np.ndarray,
    *,
    seed: int,
    added_um: np.ndarray | float = 0.0,
    sd_um: np.ndarray | float = 0.6,
    degc: np.ndarray | None = None,
) -> tuple[Reading, ...]:
    """Readings with noise of 0.5 um, one each half minute."""
    rng = np.random.default_rng(seed)
    height = value_um(places_mm) + rng.normal(0.0, 0.5, places_mm.size) + added_um
    side = 0.001 * places_mm + rng.normal(0.0, 0.5, places_mm.size)
    scatter = np.broadcast_to(sd_um, places_mm.shape) * np.exp(rng.normal(0.0, 0.1, places_mm.size))
    made = []
    for k, place in enumerate(places_mm):
        began = taken.began_utc + timedelta(seconds=30.0 * k)
        values = [ChannelValue(POSITION, float(place), 0.005, 30)]
        values += [ChannelValue(BEAM[0], float(height[k]), float(scatter[k]), 150)]
        values += [ChannelValue(BEAM[1], float(side[k]), 0.6, 150)]
        if degc is not None:
            values.append(ChannelValue(AIR, float(degc[k]), 0.01, 10))
        made.append(
            Reading(UUID(int=1000 * taken.number + k), taken.id, k, float(place), taken.direction, tuple(values),
                    began, began + timedelta(seconds=3))
        )  # fmt: skip
    return tuple(made)


def numbered(number: int, **other: object) -> Pass:
    direction = "forward" if number % 2 else "backward"
    began = BEGAN + timedelta(minutes=15 * (number - 1))
    return a_pass(id=UUID(int=number), number=number, direction=direction, began_utc=began, **other)


def before(number: int, **other: object) -> TakenBefore:
    places = PLACES if number % 2 else PLACES[::-1]
    return TakenBefore(numbered(number), readings_of(numbered(number), places, seed=number, **other))  # type: ignore[arg-type]


def screened(taken: Pass, readings: tuple[Reading, ...], beside: Beside) -> tuple[list[Told], PassScreen]:
    """All that is said while the readings come one by one, and at the end."""
    screen = PassScreen(taken, beside)
    told = [one for k in range(1, len(readings) + 1) for one in screen.look(readings[:k])]
    return told + list(screen.at_end(readings)), screen


def test_calm_passes_say_nothing() -> None:
    told, screen = screened(numbered(1), before(1).readings, Beside())
    assert told == []
    told, screen = screened(numbered(3), before(3).readings, Beside((before(1), before(2)), tolerance_um=40.0))
    assert told == []
    assert screen.again_mm == ()


@pytest.mark.parametrize("station", [8, 12, 17])
def test_a_bad_reading_is_called_out_beside_the_other_passes(station: int) -> None:
    added = np.zeros(PLACES.size)
    added[station] = 12.0
    taken = numbered(3)
    readings = readings_of(taken, PLACES, seed=9, added_um=added)
    told, screen = screened(taken, readings, Beside((before(1), before(2)), tolerance_um=40.0))
    assert {round(one.position_mm or 0.0) for one in told} == {int(PLACES[station])}
    assert told[-1].key == "guard_watch.spike"
    assert told[-1].facts["channel"] == BEAM[0]
    said = text(told[-1].key, **told[-1].facts)
    assert f"{PLACES[station]:.0f} mm again" in said
    assert "old reading stays" in said
    assert screen.again_mm == (PLACES[station],)


def test_a_bad_reading_of_the_first_pass_is_called_out_beside_its_neighbours() -> None:
    """The way bends by 2 um from station to station, which counts as scatter."""
    added = np.zeros(PLACES.size)
    added[12] = 25.0
    told, screen = screened(numbered(1), readings_of(numbered(1), PLACES, seed=2, added_um=added), Beside())
    assert [(one.key, one.position_mm) for one in told] == [("guard_watch.outlier", PLACES[12])]
    assert screen.again_mm == (PLACES[12],)


def test_what_stays_off_is_a_step_and_says_so_once() -> None:
    added = np.where(np.arange(PLACES.size) >= 9, 10.0, 0.0)
    taken = numbered(3)
    told, screen = screened(
        taken, readings_of(taken, PLACES, seed=9, added_um=added), Beside((before(1), before(2)), tolerance_um=40.0)
    )
    assert [one.key for one in told].count("guard_watch.step") == 1
    assert [one.key for one in told][-1] == "guard_watch.step"
    assert screen.again_mm == ()
    assert "guard_watch.closure_at" not in [one.key for one in told]


def test_a_station_taken_again_is_screened_anew_and_the_old_reading_stays() -> None:
    added = np.zeros(PLACES.size)
    added[10] = 15.0
    taken, beside = numbered(3), Beside((before(1), before(2)))
    readings = readings_of(taken, PLACES, seed=9, added_um=added)
    screen = PassScreen(taken, beside)
    said = [one.key for k in range(1, 22) for one in screen.look(readings[:k])]
    assert screen.again_mm == (PLACES[10],)

    def again(by_um: float, number: int) -> Reading:
        values = [replace(one, mean=one.mean - 15.0 + by_um) if one.channel == BEAM[0] else one
                  for one in readings[10].values]  # fmt: skip
        old = readings[10].id if number == 21 else UUID(int=777)
        return replace(readings[10], id=UUID(int=756 + number), number=number, values=tuple(values), supersedes=old)

    worse = (*readings, again(15.0, 21))
    assert [one.key for one in screen.look(worse)] == ["guard_watch.spike"]
    mended = (*worse, again(0.0, 22))
    assert screen.look(mended) == ()
    assert screen.again_mm == ()
    assert len(said) == len(set(said))


@pytest.mark.parametrize("others", [(), (1, 2)])
def test_samples_that_scatter_more_than_at_other_stations(others: tuple[int, ...]) -> None:
    """Scatter grows from 0.3 to 2 um along the way, as air does; at one station it is four times what belongs there."""
    growing = 0.3 + 1.7 * (PLACES / 5000.0) ** 1.5
    shown = growing.copy()
    shown[14] *= 4.0
    earlier = [before(k, sd_um=growing if k % 2 else growing[::-1]) for k in others]
    taken = numbered(3)
    told, screen = screened(taken, readings_of(taken, PLACES, seed=4, sd_um=shown), Beside(tuple(earlier)))
    assert [(one.key, one.position_mm) for one in told] == [("guard_watch.scatter", PLACES[14])]
    assert screen.again_mm == (PLACES[14],)
    assert 2.0 < float(told[0].facts["sd"]) / float(told[0].facts["usual"]) < 8.0


def test_a_station_left_out_is_wanted_beside_an_uneven_plan() -> None:
    uneven = np.array([0.0, 200.0, 400.0, 500.0, 700.0, 900.0, 1100.0, 1200.0, 1400.0])
    taken = numbered(1)
    readings = readings_of(taken, np.delete(uneven, 5), seed=3)
    told, screen = screened(taken, readings, Beside(planned_mm=tuple(uneven)))
    assert [(one.key, one.position_mm) for one in told] == [("guard_watch.missed", 900.0)]
    assert screen.again_mm == (900.0,)
    complete, _ = screened(taken, readings_of(taken, uneven, seed=3), Beside(planned_mm=tuple(uneven)))
    assert complete == []
    twice = np.insert(uneven, 6, 930.0)
    told, screen = screened(taken, readings_of(taken, twice, seed=3), Beside(planned_mm=tuple(uneven)))
    assert [(one.key, one.position_mm) for one in told] == [("guard_watch.doubled", 930.0)]
    assert screen.again_mm == ()


@pytest.mark.parametrize(("by_um", "closes"), [(3.0, True), (6.0, False)])
def test_a_pass_closes_with_the_one_before_or_not(by_um: float, closes: bool) -> None:
    """The far end read at the end of one pass and at the beginning of the next: 4 um of 40 are allowed."""
    taken = numbered(2)
    readings = readings_of(taken, PLACES[::-1], seed=6, added_um=by_um - 0.1)
    told, _ = screened(taken, readings, Beside((before(1),), tolerance_um=40.0))
    assert ([one.key for one in told] == []) is closes
    if not closes:
        (one,) = told
        assert (one.key, one.position_mm) == ("guard_watch.closure_at", 5000.0)
        assert (one.facts["first"], one.facts["again"], one.facts["limit"]) == (1, 2, 4.0)
        assert "pass 1 to pass 2" in text(one.key, **one.facts)


def test_a_drifting_source_is_told_by_passes_of_one_direction() -> None:
    """12 um an hour through all passes, 2 um in the ten minutes of one; a tolerance of 10 um allows 1."""
    seconds = 30.0 * np.arange(PLACES.size)

    def drift(number: int) -> np.ndarray:
        return 12.0 / 3600.0 * (seconds + 900.0 * (number - 1))

    taken = numbered(3)
    earlier = (before(1, added_um=drift(1)), before(2, added_um=drift(2)))
    readings = readings_of(taken, PLACES, seed=3, added_um=drift(3))
    told, _ = screened(taken, readings, Beside(earlier, tolerance_um=10.0))
    found = [one for one in told if one.key == "guard_watch.drift"]
    assert len(found) == 1
    assert float(found[0].facts["change"]) == pytest.approx(2.0, abs=0.5)


@pytest.mark.parametrize(("to_degc", "said"), [(20.1, []), (21.0, ["guard_watch.temperature"])])
def test_a_temperature_channel_that_changes_too_fast(to_degc: float, said: list[str]) -> None:
    taken = numbered(1, channels=(*BEAM, AIR))
    readings = readings_of(taken, PLACES, seed=1, degc=np.linspace(20.0, to_degc, PLACES.size))
    told, _ = screened(taken, readings, Beside())
    assert [one.key for one in told] == said


def test_the_pass_keeps_what_the_screen_says_and_shows_it() -> None:
    """Through a whole capture: one station is 20 um off, is called out, taken again, and is good then."""
    stops = [(float(place), 7.0) for place in np.arange(0.0, 1300.0, 100.0)]
    plain = driven(stops)
    from_s, to_s = plain.stands[9]
    drive = driven([*stops, (900.0, 7.0)])
    earlier = (_earlier_pass(plain, 1), _earlier_pass(plain, 2))
    notebook, seen = Notebook(), []

    async def run() -> Pass:
        story = Story(drive, Signals(seed=3, disturbances=((BEAM[0], from_s - 1.0, to_s + 0.2, 20.0),)))
        capture = PassCapture(
            a_pass(), story.sources, story.clock, notebook, watchers=[seen.append], beside=Beside(earlier)
        )
        return await capture.run()

    asyncio.run(asyncio.wait_for(run(), 60.0))
    spikes = [event for event in notebook.events if event.key.startswith("guard_watch.")]
    assert {round(event.position_mm or 0.0, -1) for event in spikes} == {900.0}
    assert spikes[-1].key == "guard_watch.spike"
    assert float(spikes[-1].facts["size"]) == pytest.approx(20.0, abs=1.0)
    wanted = [tuple(round(place, -1) for place in live.again_mm) for live in seen if isinstance(live, Live)]
    assert (900.0,) in wanted
    assert wanted[-1] == ()
    assert notebook.readings[-1].supersedes == notebook.readings[9].id
    assert len(notebook.readings) == 14


def test_a_screen_that_fails_leaves_the_pass_alone(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*given: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(PassScreen, "look", broken)
    monkeypatch.setattr(PassScreen, "at_end", broken)
    notebook = Notebook()

    async def run() -> Pass:
        story = Story(driven([(0.0, 7.0), (250.0, 7.0)]))
        return await PassCapture(a_pass(), story.sources, story.clock, notebook, travel_end_mm=250.0).run()

    assert asyncio.run(asyncio.wait_for(run(), 60.0)).outcome == "finished"
    assert len(notebook.readings) == 2
    assert "could not be screened" in caplog.text


def _earlier_pass(drive: object, number: int) -> TakenBefore:
    notebook = Notebook()

    async def run() -> Pass:
        story = Story(drive, Signals(seed=10 + number))  # type: ignore[arg-type]
        return await PassCapture(
            a_pass(number=number, id=UUID(int=50 + number)), story.sources, story.clock, notebook
        ).run()

    ended = asyncio.run(asyncio.wait_for(run(), 60.0))
    return TakenBefore(ended, tuple(notebook.readings))
