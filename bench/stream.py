"""A TCP stream and a serial line of text to samples, against reading the same lines with a bare link and ``re``.

The peer is a process of its own that sends as fast as it is read. Here: link, lines, pattern, lost codes, ranges,
units, times of the samples, arrays. The yardstick: ``recv`` (or pyserial's ``read``), ``split``, ``re.fullmatch``,
``float``; lists of numbers. Both read the same number of lines to the last one; figures are seconds a line.

Then what four instruments at 50 Hz take of one core, and what memory grows by over a million lines.
"""

from __future__ import annotations

import asyncio
import os
import re
import socket
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from bench.measure import Row
from waywright.clocks import SystemClock
from waywright.instruments import InstrumentSource, SampleBatch, parse_instrument

LINES = 200_000
ROUNDS = 5
PATTERN = r"^(?P<t>\d+) V(?P<v>[-+]?\d+\.\d+) S(?P<s>[-+]?\d+\.\d+)$"
DESCRIPTION = """
format = 1
name = "beam"
title = "two-axis beam position detector"
link = {link}
[stream]
pattern = '{pattern}'
rate_hz = 50
time_stamp = {{ group = "t", unit = "ms" }}
[[channel]]
name = "vertical"
group = "v"
kind = "displacement"
unit = "um"
positive = "up"
range = [-2500.0, 2500.0]
lost = ["9999.9"]
[[channel]]
name = "side"
group = "s"
kind = "displacement"
unit = "um"
positive = "towards-operator"
range = [-2500.0, 2500.0]
lost = ["9999.9"]
"""


def stream() -> bytes:
    """One line end, then the lines: a reader drops what comes before the first line end."""
    lines = (b"%d V%+.1f S%+.1f" % (20 * k, k % 4001 * 0.1 - 200.0, k % 37 * 0.3) for k in range(LINES))
    return b"\n" + b"\r\n".join(lines) + b"\r\n"


def serve() -> None:
    """Send the stream to everybody who calls, until the input closes."""
    data = stream()
    with socket.create_server(("127.0.0.1", 0)) as server:
        print(server.getsockname()[1], flush=True)
        while True:
            caller, _ = server.accept()
            with caller:
                caller.sendall(data)
                caller.recv(1)


