"""A TCP stream of text lines to samples, against reading the same lines with a bare socket and ``re``.

The peer is a process of its own that sends as fast as it is read. Here: link, lines, pattern, lost codes, ranges,
units, times of the samples, arrays. The yardstick: ``recv``, ``split``, ``re.fullmatch``, ``float``; lists of numbers.
Both read the same number of lines to the last one; figures are seconds a line.
"""

from __future__ import annotations

import asyncio
import re
import socket
import subprocess
import sys
import time
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
link = {{ kind = "tcp", host = "127.0.0.1", port = {port} }}
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


@contextmanager
def peer() -> Iterator[int]:
    code = "from bench.stream import serve; serve()"
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            yield int(process.stdout.readline())
        finally:
            process.kill()


def to_samples_s(port: int) -> float:
    """Seconds until the last line is a sample."""
    text = DESCRIPTION.format(port=port, pattern=PATTERN)
    source = InstrumentSource(parse_instrument(text.encode(), "beam.toml"), SystemClock())

    async def read() -> None:
        got = 0
        async for item in source:
            got += len(item.time_s) if isinstance(item, SampleBatch) else 0
            if got == LINES:
                return

    began = time.perf_counter()
    asyncio.run(read())
    return time.perf_counter() - began


def bare_s(port: int) -> float:
    """Seconds of a bare socket and ``re``."""
    match = re.compile(PATTERN).fullmatch
    began = time.perf_counter()
    numbers: list[tuple[float, float, float]] = []
    with socket.create_connection(("127.0.0.1", port)) as link:
        rest = ""
        while len(numbers) < LINES:
            *lines, rest = (rest + link.recv(65_536).decode()).split("\r\n")
            for line in lines:
                if found := match(line.lstrip("\n")):
                    numbers.append((float(found["t"]), float(found["v"]), float(found["s"])))
    return time.perf_counter() - began


def best_s(call: Callable[[int], float], other: Callable[[int], float], port: int) -> tuple[float, float]:
    """The best of several rounds of each; they take turns."""
    pairs = [(call(port), other(port)) for _ in range(ROUNDS)]
    return min(first for first, _ in pairs), min(second for _, second in pairs)


def rows() -> Iterator[Row]:
    with peer() as port:
        ours_s, theirs_s = best_s(to_samples_s, bare_s, port)
    what = f"a line of a TCP stream to a sample ({LINES / ours_s:,.0f} lines/s)"
    yield Row(what, ours_s / LINES, theirs_s / LINES, "bare socket and re")


if __name__ == "__main__":
    for row in rows():
        print(f"{row.what}: {row.ours * 1e6:.2f} us, bare {(row.yardstick or 0) * 1e6:.2f} us, ratio {row.ratio:.2f}")
