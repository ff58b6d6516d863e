"""The archive must succeed: what fails there stops the pass, and nothing is announced that it does not hold."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

import pytest

from capture_sinks import Notebook, Story, a_pass, places
from capture_streams import BEAM, POSITION, driven
from waywright.capture import Live, PassCapture
from waywright.errors import ArchiveError
from waywright.instruments import Happening, SampleBatch
from waywright.readings import Reading
from waywright.visit import Pass, PassEvent

DRIVE = driven([(0.0, 8.0), (250.0, 8.0), (500.0, 8.0)])


class FullDisk(Notebook):
    """Fails at the second reading, as a full disk would."""

    def keep_reading(self, reading: Reading) -> None:
        if reading.number == 1:
            raise ArchiveError("archive.disk_full")
        super().keep_reading(reading)


class Late(Notebook):
    """An error that a careless loop would take for its own."""

    def note(self, event: PassEvent) -> None:
        raise TimeoutError("the share does not answer")


def taken(archive: Notebook, listener: Notebook, seen: list[Live]) -> Pass:
    async def run() -> Pass:
        story = Story(DRIVE)
        capture = PassCapture(
            a_pass(), story.sources, story.clock, archive, listeners=[listener], watchers=[seen.append]
        )
        return await capture.run()

    return asyncio.run(asyncio.wait_for(run(), 60.0))


def test_a_full_disk_stops_the_pass_with_its_own_error() -> None:
    archive, listener, seen = FullDisk(), Notebook(), []
    with pytest.raises(ArchiveError) as caught:
        taken(archive, listener, seen)
    assert caught.value.key == "archive.disk_full"
    assert places(archive.readings) == places(listener.readings) == [0]
    assert [ended.outcome for ended in archive.ended] == ["failed"]
    assert max(live.readings for live in seen) == 1


def test_a_timeout_of_the_archive_is_not_swallowed() -> None:
    with pytest.raises(TimeoutError, match="share"):
        taken(Late(), Notebook(), [])


class Broken:
    """A source with a defect of its own."""

    name = "distance"
    channels = (POSITION,)
    rate_hz = 10.0

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        yield Happening("instruments.connected", {"source": "distance", "address": "here"})
        raise ZeroDivisionError("defect")


def test_a_defect_in_a_source_ends_the_pass_with_its_error() -> None:
    archive = Notebook()

    async def run() -> None:
        story = Story(DRIVE)
        await PassCapture(a_pass(), [Broken(), story.sources[1]], story.clock, archive).run()

    with pytest.raises(ZeroDivisionError):
        asyncio.run(asyncio.wait_for(run(), 60.0))
    assert [ended.outcome for ended in archive.ended] == ["failed"]
    assert a_pass().channels == BEAM
