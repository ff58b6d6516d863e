"""Life on the floor: a million garbled lines, and none accepted that is not whole; what is kept stays bounded.

A line counts as malformed if it violates pattern, checksum or counter; a value out of range is none. The oracle is
written anew here, on bytes, and shares nothing with the decoder.
"""

from __future__ import annotations

import asyncio
import re
import tracemalloc
from functools import reduce
from operator import xor

import numpy as np
import pytest

from instrument_hearing import heard, run, samples
from instrument_texts import beam
from waywright.capture.noise import kept_mean
from waywright.clocks import ScaledClock
from waywright.instruments import Decoder, InstrumentSource, parse_instrument
from waywright.instruments.lines import LONGEST_LINE, LineSplitter

LINES = 1_000_000
BLOCK = 20_000

CHECKED = """\
format = 1
name = "beam"
title = "beam detector with checksum"
link = { kind = "tcp", host = "127.0.0.1", port = 50001 }
[stream]
pattern = '\\$(?P<body>(?P<n>\\d+) V(?P<v>[-+]?\\d+\\.\\d+))\\*(?P<c>[0-9A-F]{2})'
rate_hz = 50
checksum = { method = "xor", group = "c", span = "body" }
counter = { group = "n", modulo = 1000 }
[[channel]]
name = "vertical"
group = "v"
kind = "displacement"
unit = "um"
positive = "up"
range = [-2500.0, 2500.0]
"""

# A time stamp of more digits than a double holds is none.
PLAIN = re.compile(rb"[0-9]{1,308} V([-+]?[0-9]+\.[0-9]+) S([-+]?[0-9]+\.[0-9]+)")
WHOLE = re.compile(rb"\$(([0-9]+) V([-+]?[0-9]+\.[0-9]+))\*([0-9A-F]{2})")
NASTY = [
    b"nan",
    b"inf",
    b"1e999",
    b"V",
    b"\r\n",
    b"\n",
    b"\x00",
    b"\xff",
    b" ",
    b"-",
    b"+",
    b".",
    b"9" * 400,
    b"_",
    b"$*",
]


