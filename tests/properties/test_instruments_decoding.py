"""Decoding: values in inside units, and nothing malformed is ever accepted, whatever the bytes."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from instrument_texts import DISTANCE, beam, beam_text, distance, tcp
from waywright.instruments import Decoder, Flaw, parse_instrument
from waywright.instruments.lines import LONGEST_LINE, LineSplitter

PATTERN = re.compile(rb"[0-9]+ V[-+]?[0-9]+\.[0-9]+ S[-+]?[0-9]+\.[0-9]+")


def lax() -> Decoder:
    """A description whose pattern lets anything but a blank be a number."""
    text = beam_text().replace("[-+]?\\d+\\.\\d+", "\\S*").replace("(?P<t>\\d+)", "(?P<t>\\S*)")
    return Decoder(parse_instrument(text.encode(), "lax.toml").description)


def test_values_come_in_inside_units() -> None:
    decoded = Decoder(beam().description).decode(["1200 V+12.5 S-0.25"])
    # side: (-0.25 * -2 + 0.5) mm = 1 mm = 1000 um
    assert decoded.value.tolist() == [[12.5, 1000.0]]
    assert decoded.stamp_s is not None
    assert decoded.stamp_s.tolist() == [1.2]
    assert (decoded.flaw, decoded.malformed) == (None, 0)


def test_lost_and_out_of_range_are_nan_with_the_reason() -> None:
    decoded = Decoder(beam().description).decode(["1 V9999.9 S1.0", "2 V-2600.0 S1.0", "3 V2500.0 S1.0"])
    assert np.isnan(decoded.value[:, 0]).tolist() == [True, True, False]
    assert decoded.flaw is not None
    assert decoded.flaw[:, 0].tolist() == [Flaw.LOST, Flaw.OUT_OF_RANGE, Flaw.NONE]
    assert not decoded.flaw[:, 1].any()


@pytest.mark.parametrize(
    "line",
    ["", "1 V1.0", "1 V1.0 S1.0 ", "1 V1.0 S1.0\n", "x1 V1.0 S1.0", "1 V1,0 S1.0", "١ V1.0 S1.0", "1 V١.0 S1.0"],
)
def test_a_malformed_line_is_counted_and_dropped(line: str) -> None:
    decoded = Decoder(beam().description).decode([line])
    assert (len(decoded.value), decoded.malformed) == (0, 1)


@pytest.mark.parametrize("text", ["1_0", "١٢", "0x10", "", "1e", "--1", "1.2.3", "12,5"])
def test_what_only_looks_like_a_number_is_malformed_even_for_a_lax_pattern(text: str) -> None:
    decoded = lax().decode([f"5 V{text} S1.0"])
    assert (len(decoded.value), decoded.malformed) == (0, 1)


@pytest.mark.parametrize("text", ["nan", "inf", "-inf", "1e999"])
def test_no_number_is_nan_with_the_reason(text: str) -> None:
    decoded = lax().decode([f"5 V1.0 S{text}"])
    assert np.isnan(decoded.value[0, 1])
    assert decoded.flaw is not None
    assert decoded.flaw[0].tolist() == [Flaw.NONE, Flaw.NOT_A_NUMBER]


def test_a_stamp_that_is_no_number_makes_the_line_malformed() -> None:
    assert lax().decode(["nan V1.0 S1.0"]).malformed == 1


def test_a_lost_code_after_a_line_without_a_stamp_is_still_lost() -> None:
    decoded = lax().decode(["nan V1.0 S1.0", "5 V9999.9 S1.0", "6 V1.0 S1.0"])
    assert decoded.flaw is not None
    assert decoded.flaw.tolist() == [[Flaw.LOST, Flaw.NONE], [Flaw.NONE, Flaw.NONE]]


def test_an_instrument_with_one_number() -> None:
    decoded = Decoder(distance(tcp(1)).description).decode(["1.5 mm", "? mm", "2.5 mm"])
    assert decoded.value.tolist() == [[1.5], [2.5]]
    assert (decoded.stamp_s, decoded.malformed) == (None, 1)


def test_a_word_instead_of_the_only_number() -> None:
    stated = distance(tcp(1)).description
    text = 'unit = "mm"\nlost = ["----"]\nover = ["OVER"]'
    words = parse_instrument(DISTANCE.format(link=tcp(1)).replace('unit = "mm"', text).encode(), "distance.toml")
    lax = words.description.stream.pattern.replace("[-+]?\\d+\\.\\d+", "\\S+")
    decoder = Decoder(replace(words.description, stream=replace(stated.stream, pattern=lax)))
    decoded = decoder.decode(["1.5 mm", "---- mm", "OVER mm", "else mm"])
    assert decoded.flaw is not None
    assert decoded.flaw[:, 0].tolist() == [Flaw.NONE, Flaw.LOST, Flaw.OVER_RANGE]
    assert decoded.malformed == 1


@settings(max_examples=300)
@given(st.lists(st.text(max_size=30), max_size=20))
def test_any_text_is_survived(lines: list[str]) -> None:
    for decoder in (Decoder(beam().description), lax()):
        decoded = decoder.decode(lines)
        assert len(decoded.value) + decoded.malformed == len(lines)
        assert decoded.stamp_s is not None
        assert np.isfinite(decoded.stamp_s).all()


good_lines = st.builds(
    "{} V{:.1f} S{:.2f}".format,
    st.integers(0, 10**9),
    st.floats(-3000.0, 3000.0, allow_nan=False),
    st.floats(-1.0, 1.0),
)


@settings(max_examples=300)
@given(st.binary(max_size=400), st.lists(good_lines, max_size=5), st.integers(1, 40))
def test_garbage_between_good_lines_hides_none_of_them(garbage: bytes, lines: list[str], size: int) -> None:
    data = b"\n" + garbage + b"\n" + "\r\n".join(lines).encode() + b"\n"
    splitter, decoder = LineSplitter(), Decoder(beam().description)
    accepted = 0
    for at in range(0, len(data), size):
        accepted += len(decoder.decode(splitter.lines(data[at : at + size])).value)
    chance = sum(PATTERN.fullmatch(piece) is not None for piece in re.split(rb"[\r\n]", garbage))
    assert accepted == len(lines) + chance


@settings(max_examples=200)
@given(st.lists(st.sampled_from([b"ab", b"\r", b"\n", b"\r\n", b"x" * 50]), max_size=30), st.integers(1, 17))
def test_lines_do_not_depend_on_how_they_were_cut(parts: list[bytes], size: int) -> None:
    data = b"".join(parts)
    whole, pieces = LineSplitter(), LineSplitter()
    cut = [line for at in range(0, len(data), size) for line in pieces.lines(data[at : at + size])]
    assert cut == whole.lines(data)


def test_half_a_line_after_joining_is_not_taken_for_one() -> None:
    splitter = LineSplitter()
    assert splitter.lines(b"34.567 mm\r\n1234.600 mm\r\n12") == ["1234.600 mm"]
    splitter.restart()
    assert splitter.lines(b"34.7 mm\r\n1234.800 mm\r\n") == ["1234.800 mm"]
    assert splitter.partial == 3


def test_a_line_that_never_ends_is_bounded() -> None:
    splitter = LineSplitter()
    splitter.lines(b"\n")
    for _ in range(1000):
        assert splitter.lines(b"x" * 1000) == []
    assert len(splitter._rest) <= LONGEST_LINE
    assert splitter.overlong == 1
    assert splitter.lines(b"y\nafter\n") == ["after"]


def test_a_line_too_long_within_one_chunk() -> None:
    splitter = LineSplitter()
    assert splitter.lines(b"\n" + b"x" * (LONGEST_LINE + 1) + b"\nafter\n") == ["after"]
    assert splitter.overlong == 1
