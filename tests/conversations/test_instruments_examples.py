"""The three example descriptions: bytes in, bytes out, nothing left over."""

from __future__ import annotations

import asyncio
import json
import re
from collections.abc import Callable
from functools import reduce
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from instrument_hearing import heard, run, samples, values
from waywright.clocks import SystemClock
from waywright.errors import BadInput
from waywright.instruments import InstrumentSource, parse_instrument
from waywright.jobs.new_instrument import EXAMPLES, write_example

ENOUGH = 12
Answer = Callable[[bytes], bytes | None]


def example(name: str, folder: Path, **link: Any) -> InstrumentSource:
    """The example at another place; everything else as it stands in the file."""
    write_example(name, folder / f"{name}.toml")
    text = (folder / f"{name}.toml").read_text(encoding="utf-8")
    place = "[link]\n" + "".join(f"{key} = {json.dumps(value)}\n" for key, value in link.items()) + "\n"
    text = re.sub(r"\[link\]\n.*?\n\n", place, text, flags=re.DOTALL)
    text = re.sub(r"rate_hz = \d+", "rate_hz = 50", text)
    return InstrumentSource(parse_instrument(text.encode(), name), SystemClock())


def row(number: int) -> bytes:
    """What the detector says, with the exclusive-or of what stands before the star."""
    body = b"H=%+07.1f S=%+07.1f " % (10.0 + number, -number / 10.0)
    return body + b"*%02X\r\n" % reduce(lambda one, other: one ^ other, body)


class Answering:
    """A peer that answers what it is asked and writes down every byte that it hears."""

    def __init__(self, end: bytes, answer: Answer) -> None:
        self.heard = b""
        self._end, self._answer = end, answer

    async def serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        try:
            while True:
                said = await reader.readuntil(self._end)
                self.heard += said
                if (answer := self._answer(said)) is not None:
                    writer.write(answer)
        except (asyncio.IncompleteReadError, ConnectionError):
            writer.close()


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_is_a_description_and_overwrites_nothing(name: str, tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    write_example(name, path)
    assert parse_instrument(path.read_bytes(), path.name).description.format == 1
    with pytest.raises(BadInput) as refusal:
        write_example(name, path)
    assert refusal.value.key == "instruments.file_exists"


def test_an_example_that_there_is_not(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as refusal:
        write_example("telepathy", tmp_path / "mine.toml")
    assert "stream, asked, scpi" in str(refusal.value)


def test_the_stream_is_read_to_the_last_byte(tmp_path: Path) -> None:
    heard_by_detector = bytearray()

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        garbled = row(3).replace(b"S", b"5")
        writer.write(b"12.4 *5A\r\n" + b"".join(map(row, range(ENOUGH))) + garbled + b"H=------- S=------- *00\r\n")
        heard_by_detector.extend(await reader.read())
        writer.close()

    async def conversation() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        port = server.sockets[0].getsockname()[1]
        source = example("stream", tmp_path, kind="tcp", host="127.0.0.1", port=port)
        batches, _ = await heard(source, lambda said: samples(said) >= ENOUGH and source.tally.malformed >= 2)
        server.close()
        got = values(batches)
        indicated = 10.0 + np.arange(ENOUGH)
        # the linearity table of the example: 4 um too much at +2000 um, 0 at 0
        np.testing.assert_allclose(got[:, 0], indicated - indicated * 4.0 / 2000.0, atol=1e-9)
        np.testing.assert_allclose(got[:, 1], -np.arange(ENOUGH) / 10.0, atol=0.05)
        assert (len(got), source.tally.partial, source.tally.malformed) == (ENOUGH, 1, 2)
        assert source.tally.checksum >= 1
        assert source._splitter._rest == b""

    run(conversation())
    assert bytes(heard_by_detector) == b""


def test_the_level_is_asked_and_told_and_hears_nothing_else(tmp_path: Path) -> None:
    level = Answering(b"\r", {b"L?\r": b"+0.125 mm/m\r\n", b"Z\r": b"OK\r\n"}.get)

    async def conversation() -> None:
        server = await asyncio.start_server(level.serve, "127.0.0.1", 0)
        port = server.sockets[0].getsockname()[1]
        source = example("asked", tmp_path, kind="tcp", host="127.0.0.1", port=port)
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= ENOUGH, connected))
        await connected.wait()
        await source.command("zero")
        batches, _ = await listening
        server.close()
        assert (values(batches)[:, 0] == 125.0).all()
        assert (source.tally.malformed, source._splitter._rest) == (0, b"")

    run(conversation())
    assert level.heard.count(b"Z\r") == 1
    assert level.heard.replace(b"L?\r", b"").replace(b"Z\r", b"") == b""


def test_the_gauge_is_queried_over_visa_and_hears_nothing_else(tmp_path: Path) -> None:
    count = iter(range(1_000_000))

    def answer(said: bytes) -> bytes | None:
        if said != b"READ?\n":
            return None
        return b"+9.900000E+37\n" if (number := next(count)) == 2 else b"%+.6E\n" % (number * 1e-3)

    gauge = Answering(b"\n", answer)

    async def conversation() -> None:
        server = await asyncio.start_server(gauge.serve, "127.0.0.1", 0)
        place = f"TCPIP::127.0.0.1::{server.sockets[0].getsockname()[1]}::SOCKET"
        source = example("scpi", tmp_path, kind="visa", resource=place)
        batches, _ = await heard(source, lambda said: samples(said) >= ENOUGH)
        assert (source.tally.malformed, source.tally.partial, source._splitter._rest) == (0, 0, b"")
        server.close()
        got = values(batches)[:ENOUGH, 0]
        assert np.isnan(got[2])
        np.testing.assert_allclose(np.delete(got, 2), np.delete(np.arange(ENOUGH) * 1.0, 2))

    run(conversation())
    assert gauge.heard.replace(b"READ?\n", b"") == b""


def test_ten_times_the_stated_rate_is_taken_whole_and_in_order(tmp_path: Path) -> None:
    """500 lines a second where the description states 50."""
    lines = 1000

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        writer.write(b"\n")
        for first in range(0, lines, 5):
            writer.write(b"".join(row(number % 900) for number in range(first, first + 5)))
            await asyncio.sleep(0.01)
        await reader.read()
        writer.close()

    async def conversation() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        port = server.sockets[0].getsockname()[1]
        source = example("stream", tmp_path, kind="tcp", host="127.0.0.1", port=port)
        batches, _ = await heard(source, lambda said: samples(said) >= lines)
        server.close()
        times = np.concatenate([batch.time_s for batch in batches])
        assert len(times) == lines
        assert (np.diff(times) >= 0).all()
        # as long as it took to send them, not as long as their number would take at the stated rate
        assert times[-1] - times[0] < 0.5 * lines / 50
        assert len(batches) < lines / 5

    run(conversation())
