"""``waywright instrument new | check | tell`` on a live link; where the position comes from, told in every pass."""

from __future__ import annotations

import asyncio
import json
import math
import threading
import time
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from waywright.cli import main
from waywright.errors import BadInput
from waywright.instruments import Happening, SampleBatch, read_instrument
from waywright.instruments.proposing import propose
from waywright.jobs.new_instrument import link_of
from waywright.jobs.sources import KeptOpen


@contextmanager
def instrument_on_tcp(line: Callable[[int], bytes], pause_s: float = 0.02) -> Iterator[tuple[int, list[bytes]]]:
    """A peer in a thread of its own that sends line after line; its port, and what was said to it."""
    loop, ready, heard = asyncio.new_event_loop(), threading.Event(), []
    port: list[int] = []

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        async def listen() -> None:
            while said := await reader.readline():
                heard.append(said)
                writer.write(b"OK\r\n")

        listening = asyncio.ensure_future(listen())
        number = 0
        try:
            while not writer.is_closing():
                writer.write(line(number))
                await writer.drain()
                number += 1
                await asyncio.sleep(pause_s)
        except ConnectionError:
            pass
        finally:
            listening.cancel()

    async def start() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        port.append(server.sockets[0].getsockname()[1])
        ready.set()

    async def end() -> None:
        others = asyncio.all_tasks() - {asyncio.current_task()}
        for task in others:
            task.cancel()
        await asyncio.gather(*others, return_exceptions=True)
        loop.stop()

    def work() -> None:
        loop.run_until_complete(start())
        loop.run_forever()

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    ready.wait(10.0)
    try:
        yield port[0], heard
    finally:
        asyncio.run_coroutine_threadsafe(end(), loop)
        thread.join(10.0)


def beam_line(number: int) -> bytes:
    if number % 10 == 7:
        return b"?? 12\r\n"
    return b"%d V%+.1f um S%+.2f um T20.%d C\r\n" % (
        1000 + 20 * number,
        number % 40 - 20.5,
        number % 7 * 0.25,
        number % 3,
    )


