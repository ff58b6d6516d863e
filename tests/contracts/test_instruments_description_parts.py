"""Parts of a description beyond the plain stream: checksum, counter, commands, words, linearity, mounting, schema."""

from __future__ import annotations

import json
import math
import zlib
from pathlib import Path

import numpy as np
import pytest

from instrument_texts import beam_text
from waywright import wording
from waywright.errors import BadInput
from waywright.instruments import Decoder, Flaw, Instrument, description_schema, parse_instrument
from waywright.instruments.checksums import check_of
from waywright.instruments.line_records import Crc, Sum, Xor

SCHEMA = Path(__file__).resolve().parents[2] / "docs" / "reference" / "instrument-description.schema.json"


def crc(bits: int, polynomial: int, initial: int, reflected: bool, final_xor: int) -> Crc:
    return Crc(group="c", span="s", bits=bits, polynomial=polynomial, initial=initial, reflected=reflected, final_xor=final_xor)  # type: ignore[arg-type]  # fmt: skip  # noqa: E501


# Check values (the CRC of "123456789") of the catalogue of parametrised CRC algorithms; from memory.
CRCS = [
    ("CRC-8/SMBUS", crc(8, 0x07, 0x00, False, 0x00), 0xF4),
    ("CRC-8/MAXIM-DOW", crc(8, 0x31, 0x00, True, 0x00), 0xA1),
    ("CRC-16/XMODEM", crc(16, 0x1021, 0x0000, False, 0x0000), 0x31C3),
    ("CRC-16/IBM-3740", crc(16, 0x1021, 0xFFFF, False, 0x0000), 0x29B1),
    ("CRC-16/MODBUS", crc(16, 0x8005, 0xFFFF, True, 0x0000), 0x4B37),
    ("CRC-16/X-25", crc(16, 0x1021, 0xFFFF, True, 0xFFFF), 0x906E),
    ("CRC-32/ISO-HDLC", crc(32, 0x04C11DB7, 0xFFFFFFFF, True, 0xFFFFFFFF), 0xCBF43926),
]


@pytest.mark.parametrize(("name", "stated", "value"), CRCS)
def test_catalogued_check_values(name: str, stated: Crc, value: int) -> None:
    assert check_of(stated)(b"123456789") == value


def test_crc_32_is_that_of_the_standard_library() -> None:
    ours = check_of(CRCS[-1][1])
    for data in (b"", b"\0", b"V+12.5 S-0.3", bytes(range(256))):
        assert ours(data) == zlib.crc32(data)


def test_sums_and_exclusive_or() -> None:
    data = b"\xff\xff\x03"
    sums = {kind: Sum(group="c", span="s", complement=kind) for kind in ("none", "ones", "twos")}  # type: ignore[arg-type]
    assert [check_of(sums[kind])(data) for kind in ("none", "ones", "twos")] == [0x01, 0xFE, 0xFF]
    assert check_of(Sum(group="c", span="s", bits=16))(data) == 0x0201
    # NMEA 0183 example sentence, widely printed: $GPGLL,5300.97914,N,00259.98174,E,125926,A*28
    sentence = b"GPGLL,5300.97914,N,00259.98174,E,125926,A"
    assert check_of(Xor(group="c", span="s"))(sentence) == 0x28


CHECKED = """\
format = 1
name = "dial"
title = "digital dial indicator"
link = { kind = "tcp", host = "127.0.0.1", port = 50001 }
[stream]
pattern = '(?P<body>(?P<n>\\d+) (?P<v>[-+]?\\d+\\.\\d+))\\*(?P<c>[0-9A-F]{2})'
rate_hz = 10
checksum = { method = "xor", group = "c", span = "body" }
counter = { group = "n", modulo = 100 }
[[channel]]
name = "deviation"
group = "v"
kind = "displacement"
unit = "mm"
positive = "up"
"""


def checked() -> Decoder:
    return Decoder(parse_instrument(CHECKED.encode(), "dial.toml").description)