def garbled(good: list[bytes], drawn: np.random.Generator) -> bytes:
    """The lines joined, with changed, cut, doubled and inserted bytes: about one fault in three lines."""
    lines = np.array(good, dtype=object)
    lines = np.repeat(lines, np.where(drawn.random(len(lines)) < 0.02, 2, 1))  # duplicated
    data = bytearray(b"\r\n".join(lines) + b"\r\n")
    at = drawn.integers(0, len(data), len(lines) // 5)
    flat = np.frombuffer(data, dtype=np.uint8)
    flat[at] = drawn.integers(0, 256, len(at))
    pieces, begun = [], 0
    for place in np.sort(drawn.integers(0, len(data), len(lines) // 20)):
        pieces += [bytes(data[begun:place]), NASTY[int(drawn.integers(len(NASTY)))]]
        begun = min(len(data), int(place) + int(drawn.integers(0, 12)))  # cut as well
    return b"".join([*pieces, bytes(data[begun:]), b"\r\n"])


def read_in_pieces(data: bytes, splitter: LineSplitter, decoder: Decoder, drawn: np.random.Generator):
    edges = np.sort(drawn.integers(0, len(data), 60))
    for one, other in zip([0, *edges], [*edges, len(data)], strict=True):
        yield decoder.decode(splitter.lines(data[one:other]))


@pytest.mark.parametrize("seed", [1])
def test_a_million_garbled_lines_of_a_plain_stream(seed: int) -> None:
    drawn = np.random.default_rng(seed)
    splitter, decoder = LineSplitter(), Decoder(beam().description)
    splitter.lines(b"\n")
    lines = accepted = expected = 0
    for _ in range(LINES // BLOCK):
        values = drawn.normal(0.0, 800.0, (BLOCK, 2)).tolist()
        good = [b"%d V%+.1f S%+.2f" % (20 * at, one, other) for at, (one, other) in enumerate(values)]
        data = garbled(good, drawn)
        for decoded in read_in_pieces(data, splitter, decoder, drawn):
            accepted += len(decoded.value)
            lines += len(decoded.value) + decoded.malformed
            inside = decoded.value[:, 0][np.isfinite(decoded.value[:, 0])]
            assert np.abs(inside).max(initial=0.0) <= 2500.0
        whole = [line for line in re.split(rb"[\r\n]+", data) if len(line) <= LONGEST_LINE]
        expected += sum(PLAIN.fullmatch(line) is not None for line in whole)
        assert len(splitter._rest) <= LONGEST_LINE
    assert lines > 0.99 * LINES
    assert accepted == expected
    assert accepted < 0.95 * lines


def test_garbled_lines_with_checksum_and_counter() -> None:
    drawn = np.random.default_rng(2)
    splitter, decoder = LineSplitter(), Decoder(parse_instrument(CHECKED.encode(), "beam.toml").description)
    splitter.lines(b"\n")
    accepted: list[float] = []
    whole = 0
    for block in range(5):
        bodies = [b"%d V%+.1f" % (at % 1000, at * 0.1 - 1000.0) for at in range(BLOCK * block, BLOCK * (block + 1))]
        good = [b"$%s*%02X" % (body, reduce(xor, body)) for body in bodies]
        data = garbled(good, drawn)
        for decoded in read_in_pieces(data, splitter, decoder, drawn):
            accepted += decoded.value[:, 0].tolist()
        for line in re.split(rb"[\r\n]+", data):
            found = WHOLE.fullmatch(line)
            whole += found is not None and reduce(xor, found[1]) == int(found[4], 16)
    # The value tells which line it was. A doubled line is accepted once: its counter does not count on.
    numbers = np.round((np.array(accepted) + 1000.0) * 10.0)
    numbers = numbers[np.isfinite(numbers)]
    steps = np.diff(numbers)
    assert (steps > 0).mean() > 0.9999  # an exclusive or of 8 bits lets about one garbled line in 256 pass
    assert len(accepted) <= whole
    assert 0.5 * whole < len(accepted)
    assert decoder.checks.failed["checksum"] > 100
    assert decoder.checks.failed["counter"] > 100


def test_random_bytes_leave_nothing_behind() -> None:
    drawn = np.random.default_rng(3)
    splitter, decoder = LineSplitter(), Decoder(beam().description)
    tracemalloc.start()
    try:
        kept = []
        for _ in range(200):
            decoded = decoder.decode(splitter.lines(drawn.integers(0, 256, 65_536, dtype=np.uint8).tobytes()))
            assert len(decoded.value) == 0
            kept.append(tracemalloc.get_traced_memory()[0])
        assert kept[-1] - kept[20] < 200_000
    finally:
        tracemalloc.stop()


def test_a_line_without_an_end_is_not_kept() -> None:
    splitter = LineSplitter()
    splitter.lines(b"\n")
    for _ in range(1000):
        assert splitter.lines(b"7" * 65_536) == []
        assert len(splitter._rest) <= LONGEST_LINE + 65_536
    assert len(splitter._rest) <= 1


@pytest.mark.parametrize("noise_um", [0.05, 1.0, 20.0])
def test_a_changed_digit_moves_the_mean_of_a_window_by_less_than_a_standard_deviation(noise_um: float) -> None:
    """Without a checksum it cannot be seen in the line; what a reading makes of its window must not follow it."""
    drawn = np.random.default_rng(5)
    decoder = Decoder(beam().description)
    for _ in range(300):
        values = drawn.normal(123.0, noise_um, 50)
        lines = [f"{at} V{value:+.2f} S0.00" for at, value in enumerate(values)]
        true = decoder.decode(lines).value[:, 0]
        at, digits = int(drawn.integers(50)), [place for place, letter in enumerate(lines[0]) if letter.isdigit()]
        place = int(drawn.choice([place for place in digits if lines[0].index("V") < place < lines[0].index(" S")]))
        changed = lines[at][:place] + str(drawn.integers(10)) + lines[at][place + 1 :]
        got = decoder.decode([*lines[:at], changed, *lines[at + 1 :]]).value[:, 0]
        mean, _, _ = kept_mean(got[np.isfinite(got)], None)
        assert abs(mean - true.mean()) < true.std(ddof=1)


def test_an_instrument_that_says_nothing_for_an_hour_is_told_once_and_found_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from waywright.instruments.links import reconnecting

    # An hour in seconds: every look of a quarter of a second takes a thousandth, and nobody pauses.
    monkeypatch.setattr(reconnecting, "_TICK_S", 0.001)
    monkeypatch.setattr(reconnecting, "_STALL_S", 0.02)
    calls = 0

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        nonlocal calls
        calls += 1
        if calls in (1, 60):
            writer.write(b"\n20 V+1.0 S0.00\r\n")
        await reader.read()
        writer.close()

    async def conversation() -> None:
        server = await asyncio.start_server(serve, "127.0.0.1", 0)
        source = InstrumentSource(beam(server.sockets[0].getsockname()[1]), ScaledClock(1000.0))
        _, events = await heard(source, lambda said: samples(said) == 2)
        server.close()
        keys = [event.key.removeprefix("instruments.") for event in events]
        assert keys == ["connected", "link_quiet", "connected", "link_quiet", "connected"]
        assert calls == 60

    run(conversation())
