"""A whole pass: archive first, everything sealed, the stream kept, and the pass can be continued."""

from __future__ import annotations

import asyncio
import logging
from dataclasses import replace

import numpy as np
import pytest

from capture_sinks import BEGAN, Notebook, Story, a_pass, places
from capture_streams import BEAM, POSITION, RATES_HZ, Drive, Signals, driven, streams
from waywright import wording
from waywright.capture import Live, PassCapture, recut, standstill_settings
from waywright.capture.pass_time import PassTime
from waywright.errors import CaptureError
from waywright.readings import Reading, seal
from waywright.visit import Pass

LONG_S = 8.0
FOUR = driven([(0.0, LONG_S), (250.0, LONG_S), (500.0, LONG_S), (252.0, LONG_S), (750.0, LONG_S)])


def taken(drive: Drive, notebook: Notebook, signals: Signals | None = None, **other: object) -> Pass:
    async def run() -> Pass:
        story = Story(drive, signals)
        return await PassCapture(a_pass(), story.sources, story.clock, notebook, **other).run()  # type: ignore[arg-type]

    return asyncio.run(asyncio.wait_for(run(), 60.0))


def test_one_trigger_takes_a_whole_pass() -> None:
    notebook = Notebook()
    ended = taken(FOUR, notebook, travel_end_mm=750.0)
    assert places(notebook.readings) == [0, 250, 500, 252, 750]
    assert [reading.number for reading in notebook.readings] == [0, 1, 2, 3, 4]
    assert notebook.begun == [a_pass()]
    assert notebook.ended == [ended]
    assert ended.outcome == "finished"
    assert ended.ended_utc is not None
    assert ended.ended_utc > notebook.readings[-1].ended_utc
    assert notebook.keys[-1] == "capture.travel_end"


def test_readings_are_sealed_in_one_chain_and_a_repeat_supersedes() -> None:
    notebook = Notebook()
    taken(FOUR, notebook)
    previous: Reading | None = None
    for reading in notebook.readings:
        assert reading.hash == seal(reading, previous).hash
        previous = reading
    assert [reading.supersedes for reading in notebook.readings] == [None, None, None, notebook.readings[1].id, None]
    (told,) = notebook.of("capture.repeat")
    assert told.facts["number"] == 2


def test_times_are_times_of_day_and_seconds_of_the_pass() -> None:
    notebook = Notebook()
    taken(FOUR, notebook)
    for reading in notebook.readings:
        trace = reading.window[0]
        began_s = (reading.began_utc - BEGAN).total_seconds()
        assert began_s < trace.time_s[0] <= trace.time_s[-1] <= (reading.ended_utc - BEGAN).total_seconds() + 1e-6


def test_the_whole_stream_is_kept_in_blocks_of_about_ten_seconds() -> None:
    notebook = Notebook()
    taken(FOUR, notebook)
    whole = streams(FOUR, Signals())
    for name, batch in whole.items():
        blocks = [block for block in notebook.blocks if block.source == name]
        assert [block.number for block in blocks] == list(range(len(blocks)))
        assert np.allclose(np.concatenate([block.time_s for block in blocks]), batch.time_s, atol=1e-9, rtol=0)
        assert np.array_equal(np.concatenate([block.value for block in blocks]), batch.value)
        assert all(block.time_s[-1] - block.time_s[0] <= 11.0 for block in blocks)


def test_standstills_cut_again_with_the_same_settings_are_the_same() -> None:
    notebook = Notebook()
    ended = taken(FOUR, notebook)
    again = recut(ended, notebook.blocks, standstill_settings(ended), RATES_HZ)
    assert [(r.number, r.position_mm, r.values, r.direction) for r in again] == [
        (r.number, r.position_mm, r.values, r.direction) for r in notebook.readings
    ]


def test_standstills_cut_again_with_a_shorter_window() -> None:
    drive = driven([(0.0, LONG_S), (250.0, 4.0), (500.0, LONG_S)])
    notebook = Notebook()
    ended = taken(drive, notebook)
    assert places(notebook.readings) == [0, 500]
    again = recut(ended, notebook.blocks, replace(standstill_settings(ended), averaging_s=2.0), RATES_HZ)
    assert places(again) == [0, 250, 500]
    assert again[1].previous_hash == again[0].hash


def test_a_pass_that_was_interrupted_goes_on_with_numbers_chain_and_repeats() -> None:
    first, second = Notebook(), Notebook()
    taken(driven([(0.0, LONG_S), (250.0, LONG_S), (500.0, LONG_S)]), first)
    drive = driven([(750.0, LONG_S), (251.0, LONG_S), (1000.0, LONG_S)])
    counts = {source: sum(block.source == source for block in first.blocks) for source in RATES_HZ}
    taken(drive, second, continuing=True, earlier=first.readings, blocks_before=counts)
    assert second.begun == []
    assert second.keys[0] == "capture.continued"
    assert [reading.number for reading in second.readings] == [3, 4, 5]
    assert second.readings[0].previous_hash == first.readings[-1].hash
    assert second.readings[1].supersedes == first.readings[1].id
    assert min(block.number for block in second.blocks if block.source == "beam") == counts["beam"]