def said(number: int, value: str = "+0.125") -> str:
    body = f"{number} {value}"
    return f"{body}*{check_of(Xor(group='c', span='s'))(body.encode()):02X}"


def test_a_line_whose_checksum_fails_is_refused() -> None:
    decoder = checked()
    wrong = said(2).replace("0.125", "0.126")
    decoded = decoder.decode([said(1), wrong, said(3)])
    assert decoded.value.tolist() == [[125.0], [125.0]]
    assert decoded.malformed == 1
    assert decoder.checks.failed == {"checksum": 1, "counter": 0}
    assert decoder.checks.missed == 1  # by the counter, number 2 could not be read


@pytest.mark.parametrize(
    ("numbers", "accepted", "missed"),
    [
        ([98, 99, 0, 1], [98, 99, 0, 1], 0),
        ([5, 5, 6], [5, 6], 0),
        ([5, 6, 5, 6, 7], [5, 6, 6, 7], 0),  # set back: one line until it counts on again
        ([5, 8, 9], [5, 9], 2),
        ([5, 95, 96], [5, 96], 0),
        ([700, 701], [], 0),
    ],
)
def test_a_line_out_of_turn_is_refused(numbers: list[int], accepted: list[int], missed: int) -> None:
    decoder = checked()
    decoded = decoder.decode([said(number, f"{number}.0") for number in numbers])
    assert decoded.value[:, 0].tolist() == [1000.0 * number for number in accepted]
    assert decoder.checks.missed == missed


def test_after_unreadable_lines_the_counter_may_be_further_on() -> None:
    decoder = checked()
    decoded = decoder.decode([said(1), "garbage", "?", said(4, "4.0")])
    assert decoded.value[:, 0].tolist() == [125.0, 4000.0]


def test_a_link_opened_anew_may_begin_anywhere() -> None:
    decoder = checked()
    decoder.decode([said(1)])
    decoder.checks.restart()
    assert len(decoder.decode([said(50)]).value) == 1


def with_channel(addition: str, mounting: str = "") -> Instrument:
    text = beam_text().replace('lost = ["9999.9"]\n', f'lost = ["9999.9"]\n{addition}\n') + mounting
    return parse_instrument(text.encode(), "beam.toml")


def test_over_range_has_its_own_words() -> None:
    stated = with_channel('over = ["+8888.8", "-8888.8"]').description
    decoded = Decoder(stated).decode(["1 V-8888.8 S1.0", "2 V9999.9 S1.0", "3 V1.0 S1.0"])
    assert decoded.flaw is not None
    assert decoded.flaw[:, 0].tolist() == [Flaw.OVER_RANGE, Flaw.LOST, Flaw.NONE]
    assert np.isnan(decoded.value[:, 0]).tolist() == [True, True, False]


def test_the_error_of_indication_is_taken_off() -> None:
    stated = with_channel("linearity = [[-1000, 4], [0, 0], [1000, -6]]").description
    lines = [f"{at} V{value:.1f} S0.0" for at, value in enumerate((-2000, -1000, -500, 0, 500, 1000, 2000))]
    # indicated less error: linear between the points, constant beyond
    assert Decoder(stated).decode(lines).value[:, 0].tolist() == [-2004, -1004, -502, 0, 503, 1006, 2006]


def test_the_roll_of_the_detector_is_turned_back() -> None:
    roll_deg = 30.0
    mounting = f'[mounting]\nup = "arrow"\nroll_deg = {roll_deg}\npair = ["side", "vertical"]\n'
    stated = with_channel("", mounting).description
    side_um, up_um = 1000.0, 200.0
    cosine, sine = math.cos(math.radians(roll_deg)), math.sin(math.radians(roll_deg))
    # A detector whose side axis points 30 degrees from "towards" up: what its two axes see of the true place.
    seen_side_um, seen_up_um = side_um * cosine + up_um * sine, -side_um * sine + up_um * cosine
    text = f"1 V{seen_up_um:.6f} S{(0.5 - seen_side_um / 1000.0) / 2.0:.9f}"
    assert Decoder(stated).decode([text]).value[0].tolist() == pytest.approx([up_um, side_um], abs=1e-4)
    lost = Decoder(stated).decode(["1 V9999.9 S0.1"])
    assert np.isnan(lost.value).all()
    assert lost.flaw is not None
    assert lost.flaw.tolist() == [[Flaw.LOST, Flaw.LOST]]


