"""An instrument that says nothing is named, and waited for; a session that is closed as soon as it was started is."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest
from nicegui.testing import User

from jobs.made_line import BEAM, DISTANCE, LATHE
from made_pages import gone, see, tell, until
from waywright.archive import open_archive
from waywright.clocks import SystemClock
from waywright.files.setup_file import LineEntry, SetUpFile
from waywright.instruments import SampleBatch, read_instrument
from waywright.jobs.begin import Begun, keep
from waywright.jobs.sources import OpenInstruments
from waywright.web.desk import Desk
from waywright.web.session import Session

FACTS = SetUpFile(line=LineEntry(name="carriage", axis="Z", from_mm=0.0, to_mm=5000.0))


class Peer:
    """An instrument on TCP that speaks only when it is told to."""

    def __init__(self, line: str) -> None:
        self._line = line
        self.speaks = asyncio.Event()
        self.port = 0

    async def serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """Silence, then a line every 20 ms."""
        await self.speaks.wait()
        while not writer.is_closing():
            writer.write(f"{self._line}\n".encode())
            await asyncio.sleep(0.02)


@asynccontextmanager
async def instruments(folder: Path) -> AsyncIterator[tuple[tuple[Path, Path], Peer, Peer]]:
    """Description files of a beam detector and of a distance meter, and the two themselves."""
    beam, distance = Peer("1.0 2.0"), Peer("1500.0 mm")
    servers = []
    for peer in (beam, distance):
        server = await asyncio.start_server(peer.serve, "127.0.0.1", 0)
        peer.port = server.sockets[0].getsockname()[1]
        servers.append(server)
    meter = DISTANCE.replace('kind = "serial"', 'kind = "tcp"').replace(
        'port = "COM9"', f'host = "127.0.0.1"\nport = {distance.port}'
    )
    files = (folder / "beam.toml", folder / "distance.toml")
    for file, body in zip(files, (BEAM.replace("50001", str(beam.port)), meter), strict=True):
        file.write_text(body)
    try:
        yield files, beam, distance
    finally:
        for server in servers:
            server.close()


def test_a_silent_instrument_is_named_with_the_next_step_and_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(Session._keep_figures.__globals__, "HEARD_WITHIN_S", 0.3)

    async def story(user: User, desk: Desk) -> None:
        async with instruments(tmp_path) as (files, beam, distance):
            beam.speaks.set()
            line = await desk.measure(LATHE, FACTS, files, None)
            await user.open(f"/line/{line.id}/take")
            await see(user, "Nothing has come from the distance meter")
            await see(user, f"127.0.0.1:{distance.port}")
            await gone(user, "Nothing has come from the two-axis beam position detector")
            assert desk.state.phase == "connecting"
            distance.speaks.set()
            await until(lambda: desk.state.phase == "ready")
            await gone(user, "Nothing has come from the distance meter")

    tell(tmp_path / "a.sqlite", story)


def test_an_instrument_that_is_not_there_says_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(Session._keep_figures.__globals__, "HEARD_WITHIN_S", 0.3)

    async def story(user: User, desk: Desk) -> None:
        async with instruments(tmp_path) as (files, beam, _):
            beam.speaks.set()
            files[1].write_text(DISTANCE.replace("COM9", str(tmp_path / "no-such-port")))
            line = await desk.measure(LATHE, FACTS, files, None)
            await user.open(f"/line/{line.id}/take")
            await see(user, "no-such-port")
            await see(user, "measure without it")

    tell(tmp_path / "a.sqlite", story)


def _begun(folder: Path, files: tuple[Path, ...]) -> Begun:
    with open_archive(folder / "a.sqlite", create=True) as archive:
        return keep(archive, LATHE, FACTS, tuple(map(read_instrument, files)), None, SystemClock())


def test_a_session_that_is_closed_at_once_lets_its_instruments_go(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A serial port has one user: one that is still held by the first opening is not heard by the second."""
    run = asyncio.run

    def late(job: object) -> None:
        time.sleep(0.2)  # a busy computer
        run(job)  # type: ignore[arg-type]

    async def story() -> None:
        async with instruments(tmp_path) as (files, *_):
            session = Session(tmp_path / "a.sqlite", _begun(tmp_path, files), SystemClock(), lambda _: None)
            monkeypatch.setattr(asyncio, "run", late)
            session.start()
            await asyncio.wait_for(asyncio.to_thread(session.close), 10.0)
            assert not session.runs

    run(story())


class Eager:
    """A source that never waits."""

    name, channels, rate_hz = "eager", ("eager.a",), 10.0

    def __init__(self) -> None:
        self.heard = 0

    async def __aiter__(self) -> AsyncIterator[SampleBatch]:
        import numpy as np

        while True:
            await asyncio.sleep(0)
            self.heard += 1
            yield SampleBatch(self.name, self.channels, np.array([float(self.heard)]), np.ones((1, 1)))


def test_a_listener_that_fell_behind_and_left_does_not_silence_the_instrument() -> None:
    source = Eager()

    async def story() -> None:
        async with OpenInstruments([source]) as opened:
            (kept,) = opened.sources
            first = aiter(kept)
            await anext(first)
            before = 0
            while source.heard != before:  # until nothing more fits into its queue
                before = source.heard
                for _ in range(20):
                    await asyncio.sleep(0)
            await first.aclose()
            async with asyncio.timeout(5.0):
                heard = await anext(aiter(kept))
            assert isinstance(heard, SampleBatch)

    asyncio.run(story())


class Broken(Eager):
    """A source that ends with an error."""

    async def __aiter__(self) -> AsyncIterator[SampleBatch]:
        async for batch in super().__aiter__():
            yield batch
            await asyncio.sleep(0.05)
            raise OSError("the driver has gone")


def test_a_listener_hears_that_the_source_has_failed() -> None:
    async def story() -> None:
        async with OpenInstruments([Broken()]) as opened, asyncio.timeout(5.0):
            with pytest.raises(OSError, match="the driver has gone"):
                async for _ in opened.sources[0]:
                    pass

    asyncio.run(story())
