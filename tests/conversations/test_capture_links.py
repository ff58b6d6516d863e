"""A pass over real links: a TCP detector and a serial distance meter, at factor 1 and at factor 20 of the clock."""

from __future__ import annotations

import asyncio
import os
from collections.abc import Callable
from contextlib import suppress

import numpy as np
import pytest

from capture_sinks import Notebook, a_pass, places
from capture_streams import BEAM, POSITION, Drive, Signals, driven, streams
from instrument_texts import beam, distance, serial, tcp
from waywright.capture import PassCapture
from waywright.clocks import Clock, ScaledClock, SystemClock
from waywright.instruments import InstrumentSource
from waywright.visit import PassSettings

DRIVE = driven([(0.0, 4.0), (60.0, 4.0), (140.0, 4.0), (62.0, 4.0)])
SETTINGS = PassSettings(averaging_s=1.5, dwell_s=0.6, smallest_step_mm=10.0)
OWN_CLOCK_S = 77_000.0
PATIENCE_S = 120.0

Say = Callable[[bytes], None]


class Peers:
    """Both instruments: each says what is due by the clock, the detector with the stamp of its own clock."""

    def __init__(self, drive: Drive, clock: Clock) -> None:
        whole = streams(drive, Signals())
        self._clock = clock
        self._lines = {
            "beam": [
                (t, b"%d V%+.2f S%+.6f\r\n" % (round(1000 * (OWN_CLOCK_S + t)), v, s))
                for t, (v, s) in zip(whole["beam"].time_s, whole["beam"].value, strict=True)
            ],
            "distance": [
                (t, b"%.3f mm\r\n" % x[0])
                for t, x in zip(whole["distance"].time_s, whole["distance"].value, strict=True)
            ],
        }
        self._began_s = clock.monotonic_s()
        self.calls = 0
        self.hang_up_s: float | None = None

    def drive(self) -> None:
        """The axis starts now."""
        self._began_s = self._clock.monotonic_s()

    async def talk(self, name: str, say: Say, from_s: float = 0.0) -> None:
        lines = [item for item in self._lines[name] if item[0] >= from_s]
        while lines:
            now_s = self._clock.monotonic_s() - self._began_s
            due = sum(1 for at_s, _ in lines if at_s <= now_s)
            if due:
                say(b"".join(line for _, line in lines[:due]))
                del lines[:due]
            if name == "beam" and self.hang_up_s is not None and now_s > self.hang_up_s and self.calls == 1:
                return
            await asyncio.sleep(0.005)

    async def serve_beam(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self.calls += 1
        writer.write(b"\n")
        with suppress(ConnectionError):
            await self.talk("beam", writer.write, self._clock.monotonic_s() - self._began_s)
        writer.close()


async def measured(clock: Clock, drive: Drive = DRIVE, hang_up_s: float | None = None) -> Notebook:
    """A pass over both links until the axis has been through."""
    import tty

    notebook, peers = Notebook(), Peers(drive, clock)
    peers.hang_up_s = hang_up_s
    end, other = os.openpty()
    tty.setraw(other)
    server = await asyncio.start_server(peers.serve_beam, "127.0.0.1", 0)
    port = server.sockets[0].getsockname()[1]
    sources = [InstrumentSource(beam(port), clock), InstrumentSource(distance(serial(os.ttyname(other))), clock)]
    taken = a_pass(settings=SETTINGS, began_utc=clock.utc())
    capture = PassCapture(taken, sources, clock, notebook)
    running = asyncio.create_task(capture.run())
    while notebook.keys.count("instruments.connected") < 2:
        await asyncio.sleep(0.01)
    peers.drive()
    os.write(end, b"\n")
    await peers.talk("distance", lambda data: bool(os.write(end, data)))
    await asyncio.sleep(0.3)
    capture.stop()
    await running
    server.close()
    os.close(end)
    os.close(other)
    return notebook


def through(clock: Clock, **other: object) -> Notebook:
    return asyncio.run(asyncio.wait_for(measured(clock, **other), PATIENCE_S))  # type: ignore[arg-type]


needs_pty = pytest.mark.skipif(not hasattr(os, "openpty"), reason="pseudo-terminals exist on POSIX only")


@needs_pty
def test_the_same_stations_at_factor_1_and_at_factor_20() -> None:
    real, fast = through(SystemClock()), through(ScaledClock(20.0))
    for notebook in (real, fast):
        assert places(notebook.readings) == [0, 60, 140, 62]
        assert [reading.direction for reading in notebook.readings] == [None, "forward", "forward", "backward"]
        assert [bool(reading.supersedes) for reading in notebook.readings] == [False, False, False, True]
        assert [ended.outcome for ended in notebook.ended] == ["stopped"]
    for one, other in zip(real.readings, fast.readings, strict=True):
        for value, twin in zip(one.values, other.values, strict=True):
            # The same noise, windows a fraction of a second apart: six standard errors of the difference.
            error = np.hypot(
                value.standard_deviation / np.sqrt(value.samples), twin.standard_deviation / np.sqrt(twin.samples)
            )
            assert value.mean == pytest.approx(twin.mean, abs=6.0 * error + 0.01)


@needs_pty
def test_a_detector_that_is_switched_off_and_on_again_is_named_and_the_pass_goes_on() -> None:
    drive = driven([(0.0, 6.0), (60.0, 100.0), (140.0, 60.0), (200.0, 60.0)])

    class Slow(ScaledClock):
        """Calls again only after two seconds of the wall clock: long enough to be missed."""

        async def sleep(self, duration_s: float) -> None:
            await asyncio.sleep(2.0 if duration_s >= 0.5 else duration_s / self.factor)

    clock = Slow(20.0)
    notebook = through(clock, drive=drive, hang_up_s=drive.stands[1][0] + 1.0)
    assert places(notebook.readings) == [0, 60, 140, 200]
    (silent,) = notebook.of("capture.silent")
    assert silent.facts["source"] == "beam"
    assert [event.facts["source"] for event in notebook.of("capture.returned")] == ["beam"]
    before = notebook.keys[: notebook.keys.index("capture.returned")]
    assert before.count("instruments.link_lost") == 1
    for reading in notebook.readings:
        assert {value.channel for value in reading.values} == {POSITION, *BEAM}
        assert np.diff(reading.window[1].time_s).max() < 1.0


def test_a_distance_meter_over_tcp_serves_as_well() -> None:
    async def run() -> Notebook:
        clock = ScaledClock(20.0)
        notebook, peers = Notebook(), Peers(DRIVE, clock)
        begun = asyncio.Event()

        async def serve_distance(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            await begun.wait()
            writer.write(b"\n")
            with suppress(ConnectionError):
                await peers.talk("distance", writer.write)
                await asyncio.sleep(0.3)
            capture.stop()
            writer.close()

        servers = [await asyncio.start_server(serve, "127.0.0.1", 0) for serve in (peers.serve_beam, serve_distance)]
        beam_port, distance_port = (server.sockets[0].getsockname()[1] for server in servers)
        sources = [InstrumentSource(beam(beam_port), clock), InstrumentSource(distance(tcp(distance_port)), clock)]
        taken = a_pass(settings=SETTINGS, began_utc=clock.utc())
        capture = PassCapture(taken, sources, clock, notebook)
        running = asyncio.create_task(capture.run())
        while notebook.keys.count("instruments.connected") < 2:
            await asyncio.sleep(0.01)
        peers.drive()
        begun.set()
        await running
        for server in servers:
            server.close()
        return notebook

    assert places(asyncio.run(asyncio.wait_for(run(), PATIENCE_S)).readings) == [0, 60, 140, 62]