def test_a_decimal_comma() -> None:
    text = beam_text().replace("\\.", ",").replace("rate_hz = 50", "rate_hz = 50\ndecimal_comma = true")
    decoded = Decoder(parse_instrument(text.encode(), "beam.toml").description).decode(["1 V+1,5 S0,25"])
    assert decoded.value.tolist() == [[1.5, 0.0]]


COMMAND = '[[command]]\nname = "steer"\nsend = "S {x:.1f}\\r"\nvalue = [{ name = "x", unit = "um", range = [-9, 9] }]\n'
MISTAKES = [
    ("(?P<c>", "(?P<d>", "stream.checksum.group", "body, d"),
    ('span = "body"', 'span = "all"', "stream.checksum.span", "body"),
    ('method = "xor"', 'method = "md5"', "stream.checksum.method", "sum, xor, crc"),
    ('counter = { group = "n"', 'counter = { group = "k"', "stream.counter.group", "n, v"),
    ("modulo = 100", "modulo = 1", "stream.counter.modulo", ">= 2"),
    ("{x:.1f}", "{y:.1f}", "command[0].send", "Allowed in braces: x"),
    ("{x:.1f}", "{x:.1q}", "command[0].send", "Allowed in braces: x"),
    ("range = [-9, 9]", "range = [9, -9]", "command[0].value[0].range", "lower limit first"),
    ("value = [", 'answer = "("\nvalue = [', "command[0].answer", "regular expression"),
    ('positive = "up"', 'positive = "up"\nlinearity = [[1, 0], [0, 0]]', "channel[0].linearity", "rising"),
    ('positive = "up"', 'positive = "up"\nlinearity = [[1, 0]]', "channel[0].linearity", "list"),
    ("[[command]]", "[mounting]\nroll_deg = 3\n[[command]]", "mounting.pair", "2 values"),
    ("[[command]]", '[mounting]\npair = ["deviation", "deviation"]\n[[command]]', "mounting.pair", "deviation"),
    ('kind = "tcp", host = "127.0.0.1", port = 50001', 'kind = "file", path = "x"', "command", "nothing can be sent"),
    ('kind = "tcp", host = "127.0.0.1", port = 50001', 'kind = "visa", resource = "x"', "ask", "send"),
    ('kind = "tcp", host = "127.0.0.1", port = 50001', 'kind = "opcua", url = "x"', "stream.pattern", "named numbers"),
]


@pytest.mark.parametrize(("old", "new", "key", "allowed"), MISTAKES)
def test_a_mistake_is_named(old: str, new: str, key: str, allowed: str) -> None:
    text = CHECKED + COMMAND
    assert parse_instrument(text.encode(), "dial.toml").description.command[0].name == "steer"
    assert old in text
    with pytest.raises(BadInput) as caught:
        parse_instrument(text.replace(old, new, 1).encode(), "my dial.toml")
    sentence = wording.sentence_of(caught.value)
    assert (caught.value.facts["key"], "my dial.toml" in sentence) == (key, True)
    assert allowed in sentence


def test_security_needs_certificates() -> None:
    link = 'kind = "opcua", url = "opc.tcp://127.0.0.1:4840", security = "Basic256Sha256"'
    text = CHECKED.replace('kind = "tcp", host = "127.0.0.1", port = 50001', link)
    lines = [line for line in text.splitlines() if not line.startswith(("pattern", "checksum", "counter"))]
    with pytest.raises(BadInput) as caught:
        parse_instrument("\n".join(lines).encode(), "axis.toml")
    assert caught.value.facts["key"] == "link.certificate"


def test_the_published_schema_is_that_of_the_program() -> None:
    assert json.loads(SCHEMA.read_text(encoding="utf-8")) == json.loads(json.dumps(description_schema()))