def test_events_have_sentences_with_their_facts() -> None:
    drive = driven([(0.0, LONG_S), (250.0, 16.0), (255.0, LONG_S), (500.0, LONG_S), (750.0, LONG_S)])
    start_s = drive.stands[1][0]
    notebook = Notebook()
    lost = (BEAM[0], start_s + 3.0, start_s + 4.0, 40.0)
    gap = ("beam", drive.stands[3][0] + 2.0, drive.stands[3][0] + 3.0)
    taken(drive, notebook, Signals(disturbances=(lost,), missing=(gap,)))
    (disturbed,) = notebook.of("capture.disturbed")
    sentence = wording.text(disturbed.key, **disturbed.facts)
    assert sentence.startswith("At 250 mm beam.vertical_um was disturbed for ")
    assert disturbed.position_mm == pytest.approx(250.0, abs=0.1)
    assert {"capture.too_small_step", "capture.gap", "capture.sources_ended"} <= set(notebook.keys)
    for event in notebook.events:
        assert wording.text(event.key, **event.facts)


def test_the_live_state_follows() -> None:
    seen: list[Live] = []
    taken(driven([(0.0, LONG_S), (250.0, LONG_S)]), Notebook(), watchers=[seen.append])
    order = list(dict.fromkeys(live.state for live in seen))
    assert order == ["waiting", "averaging", "taken", "moving"]
    assert seen[-1].readings == 2
    assert set(seen[-1].latest) == {POSITION, *BEAM}
    progress = [live.progress for live in seen if live.state == "averaging" and live.readings == 0]
    assert progress == sorted(progress)
    assert max(progress) > 0.8


class Deaf(Notebook):
    def keep_reading(self, reading: Reading) -> None:
        raise RuntimeError("screen gone")


def test_a_listener_that_fails_does_not_matter(caplog: pytest.LogCaptureFixture) -> None:
    archive, other = Notebook(), Notebook()

    def blind(live: Live) -> None:
        raise RuntimeError("no window")

    with caplog.at_level(logging.ERROR):
        ended = taken(FOUR, archive, listeners=[Deaf(), other], watchers=[blind], travel_end_mm=750.0)
    assert ended.outcome == "finished"
    assert places(archive.readings) == places(other.readings) == [0, 250, 500, 252, 750]
    assert "screen gone" in caplog.text


def test_by_hand_and_ended_by_command() -> None:
    async def run() -> tuple[Pass, Notebook]:
        notebook = Notebook()
        story = Story(driven([(0.0, LONG_S), (250.0, 40.0)]))

        def react(live: Live) -> None:
            if live.readings == 2 and not pressed:
                pressed.append(live.time_s)
                capture.trigger()
            if live.readings == 3:
                capture.finish()

        pressed: list[float] = []
        capture = PassCapture(a_pass(), story.sources, story.clock, notebook, watchers=[react])
        return await capture.run(), notebook

    ended, notebook = asyncio.run(asyncio.wait_for(run(), 60.0))
    assert ended.outcome == "finished"
    assert [reading.taken_by for reading in notebook.readings] == ["standstill", "standstill", "hand"]
    assert notebook.readings[2].supersedes == notebook.readings[1].id


def test_a_cancelled_pass_is_stopped_and_keeps_its_stream() -> None:
    async def run() -> Notebook:
        notebook = Notebook()
        story = Story(FOUR)
        started = asyncio.Event()

        def react(live: Live) -> None:
            if live.readings == 1:
                started.set()

        capture = PassCapture(a_pass(), story.sources, story.clock, notebook, watchers=[react])
        running = asyncio.create_task(capture.run())
        await started.wait()
        running.cancel()
        with pytest.raises(asyncio.CancelledError):
            await running
        return notebook

    notebook = asyncio.run(asyncio.wait_for(run(), 60.0))
    assert [ended.outcome for ended in notebook.ended] == ["stopped"]
    assert {block.source for block in notebook.blocks} == {"distance", "beam"}


def test_no_reading_spans_a_sleep_of_the_computer() -> None:
    async def run() -> tuple[Notebook, Drive]:
        notebook = Notebook()
        drive = driven([(0.0, LONG_S), (250.0, 60.0), (500.0, LONG_S)])
        from_s = drive.stands[1][0] + 3.0
        slept = (from_s, from_s + 40.0)
        story = Story(drive, Signals(missing=(("beam", *slept), ("distance", *slept))))
        story.sleeps.append(slept)
        await PassCapture(a_pass(), story.sources, story.clock, notebook).run()
        return notebook, drive

    notebook, drive = asyncio.run(asyncio.wait_for(run(), 60.0))
    (told,) = notebook.of("capture.slept")
    assert told.facts["duration_s"] == pytest.approx(40.0, abs=1.0)
    assert places(notebook.readings) == [0, 250, 500]
    woken_s = drive.stands[1][0] + 43.0
    assert (notebook.readings[1].began_utc - BEGAN).total_seconds() >= woken_s


def test_a_sleep_is_added_to_the_time_of_the_pass_from_there_on() -> None:
    from capture_sinks import ORIGIN_S, StoryClock

    clock = StoryClock()
    time = PassTime(clock, BEGAN)
    clock.now_s += 10.0
    assert time.slept_s() == 0.0
    clock.now_s += 1.0
    clock.slept_s += 3600.0
    assert time.slept_s() == pytest.approx(3600.0)
    assert time.slept_s() == 0.0
    monotonic = np.array([ORIGIN_S + 5.0, ORIGIN_S + 10.0, ORIGIN_S + 10.5, ORIGIN_S + 11.0])
    assert time.of(monotonic).tolist() == [5.0, 10.0, 3610.5, 3611.0]


def test_a_channel_that_nobody_has_is_refused_at_once() -> None:
    story_free = a_pass(channels=(*BEAM, "level.cross_um_per_m"))

    async def make() -> None:
        story = Story(FOUR)
        PassCapture(story_free, story.sources, story.clock, Notebook())

    with pytest.raises(CaptureError) as caught:
        asyncio.run(make())
    assert "level.cross_um_per_m" in str(caught.value)
    assert "beam.side_um" in str(caught.value)
