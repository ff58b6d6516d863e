"""Instruments that call us, send datagrams, are asked, write a file, or speak a serial line in their own way."""

from __future__ import annotations

import asyncio
import os
import socket
from pathlib import Path

import numpy as np
import pytest

from instrument_hearing import PATIENCE_S, Say, happened, heard, run, samples, tcp_peer, values
from instrument_texts import distance, serial, tcp
from waywright import wording
from waywright.clocks import ScaledClock, SystemClock
from waywright.errors import BadInput, InstrumentError
from waywright.instruments import Instrument, InstrumentSource, parse_instrument


def free_port(kind: socket.SocketKind = socket.SOCK_STREAM) -> int:
    with socket.socket(socket.AF_INET, kind) as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


def link(kind: str, **keys: object) -> str:
    stated = "".join(f"{key} = {value!r}\n" for key, value in keys.items())
    return f"[link]\nkind = '{kind}'\n{stated}"


def test_an_instrument_that_calls_us_and_calls_again() -> None:
    port = free_port()

    async def call() -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
        while True:
            try:
                return await asyncio.open_connection("127.0.0.1", port)
            except OSError:
                await asyncio.sleep(0.02)

    async def conversation() -> None:
        source = InstrumentSource(distance(link("tcp-server", host="127.0.0.1", port=port)), ScaledClock(20.0))
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 4, connected))
        _, first = await call()
        first.write(b"\n1.00 mm\n2.00 mm\n3.0")
        await connected.wait()
        while source.tally.samples < 2:
            await asyncio.sleep(0.02)
        # Switched off without a good-bye and on again: the old connection is still open.
        _, second = await call()
        second.write(b"\n4.00 mm\n5.00 mm\n")
        batches, events = await listening
        first.close()
        second.close()
        assert values(batches)[:, 0].tolist() == [1.0, 2.0, 4.0, 5.0]
        keys = [event.key.removeprefix("instruments.") for event in events]
        assert keys == ["connected", "link_lost", "connected"]
        assert source.tally.malformed == 0

    run(conversation())


def test_after_closing_the_port_is_free() -> None:
    port = free_port()

    async def conversation() -> None:
        source = InstrumentSource(distance(link("tcp-server", host="127.0.0.1", port=port)), SystemClock())
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 1))
        await asyncio.sleep(0.2)
        listening.cancel()
        await asyncio.gather(listening, return_exceptions=True)
        server = await asyncio.start_server(lambda reader, writer: None, "127.0.0.1", port)
        server.close()

    run(conversation())


def test_every_line_of_a_datagram_is_read() -> None:
    port = free_port(socket.SOCK_DGRAM)

    async def conversation() -> None:
        source = InstrumentSource(distance(link("udp", host="127.0.0.1", port=port)), SystemClock())
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 4))
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as sender:
            while not source._link._inbox:
                sender.sendto(b"?", ("127.0.0.1", port))
                await asyncio.sleep(0.02)
            refused = source.tally.malformed
            for datagram in (b"1.00 mm", b"2.00 mm\r\n3.00 mm\r\n", b"12", b"4.00 mm\n"):
                sender.sendto(datagram, ("127.0.0.1", port))
                await asyncio.sleep(0.05)
        batches, events = await listening
        assert values(batches)[:, 0].tolist() == [1.0, 2.0, 3.0, 4.0]
        assert source.tally.malformed > refused
        assert source.tally.partial == 0
        assert [event.key for event in events] == ["instruments.connected"]

    run(conversation())


def test_a_file_that_another_program_writes(tmp_path: Path) -> None:
    path = tmp_path / "readout.txt"
    path.write_text("0.10 mm\n0.20 mm\n0.3")

    async def add(text: str) -> None:
        with path.open("a") as file:
            file.write(text)
        await asyncio.sleep(0.15)

    async def conversation() -> None:
        source = InstrumentSource(distance(link("file", path=str(path))), ScaledClock(20.0))
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 5, connected))
        await connected.wait()
        await add("0 mm\n1.00 mm\n2.0")
        await add("0 mm\n")
        path.rename(tmp_path / "readout.old")
        path.write_text("3.00 mm\n4.00 mm\n")
        while source.tally.samples < 4:
            await asyncio.sleep(0.02)
        path.write_text("")  # cut to nothing and begun anew
        await asyncio.sleep(0.3)
        await add("5.00 mm\n")
        batches, events = await listening
        # what stood in the file before is old; the line that was unfinished then is not whole
        assert values(batches)[:, 0].tolist() == [1.0, 2.0, 3.0, 4.0, 5.0]
        assert source.tally.malformed == 0
        assert [event.key for event in events].count("instruments.link_lost") == 2

    run(conversation())


