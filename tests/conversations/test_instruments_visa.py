"""SCPI over VISA: an instrument behind a simulated VISA library, and one behind a raw TCP socket."""

from __future__ import annotations

import asyncio
import threading
from pathlib import Path

import pytest

from instrument_hearing import heard, run, samples, values
from waywright.clocks import SystemClock
from waywright.instruments import Instrument, InstrumentSource, parse_instrument

DIAL = """\
format = 1
name = "dial"
title = "bench multimeter with a displacement transducer"
[link]
kind = "visa"
resource = "{resource}"
library = "{library}"
timeout_s = 0.3
[stream]
pattern = '(?P<v>[-+]?\\d+(\\.\\d+)?([eE][-+]?\\d+)?)'
rate_hz = 20
[ask]
send = "READ?\\n"
[[channel]]
name = "deviation"
group = "v"
kind = "displacement"
unit = "mm"
positive = "up"
[[command]]
name = "zero"
send = "CALC:NULL ON\\n"
"""

# A device of the simulated library: what is said to it, what it answers.
SIMULATED = """
spec: "1.1"
devices:
  dial:
    eom:
      TCPIP INSTR:
        q: "\\n"
        r: "\\n"
    error: ERROR
    dialogues:
      - q: "READ?"
        r: "+1.250E-01"
      - q: "CALC:NULL ON"
resources:
  TCPIP::127.0.0.1::inst0::INSTR:
    device: dial
"""


def dial(resource: str, library: str = "@py") -> Instrument:
    return parse_instrument(DIAL.format(resource=resource, library=library).encode(), "dial.toml")


def test_a_simulated_instrument_is_asked(tmp_path: Path) -> None:
    (tmp_path / "bench.yaml").write_text(SIMULATED)
    library = f"{(tmp_path / 'bench.yaml').as_posix()}@sim"

    async def conversation() -> None:
        source = InstrumentSource(dial("TCPIP::127.0.0.1::inst0::INSTR", library), SystemClock())
        batches, events = await heard(source, lambda said: samples(said) >= 5)
        assert (values(batches)[:, 0] == 125.0).all()
        assert source.tally.malformed == 0
        assert [event.key for event in events] == ["instruments.connected"]

    run(conversation())


class Socket:
    """A SCPI instrument on a TCP socket. ``late_s`` holds back the answers to the questions with these numbers."""

    def __init__(self, late_s: dict[int, float]) -> None:
        self.heard: list[bytes] = []
        self._late_s = late_s
        self._count = 0

    async def serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            while True:
                said = await reader.readuntil(b"\n")
                self.heard.append(said)
                if said == b"READ?\n":
                    self._count += 1
                    await asyncio.sleep(self._late_s.get(self._count, 0.0))
                    writer.write(b"%+.6E\n" % (self._count * 1e-3))
        except (asyncio.IncompleteReadError, ConnectionError):
            writer.close()


def test_an_instrument_on_a_raw_socket_with_a_late_answer() -> None:
    async def conversation() -> None:
        device = Socket({3: 0.45})
        server = await asyncio.start_server(device.serve, "127.0.0.1", 0)
        resource = f"TCPIP::127.0.0.1::{server.sockets[0].getsockname()[1]}::SOCKET"
        source = InstrumentSource(dial(resource), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 6, connected))
        await connected.wait()
        await source.command("zero")
        batches, events = await listening
        server.close()
        got = values(batches)[:, 0].tolist()
        assert got[:2] == [1.0, 2.0]
        # No answer is given out twice, and none twisted; the late one is dropped or comes in its own right.
        assert got == sorted(set(got))
        assert device.heard.count(b"CALC:NULL ON\n") == 1
        assert source.tally.malformed == 0
        assert events[0].key == "instruments.connected"

    run(conversation())


def test_an_instrument_that_does_not_answer_is_told() -> None:
    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        await reader.read()
        writer.close()

    async def conversation() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        resource = f"TCPIP::127.0.0.1::{server.sockets[0].getsockname()[1]}::SOCKET"
        source = InstrumentSource(dial(resource), SystemClock())
        _, events = await heard(source, lambda said: len(said) >= 1)
        server.close()
        assert [event.key for event in events] == ["instruments.not_reached"]
        assert events[0].facts["reason"] == "no answer"

    run(conversation())


def test_an_instrument_that_hangs_up_is_told_and_never_spun_on() -> None:
    calls = 0

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        nonlocal calls
        calls += 1
        await reader.readuntil(b"\n")
        if calls == 1:
            writer.write(b"1.0\n")
        writer.close()

    async def conversation() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        resource = f"TCPIP::127.0.0.1::{server.sockets[0].getsockname()[1]}::SOCKET"
        source = InstrumentSource(dial(resource), SystemClock())
        _, events = await heard(source, lambda said: samples(said) == 1 and len(said) >= 3)
        server.close()
        assert [event.key.removeprefix("instruments.") for event in events] == ["connected", "link_lost"]

    run(conversation())
    # A thread of the library that never ends would keep the program from ending.
    waiting = [thread for thread in threading.enumerate() if thread.name.startswith("visa")]
    for thread in waiting:
        thread.join(10.0)
    assert not any(thread.is_alive() for thread in waiting)


@pytest.mark.parametrize("resource", ["TCPIP::127.0.0.1::9::SOCKET", "NOSUCH::1::INSTR"])
def test_a_resource_that_cannot_be_opened_is_told(resource: str) -> None:
    async def conversation() -> None:
        source = InstrumentSource(dial(resource), SystemClock())
        batches, events = await heard(source, lambda said: len(said) >= 1)
        assert batches == []
        assert events[0].key == "instruments.not_reached"
        assert events[0].facts["address"] == resource
        assert events[0].facts["reason"]

    run(conversation())
