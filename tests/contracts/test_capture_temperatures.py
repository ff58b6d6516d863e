"""Temperatures of a pass: typed while it is taken, and logged by a channel of temperature."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from capture_sinks import BEGAN, Notebook, Story, StorySource, a_pass
from capture_streams import BEAM, RATES_HZ, Signals, bunched, driven, streams
from waywright.capture import PassCapture
from waywright.instruments import SampleBatch
from waywright.visit import Pass, Temperature

DRIVE = driven([(0.0, 7.0), (250.0, 7.0), (500.0, 7.0)])
AIR = "air.bed_top_degc"


def run(capture: PassCapture, notebook: Notebook, *typed: tuple[str, float]) -> Pass:
    """A pass; what is typed is typed once its first reading is kept."""

    async def story() -> Pass:
        task = asyncio.create_task(capture.run())
        while not notebook.readings:
            await asyncio.sleep(0)
        for place, value_degc in typed:
            capture.temperature(place, value_degc)
        assert not task.done()
        return await task

    return asyncio.run(asyncio.wait_for(story(), 60.0))


def test_a_temperature_typed_during_a_pass_belongs_to_its_conditions() -> None:
    story, notebook = Story(DRIVE), Notebook()
    ended = run(PassCapture(a_pass(), story.sources, story.clock, notebook), notebook, ("bed foot", 18.4))
    (typed,) = ended.conditions.temperatures
    assert (typed.place, typed.value_degc) == ("bed foot", 18.4)
    assert typed.taken_utc is not None
    assert notebook.readings[0].ended_utc <= typed.taken_utc < notebook.readings[-1].ended_utc
    assert notebook.ended == [ended]
    (told,) = [event for event in notebook.events if event.key == "capture.temperature"]
    assert told.facts == {"place": "bed foot", "value_degc": 18.4}


def test_a_channel_of_temperature_is_logged_at_the_first_and_last_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    """20 degrees at the beginning, 0.01 K more each second; a reading holds the mean of its window."""
    monkeypatch.setitem(RATES_HZ, "air", 2.0)
    story, notebook = Story(DRIVE), Notebook()
    time_s = np.arange(0.1, DRIVE.end_s, 0.5)
    whole = streams(DRIVE, Signals()) | {"air": SampleBatch("air", (AIR,), time_s, 20.0 + 0.01 * time_s[:, None])}
    story._batches = list(bunched(whole, 0.5))
    story.sources.append(StorySource(story, "air", (AIR,)))
    before = Temperature("bed foot", 18.4, BEGAN - timedelta(minutes=5))
    taken = a_pass(channels=(*BEAM, AIR))
    taken = replace(taken, conditions=replace(taken.conditions, temperatures=(before,)))
    ended = run(PassCapture(taken, story.sources, story.clock, notebook), notebook)
    assert len(notebook.readings) == 3
    kept, *logged = ended.conditions.temperatures
    assert kept == before
    assert [item.place for item in logged] == ["bed top", "bed top"]
    for item, reading in zip(logged, (notebook.readings[0], notebook.readings[-1]), strict=True):
        middle = reading.began_utc + (reading.ended_utc - reading.began_utc) / 2 - BEGAN
        assert item.taken_utc == reading.ended_utc
        assert item.value_degc == pytest.approx(20.0 + 0.01 * middle.total_seconds(), abs=0.006)