ASKED = """\
format = 1
name = "level"
title = "electronic level"
{link}
[stream]
pattern = 'L(?P<a>[-+]?\\d+\\.\\d+)'
rate_hz = {rate_hz}
[ask]
send = "L?\\r"
timeout_s = 0.3
[[channel]]
name = "along"
group = "a"
kind = "angle"
unit = "mm/m"
positive = "right-side-up"
[[command]]
name = "zero"
send = "Z\\r"
answer = "OK Z"
[[command]]
name = "steer"
send = "S {{x:+.1f}} {{y:+.1f}}\\r"
value = [{{ name = "x", unit = "um", range = [-100, 100] }}, {{ name = "y", unit = "um", range = [-100, 100] }}]
answer = "OK S"
timeout_s = 0.5
"""


def asked(text: str, rate_hz: float = 20.0) -> Instrument:
    return parse_instrument(ASKED.format(link=text, rate_hz=rate_hz).encode(), "level.toml")


class Level:
    """An electronic level that answers questions; ``deaf_to`` are commands that it does not confirm."""

    def __init__(self, deaf_to: bytes = b"", silent_first: int = 0) -> None:
        self.asked: list[bytes] = []
        self._deaf_to, self._silent = deaf_to, silent_first
        self._zero = 0.0

    async def serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            while True:
                question = (await reader.readuntil(b"\r"))[:-1]
                self.asked.append(question)
                if question == b"L?" and self._silent:
                    self._silent -= 1
                elif question == b"L?":
                    writer.write(b"L%+.3f\r\n" % (0.125 - self._zero))
                elif not question.startswith(self._deaf_to or b"never"):
                    self._zero = 0.125 if question == b"Z" else self._zero
                    writer.write(b"OK %c\r\n" % question[0])
        except (asyncio.IncompleteReadError, ConnectionError):
            writer.close()


async def level_at(level: Level) -> tuple[asyncio.Server, int]:
    server = await asyncio.start_server(level.serve, "127.0.0.1", 0)
    return server, server.sockets[0].getsockname()[1]


def test_a_level_is_asked_and_answers() -> None:
    async def conversation() -> None:
        level = Level(silent_first=1)
        server, port = await level_at(level)
        source = InstrumentSource(asked(tcp(port)), SystemClock())
        batches, _ = await heard(source, lambda said: samples(said) >= 10)
        server.close()
        assert (values(batches)[:, 0] == 125.0).all()
        times = np.concatenate([batch.time_s for batch in batches])
        assert (np.diff(times) >= 0).all()
        # One question for each answer, and the one that was not answered; perhaps one on its way.
        assert 11 <= len(level.asked) <= 14
        # The first line after opening may have lost its head; this one had not.
        assert source.tally.partial <= 1

    run(conversation())


def test_the_next_question_waits_for_the_answer() -> None:
    waiting: list[int] = []

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            while True:
                await reader.readuntil(b"\r")
                await asyncio.sleep(0.05)
                waiting.append(len(reader._buffer))  # type: ignore[attr-defined]
                writer.write(b"L0.001\n")
        except (asyncio.IncompleteReadError, ConnectionError):
            writer.close()

    async def conversation() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        instrument = asked(tcp(server.sockets[0].getsockname()[1]), rate_hz=200.0)
        await heard(InstrumentSource(instrument, SystemClock()), lambda said: samples(said) >= 5)
        server.close()
        assert waiting
        assert set(waiting) == {0}

    run(conversation())


