"""Instruments over real links: a TCP peer and a pseudo-terminal. Bytes in, samples out, nothing left over."""

from __future__ import annotations

import asyncio
import os

import numpy as np
import pytest

from instrument_hearing import PATIENCE_S, Say, happened, heard, run, samples, tcp_peer, values
from instrument_texts import beam, distance, serial, tcp
from waywright.clocks import ScaledClock, SystemClock
from waywright.instruments import Instrument, InstrumentSource, SampleBatch


def line(number: int) -> bytes:
    return b"%d V%+.1f S0.00\r\n" % (number * 20, number * 0.5)


def test_every_byte_of_a_tcp_stream_is_accounted_for() -> None:
    said = [
        b"940 V+1.0 S",  # joined in the middle of a line
        b"0.00\r\n" + line(0) + line(1)[:9],
        line(1)[9:] + b"garbage\r\n" + b"60 V9999.9 S0.00\r\n",
        line(3) + b"80 V+1.0 S0.00 extra\r\n" + line(5) + b"unfini",
    ]

    async def script(say: Say, call: int) -> None:
        for piece in said if call == 0 else []:
            await say(piece)
            await asyncio.sleep(0.05)

    async def conversation() -> None:
        async with tcp_peer(script) as port:
            source = InstrumentSource(beam(port), SystemClock())
            batches, events = await heard(source, happened("instruments.connected", 2))
        got = values(batches)[:, 0]
        assert got[~np.isnan(got)].tolist() == [0.0, 0.5, 1.5, 2.5]
        tally = source.tally
        assert (tally.samples, tally.malformed, tally.partial) == (5, 2, 1)
        keys = [event.key.removeprefix("instruments.") for event in events]
        assert keys == ["connected", "link_lost", "connected"]
        source._restart()
        assert source._splitter.partial == 2  # the unfinished line, and nothing else

    run(conversation())


def test_a_link_comes_back_by_itself_and_says_what_happened() -> None:
    async def script(say: Say, call: int) -> None:
        await say(b"\n" + line(10 * call) + line(10 * call + 1))

    async def conversation() -> None:
        async with tcp_peer(script) as port:
            source = InstrumentSource(beam(port), ScaledClock(20.0))
            batches, events = await heard(source, lambda said: samples(said) >= 6)
        assert values(batches)[:, 0].tolist() == [0.0, 0.5, 5.0, 5.5, 10.0, 10.5]
        assert events[0].facts == {"source": "beam", "address": f"127.0.0.1:{port}"}
        times = np.concatenate([batch.time_s for batch in batches])
        assert (np.diff(times) >= 0).all()

    run(conversation())


def test_an_instrument_that_is_switched_on_later_is_found_and_its_absence_told_once() -> None:
    async def conversation() -> None:
        async def script(say: Say, call: int) -> None:
            await say(b"\n" + line(1))
            await asyncio.sleep(1.0)

        async with tcp_peer(script) as port:
            pass
        source = InstrumentSource(beam(port), ScaledClock(20.0))
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 1))
        await asyncio.sleep(0.4)

        async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            writer.write(b"\n" + line(1))
            await reader.read()
            writer.close()

        server = await asyncio.start_server(serve, "127.0.0.1", port)
        _, events = await listening
        server.close()
        assert [event.key for event in events] == ["instruments.not_reached", "instruments.connected"]
        assert events[0].facts["reason"]

    run(conversation())


def test_the_pauses_between_calls_grow() -> None:
    class Hurried(SystemClock):
        def __init__(self) -> None:
            self.slept_s: list[float] = []

        async def sleep(self, duration_s: float) -> None:
            self.slept_s.append(duration_s)
            await asyncio.sleep(0)

    async def conversation() -> None:
        async with tcp_peer(lambda say, call: asyncio.sleep(0)) as port:
            pass
        clock = Hurried()
        listening = asyncio.create_task(heard(InstrumentSource(beam(port), clock), lambda said: False))
        while len(clock.slept_s) < 8:
            await asyncio.sleep(0.01)
        listening.cancel()
        await asyncio.gather(listening, return_exceptions=True)
        assert clock.slept_s[:8] == [0.5, 1.0, 2.0, 4.0, 8.0, 15.0, 15.0, 15.0]

    run(conversation())