def test_from_lines_to_a_description_that_reads_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "beam.toml"
    with instrument_on_tcp(beam_line) as (port, _):
        assert main(["instrument", "new", str(file), f"tcp://127.0.0.1:{port}", "--seconds", "1.5"]) == 0
        shown = capsys.readouterr().out
        assert "?? 12" in shown or "V+" in shown
        written = read_instrument(file).description
        kinds = [(channel.kind, channel.unit) for channel in written.channel]
        assert kinds == [("displacement", "um"), ("displacement", "um"), ("temperature", "degC")]
        assert "count" not in written.line_pattern
        assert main(["instrument", "check", str(file), "--seconds", "1.5", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["samples"] >= 10
    assert found["unmatched"]
    assert set(found["unmatched"]) == {"?? 12"}
    assert found["malformed"] >= 1
    assert [channel["channel"] for channel in found["channels"]] == ["beam.v2_um", "beam.v3_um", "beam.v4_degc"]
    assert -20.5 <= found["channels"][0]["least"] < found["channels"][0]["most"] <= 19.5
    assert found["said"][0].startswith("beam is connected")


def test_nothing_is_overwritten_and_silence_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "beam.toml"
    file.write_text("mine")
    with instrument_on_tcp(beam_line) as (port, _):
        assert main(["instrument", "new", str(file), f"tcp://127.0.0.1:{port}", "--seconds", "0.8"]) == 1
    assert "exists already" in capsys.readouterr().err
    assert file.read_text() == "mine"
    with instrument_on_tcp(lambda number: b"") as (port, _):
        assert main(["instrument", "new", str(tmp_path / "b.toml"), f"tcp://127.0.0.1:{port}", "--seconds", "0.5"]) == 1
    assert "No whole line came" in capsys.readouterr().err
    with instrument_on_tcp(lambda number: b"hello\r\n") as (port, _):
        assert main(["instrument", "new", str(tmp_path / "b.toml"), f"tcp://127.0.0.1:{port}", "--seconds", "0.8"]) == 1
    assert "none holds a number" in capsys.readouterr().err
    assert main(["instrument", "new", str(tmp_path / "b.toml"), "usb:1"]) == 1
    assert "is no link" in capsys.readouterr().err


TOLD = """\
format = 1
name = "dial"
title = "dial"
link = {{ kind = "tcp", host = "127.0.0.1", port = {port} }}
stream = {{ pattern = '(?P<v>\\d+\\.\\d+)', rate_hz = 50 }}
channel = [{{ name = "v", group = "v", kind = "displacement", unit = "um", positive = "up" }}]
[[command]]
name = "steer"
send = "S {{x:.1f}}\\n"
answer = "OK"
value = [{{ name = "x", unit = "um", range = [-9, 9] }}]
"""


def test_an_instrument_is_told_something(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "dial.toml"
    with instrument_on_tcp(lambda number: b"1.5\r\n") as (port, heard):
        file.write_text(TOLD.format(port=port))
        assert main(["instrument", "tell", str(file), "steer", "x=2.5"]) == 0
        assert heard == [b"S 2.5\n"]
        assert "steer: done" in capsys.readouterr().out
        assert main(["instrument", "tell", str(file), "steer", "x=25"]) == 1
        assert "beyond the limits" in capsys.readouterr().err
        assert main(["instrument", "tell", str(file), "steer", "x"]) == 1
        assert len(heard) == 1


POSITION = """\
format = 1
name = "{name}"
title = "position"
link = {{ kind = "tcp", host = "127.0.0.1", port = {port} }}
stream = {{ pattern = '(?P<p>[-+]?\\d+\\.\\d+) mm', rate_hz = 50 }}
channel = [{{ name = "position", group = "p", kind = "position", unit = "mm" }}]
"""


def test_the_delay_between_two_links_is_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    def late(delay_s: float) -> Callable[[int], bytes]:
        def say(number: int) -> bytes:
            moment = time.monotonic() - delay_s
            return b"%.3f mm\r\n" % (500.0 * math.sin(2.0 * moment) + 100.0 * math.sin(5.3 * moment))

        return say

    with instrument_on_tcp(late(0.0)) as (one, _), instrument_on_tcp(late(0.4)) as (other, _):
        for name, port in (("first", one), ("second", other)):
            (tmp_path / f"{name}.toml").write_text(POSITION.format(name=name, port=port))
        files = [str(tmp_path / f"{name}.toml") for name in ("first", "second")]
        assert main(["instrument", "delay", *files, "--seconds", "7", "--json"]) == 0
        found = json.loads(capsys.readouterr().out)
        assert main(["instrument", "delay", *files, "--channel", "second.x_um"]) == 1
    assert found["delay_s"] == pytest.approx(0.4, abs=0.1)
    assert found["reason"] is None
    assert "second.position_mm" in capsys.readouterr().err


def test_a_proposal_takes_words_literally_and_knows_a_decimal_comma() -> None:
    lines = [f"Ch1: {value},{tenth} mm/m (ok)" for value, tenth in ((0, 12), (-1, 50), (2, 25))] + ["noise 5"]
    found = propose(lines)
    assert found is not None
    assert (found.matched, found.lines, found.decimal_comma, found.counting) == (3, 4, True, None)
    assert found.pattern == r"Ch1: (?P<v2>[-+]?\d+,\d+) mm/m \(ok\)".replace("mm/m", "mm/m")
    (channel,) = found.channels
    assert (channel.kind, channel.unit, channel.least, channel.most) == ("angle", "mm/m", -1.5, 2.25)


def test_a_number_that_counts_up_is_no_channel() -> None:
    found = propose([f"{100 + 20 * at} 0.{at}" for at in range(8)])
    assert found is not None
    assert found.counting == "n"
    assert [channel.group for channel in found.channels] == ["v2"]
    assert not found.channels[0].unit_seen


@pytest.mark.parametrize(
    ("address", "link"),
    [
        ("tcp://10.0.0.7:4001", {"kind": "tcp", "host": "10.0.0.7", "port": 4001}),
        ("tcp-server://:4001", {"kind": "tcp-server", "port": 4001}),
        ("serial:COM3?baud=19200&parity=even", {"kind": "serial", "port": "COM3", "baud": 19200, "parity": "even"}),
        ("mqtt://broker/hall/air", {"kind": "mqtt", "host": "broker", "topic": "hall/air"}),
        ("visa:TCPIP::10.0.0.7::5025::SOCKET", {"kind": "visa", "resource": "TCPIP::10.0.0.7::5025::SOCKET"}),
    ],
)
def test_an_address_is_a_link(address: str, link: dict[str, object]) -> None:
    assert link_of(address) == link


def test_no_address() -> None:
    with pytest.raises(BadInput, match="is no link"):
        link_of("beam")


class Said:
    """A source that says what it is given."""

    name, channels, rate_hz = "axis", ("axis.position_mm",), 10.0

    def __init__(self, items: list[Happening]) -> None:
        self._items = items

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        for item in self._items:
            yield item
        await asyncio.Event().wait()


def test_every_pass_is_told_that_the_position_comes_from_the_controller() -> None:
    opened = Happening("instruments.connected", {"source": "axis"})
    standing = Happening("instruments.reads_controller", {"source": "axis"}, standing=True)

    async def passes(said: list[Happening], count: int) -> list[list[str]]:
        kept = KeptOpen(Said(said))
        listening = asyncio.create_task(kept.listen())
        await asyncio.sleep(0.01)
        told = []
        for _ in range(count):
            told.append([])
            try:
                async with asyncio.timeout(0.02):
                    async for item in kept:
                        assert isinstance(item, Happening)
                        told[-1].append(item.key.removeprefix("instruments."))
            except TimeoutError:
                pass
        listening.cancel()
        return told

    assert asyncio.run(passes([opened, standing], 2)) == [["reads_controller"], ["reads_controller"]]
    assert asyncio.run(passes([opened], 2)) == [["connected"], []]
    lost = Happening("instruments.link_lost", {"source": "axis"})
    assert asyncio.run(passes([opened, standing, lost], 2)) == [["link_lost"], []]