def test_commands_are_sent_and_confirmed() -> None:
    async def conversation() -> None:
        level = Level()
        server, port = await level_at(level)
        source = InstrumentSource(asked(tcp(port)), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(
            heard(source, lambda said: samples(said) >= 3 and bool(values(said[-1:])[-1, 0] == 0.0), connected)
        )
        await connected.wait()
        await source.command("steer", x=12.0, y=-3.25)
        await source.command("zero")
        batches, _ = await listening
        server.close()
        assert [said for said in level.asked if said != b"L?"] == [b"S +12.0 -3.2", b"Z"]
        assert values(batches)[-1, 0] == 0.0
        assert source.tally.malformed == 0  # answers are no samples

    run(conversation())


def test_a_command_that_is_refused_or_not_confirmed_is_told() -> None:
    async def conversation() -> None:
        level = Level(deaf_to=b"S")
        server, port = await level_at(level)
        source = InstrumentSource(asked(tcp(port)), SystemClock())
        with pytest.raises(InstrumentError) as caught:
            await source.command("zero")
        assert caught.value.key == "instruments.command_not_sent"
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: False, connected))
        await connected.wait()
        with pytest.raises(InstrumentError) as caught:
            await source.command("steer", x=1.0, y=0.0)
        assert "did not confirm 'steer' within 0.5 s" in wording.sentence_of(caught.value)
        for values_given, key in (({"x": 1.0}, "values"), ({"x": 101.0, "y": 0.0}, "range")):
            with pytest.raises(BadInput) as refused:
                await source.command("steer", **values_given)
            assert refused.value.key == f"instruments.command_{key}"
        with pytest.raises(BadInput, match="zero, steer"):
            await source.command("fire")
        sent = [said for said in level.asked if said != b"L?"]
        assert sent == [b"S +1.0 +0.0"]
        listening.cancel()
        await asyncio.gather(listening, return_exceptions=True)
        server.close()

    run(conversation())


needs_pty = pytest.mark.skipif(not hasattr(os, "openpty"), reason="pseudo-terminals exist on POSIX only")


def raw_pty() -> tuple[int, int, str]:
    import tty

    end, other = os.openpty()
    tty.setraw(other)
    return end, other, os.ttyname(other)


@needs_pty
@pytest.mark.parametrize(("flow", "input_flag", "line_flag"), [("xon-xoff", True, False), ("rts-cts", False, True)])
def test_flow_control_is_set_on_the_line(flow: str, input_flag: bool, line_flag: bool) -> None:
    import termios

    async def conversation() -> None:
        end, other, name = raw_pty()
        source = InstrumentSource(distance(serial(name) + f'\nflow_control = "{flow}"'), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 1, connected))
        await connected.wait()
        modes = termios.tcgetattr(other)
        assert bool(modes[0] & termios.IXON) == input_flag
        assert bool(modes[2] & termios.CRTSCTS) == line_flag
        os.write(end, b"\n1.00 mm\n")
        batches, _ = await listening
        assert values(batches).tolist() == [[1.0]]
        os.close(end)
        os.close(other)

    run(conversation())


def with_even_parity(data: bytes) -> bytes:
    """Seven data bits with even parity as eight bits, which is how a line set to 8N1 sees them."""
    return bytes(byte | (byte.bit_count() % 2) << 7 for byte in data)


@needs_pty
def test_a_line_set_to_the_wrong_parity_is_told_as_that_and_nothing_is_believed() -> None:
    async def conversation() -> None:
        end, other, name = raw_pty()
        source = InstrumentSource(distance(serial(name)), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, happened("instruments.garbled"), connected))
        await connected.wait()
        for number in range(80):
            os.write(end, with_even_parity(b"%d.25 mm\r\n" % (1000 + number)))
            await asyncio.sleep(0)
        batches, events = await listening
        os.close(end)
        os.close(other)
        assert batches == []
        assert "parity" in wording.text(events[-1].key, "en", **events[-1].facts)

    run(conversation())


def test_a_wrong_pattern_is_not_blamed_on_the_parity() -> None:
    async def script(say: Say, call: int) -> None:
        await say(b"\n" + b"12.5 um\n" * 80)
        await asyncio.sleep(PATIENCE_S)

    async def conversation() -> None:
        async with tcp_peer(script) as port:
            _, events = await heard(InstrumentSource(distance(tcp(port)), SystemClock()), lambda said: len(said) == 2)
        assert events[-1].key == "instruments.unreadable"

    run(conversation())