def test_a_wrong_pattern_is_told_once() -> None:
    async def script(say: Say, call: int) -> None:
        await say(b"\n" + b"12.5 um\n" * 200)
        await asyncio.sleep(0.1)
        await say(b"12.5 um\n" * 200)
        await asyncio.sleep(PATIENCE_S)

    async def conversation() -> None:
        async with tcp_peer(script) as port:
            source = InstrumentSource(beam(port), SystemClock())
            _, events = await heard(source, happened("instruments.unreadable"))
        assert source.tally.samples == 0
        assert source.tally.malformed >= 50
        assert events[-1].facts["source"] == "beam"

    run(conversation())


def test_a_reader_that_is_busy_keeps_bounded_bytes_and_loses_none() -> None:
    count = 120_000

    async def script(say: Say, call: int) -> None:
        await say(b"\n" + b"".join(line(number) for number in range(count)))

    async def conversation() -> None:
        async with tcp_peer(script) as port:
            source = InstrumentSource(beam(port), SystemClock())
            batches: list[SampleBatch] = []
            async for item in source:
                if isinstance(item, SampleBatch):
                    batches.append(item)
                    await asyncio.sleep(0.05)
                elif item.key == "instruments.link_lost":
                    break
        assert samples(list(batches)) == count
        assert max(len(batch.time_s) for batch in batches) < 150_000
        stamps = values(batches)[:, 0]
        inside = stamps[~np.isnan(stamps)]
        assert (np.diff(inside) > 0).all()

    run(conversation())


needs_pty = pytest.mark.skipif(not hasattr(os, "openpty"), reason="pseudo-terminals exist on POSIX only")


def opened_pty() -> tuple[int, int, str]:
    import tty

    end, other = os.openpty()
    tty.setraw(other)
    return end, other, os.ttyname(other)


async def say_slowly(end: int, pieces: list[bytes]) -> None:
    for piece in pieces:
        os.write(end, piece)
        await asyncio.sleep(0.05)


@needs_pty
@pytest.mark.parametrize("bits", ["", '\ndata_bits = 7\nparity = "even"\nstop_bits = 2'])
def test_every_byte_of_a_serial_line_is_accounted_for(bits: str) -> None:
    async def conversation() -> None:
        end, other, name = opened_pty()
        os.close(other)
        source = InstrumentSource(distance(serial(name) + bits), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 3, connected))
        await connected.wait()
        await say_slowly(end, [b"7.00 mm\r\n1207.10 mm\r", b"\n12", b"07.20 mm\r\n?\r\n1207.30 mm\r\n12"])
        batches, events = await listening
        os.close(end)
        assert values(batches)[:, 0].tolist() == [1207.1, 1207.2, 1207.3]
        assert (source.tally.samples, source.tally.malformed, source.tally.partial) == (3, 1, 1)
        assert source._splitter._rest == b"12"
        assert [(event.key, event.facts["address"]) for event in events] == [("instruments.connected", name)]

    run(conversation())


@needs_pty
def test_a_serial_adapter_that_is_pulled_and_put_back() -> None:
    async def conversation() -> None:
        end, other, name = opened_pty()
        link = os.path.join(os.environ.get("TMPDIR", "/tmp"), f"waywright-{os.getpid()}.tty")
        os.symlink(name, link)
        try:
            source = InstrumentSource(distance(serial(link)), ScaledClock(20.0))
            connected = asyncio.Event()
            listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 4, connected))
            await connected.wait()
            await say_slowly(end, [b"\n1.00 mm\n2.00 mm\n"])
            os.close(other)
            os.close(end)
            os.unlink(link)
            await asyncio.sleep(0.3)
            end, other, name = opened_pty()
            connected.clear()
            os.symlink(name, link)
            await connected.wait()
            await say_slowly(end, [b"\n3.00 mm\n4.00 mm\n"])
            batches, events = await listening
            os.close(other)
            os.close(end)
        finally:
            os.unlink(link)
        assert values(batches)[:, 0].tolist() == [1.0, 2.0, 3.0, 4.0]
        keys = [event.key.removeprefix("instruments.") for event in events]
        assert keys == ["connected", "link_lost", "not_reached", "connected"]

    run(conversation())


def test_an_instrument_description_with_a_tcp_distance_meter() -> None:
    async def script(say: Say, call: int) -> None:
        await say(b"\r1.50 mm\r2.50 mm\r")
        await asyncio.sleep(PATIENCE_S)

    async def conversation() -> None:
        async with tcp_peer(script) as port:
            instrument: Instrument = distance(tcp(port))
            batches, _ = await heard(InstrumentSource(instrument, SystemClock()), lambda said: samples(said) >= 2)
        assert values(batches)[:, 0].tolist() == [1.5, 2.5]

    run(conversation())