def serve_slowly() -> None:
    """Send 50 lines a second to everybody who calls, until killed."""

    async def talk(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        lines = stream().splitlines(keepends=True)
        for line in lines:
            if writer.is_closing():
                break
            writer.write(line)
            await asyncio.sleep(0.02)

    async def run() -> None:
        server = await asyncio.start_server(talk, "127.0.0.1", 0)
        print(server.sockets[0].getsockname()[1], flush=True)
        await server.serve_forever()

    asyncio.run(run())


def serve_serial() -> None:
    """Write the stream into a pseudo-terminal again and again, one round for each byte that is said to it."""
    import tty

    end, other = os.openpty()
    tty.setraw(other)
    print(os.ttyname(other), flush=True)
    data = stream()
    while os.read(end, 1):
        written = 0
        while written < len(data):
            written += os.write(end, data[written : written + 4096])


@contextmanager
def peer(kind: str = "serve") -> Iterator[str]:
    """The port, or the name of the pseudo-terminal, of a peer in a process of its own."""
    code = f"from bench.stream import {kind}; {kind}()"
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            yield process.stdout.readline().strip()
        finally:
            process.kill()


def source_at(place: str) -> InstrumentSource:
    """The source at a port (a number) or a pseudo-terminal."""
    tcp = f'{{ kind = "tcp", host = "127.0.0.1", port = {place} }}'
    link = tcp if place.isdigit() else f'{{ kind = "serial", port = "{place}", baud = 115200 }}'
    text = DESCRIPTION.format(link=link, pattern=PATTERN)
    return InstrumentSource(parse_instrument(text.encode(), "beam.toml"), SystemClock())


def to_samples_s(place: str) -> float:
    """Seconds until the last line is a sample."""
    source = source_at(place)

    async def read() -> float:
        got, began = 0, time.perf_counter()
        async for item in source:
            if isinstance(item, SampleBatch):
                got += len(item.time_s)
            elif not place.isdigit():
                began = time.perf_counter()
                source._link.send(b"!")
            if got == LINES:
                break
        return time.perf_counter() - began

    return asyncio.run(read())


def bare_s(port: str) -> float:
    """Seconds of a bare socket and ``re``."""
    match = re.compile(PATTERN).fullmatch
    began = time.perf_counter()
    numbers: list[tuple[float, float, float]] = []
    with socket.create_connection(("127.0.0.1", int(port))) as link:
        rest = ""
        while len(numbers) < LINES:
            *lines, rest = (rest + link.recv(65_536).decode()).split("\r\n")
            for line in lines:
                if found := match(line.lstrip("\n")):
                    numbers.append((float(found["t"]), float(found["v"]), float(found["s"])))
    return time.perf_counter() - began


def bare_serial_s(name: str) -> float:
    """Seconds of pyserial and ``re``."""
    import serial

    match = re.compile(PATTERN).fullmatch
    numbers: list[tuple[float, float, float]] = []
    with serial.Serial(name, 115200, timeout=5.0) as link:
        began = time.perf_counter()
        link.write(b"!")
        rest = ""
        while len(numbers) < LINES:
            *lines, rest = (rest + link.read(max(1, link.in_waiting)).decode()).split("\r\n")
            for line in lines:
                if found := match(line.lstrip("\n")):
                    numbers.append((float(found["t"]), float(found["v"]), float(found["s"])))
    return time.perf_counter() - began


def best_s(call: Callable[[str], float], other: Callable[[str], float], place: str) -> tuple[float, float]:
    """The best of several rounds of each; they take turns."""
    pairs = [(call(place), other(place)) for _ in range(ROUNDS)]
    return min(first for first, _ in pairs), min(second for _, second in pairs)


def share_of_a_core(port: str, instruments: int = 4, seconds: float = 8.0) -> float:
    """Processor time for every second that so many instruments are listened to, 50 lines a second each."""

    async def listen() -> None:
        async for _ in source_at(port):
            pass

    async def run() -> float:
        tasks = [asyncio.create_task(listen()) for _ in range(instruments)]
        await asyncio.sleep(1.0)
        began, wall = time.process_time(), time.perf_counter()
        await asyncio.sleep(seconds)
        share = (time.process_time() - began) / (time.perf_counter() - wall)
        for task in tasks:
            task.cancel()
        await asyncio.gather(*tasks, return_exceptions=True)
        return share

    return asyncio.run(run())


def grown_bytes(port: str, rounds: int = 5) -> int:
    """What is still held after a million lines, more than after the first round of them."""
    held = []
    tracemalloc.start()
    for _ in range(rounds + 1):
        to_samples_s(port)
        held.append(tracemalloc.get_traced_memory()[0])
    tracemalloc.stop()
    return held[-1] - held[0]


def rows() -> Iterator[Row]:
    with peer() as port:
        ours_s, theirs_s = best_s(to_samples_s, bare_s, port)
        grown = grown_bytes(port)
    what = f"a line of a TCP stream to a sample ({LINES / ours_s:,.0f} lines/s)"
    yield Row(what, ours_s / LINES, theirs_s / LINES, "bare socket and re")
    if hasattr(os, "openpty"):
        with peer("serve_serial") as name:
            ours_s, theirs_s = best_s(to_samples_s, bare_serial_s, name)
        what = f"a line of a serial port to a sample ({LINES / ours_s:,.0f} lines/s)"
        yield Row(what, ours_s / LINES, theirs_s / LINES, "pyserial and re")
    with peer("serve_slowly") as port:
        yield Row("share of a core, 4 instruments at 50 Hz", share_of_a_core(port), aim=0.05, unit="")
    yield Row("memory grown over a million lines", grown / 1024, aim=256.0, unit="KiB")


if __name__ == "__main__":
    for row in rows():
        print(row.what, f"{row.ours:.3g} {row.unit}", row.ratio and f"ratio {row.ratio:.2f}")
