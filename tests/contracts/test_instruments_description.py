"""Description files: what is read, and how each mistake is named by file, key and what is allowed."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from instrument_texts import beam, beam_text, distance, serial
from waywright import wording
from waywright.errors import BadInput
from waywright.instruments import SerialLink, description_schema, parse_instrument, read_instrument


def test_what_a_file_says(tmp_path: Path) -> None:
    file = tmp_path / "beam.toml"
    file.write_text(beam_text(), encoding="utf-8")
    instrument = read_instrument(file)
    assert instrument.channels == ("beam.vertical_um", "beam.side_um")
    assert instrument.sha256 == hashlib.sha256(file.read_bytes()).hexdigest()
    assert instrument.use().serial == "HR-BD-01"
    assert instrument.use().description_sha256 == instrument.sha256
    assert instrument.description.channel[0].range == (-2500.0, 2500.0)


def test_a_certificate_and_a_serial_link() -> None:
    text = beam_text() + '[certificate]\nnumber = "C-1"\ndate = 2026-01-05\ndue = 2027-01-05\nk = 2\n'
    instrument = parse_instrument(text.encode(), "beam.toml")
    assert (instrument.use().certificate, instrument.use().certificate_due) == ("C-1", "2027-01-05")
    link = distance(serial("COM3")).description.link
    assert link == SerialLink(port="COM3", baud=9600, data_bits=8, parity="none", stop_bits=1)


MISTAKES = [
    ("format = 1", "format = 2", "format", "1"),
    ('kind = "tcp"', 'kind = "usb"', "link.kind", "tcp, tcp-server, udp, serial"),
    ("port = 50001", "port = 99999", "link.port", "<= 65535"),
    ("port = 50001", "prot = 50001", "link.prot", "host, port"),
    ('title = "two', 'titel = "two', "titel", "title"),
    ('serial = "HR-BD-01"', "serial = 3", "serial", "text"),
    ("rate_hz = 50", "rate_hz = 0", "stream.rate_hz", "> 0"),
    ("rate_hz = 50\n", "", "stream.rate_hz", "number"),
    ('unit = "ms"', 'unit = "min"', "stream.time_stamp.unit", "ms"),
    ('group = "t"', 'group = "time"', "stream.time_stamp.group", "s, t, v"),
    ('group = "s"', 'group = "side"', "channel[1].group", "s, t, v"),
    ("(?P<v>", "(?P<v", "stream.pattern", "named groups"),
    ('name = "side"', 'name = "vertical"', "channel[1].name", "its own name"),
    ('name = "side"', 'name = "Side way"', "channel[1].name", "a-z"),
    ('kind = "displacement"\nunit = "mm"', 'kind = "length"\nunit = "mm"', "channel[1].kind", "displacement"),
    ('unit = "um"', 'unit = "furlong"', "channel[0].unit", "um, mm, nm, inch"),
    ('positive = "up"', 'positive = "upp"', "channel[0].positive", "up, down"),
    ('positive = "up"', 'positive = "right-side-up"', "channel[0].positive", "towards-operator"),
    ('positive = "up"\n', "", "channel[0].positive", "towards-operator"),
    ("[-2500.0, 2500.0]", "[2500.0, -2500.0]", "channel[0].range", "lower limit first"),
    ("[-2500.0, 2500.0]", "[2500.0]", "channel[0].range", "2 values"),
    ("factor = -2.0", "factor = 0.0", "channel[1].factor", "not 0"),
    ("factor = -2.0", "factor = inf", "channel[1].factor", "finite"),
    ("offset = 0.5", "offset = nan", "channel[1].offset", "finite"),
]


@pytest.mark.parametrize(("old", "new", "key", "allowed"), MISTAKES)
def test_a_mistake_is_named(old: str, new: str, key: str, allowed: str) -> None:
    text = beam_text()
    assert text.count(old) >= 1
    with pytest.raises(BadInput) as caught:
        parse_instrument(text.replace(old, new, 1).encode(), "my beam.toml")
    assert caught.value.facts["key"] == key
    sentence = wording.sentence_of(caught.value)
    assert "my beam.toml" in sentence
    assert key in sentence
    assert allowed in sentence


def test_a_position_has_no_direction() -> None:
    text = beam_text().replace('kind = "displacement"\nunit = "mm"', 'kind = "position"\nunit = "mm"')
    with pytest.raises(BadInput) as caught:
        parse_instrument(text.encode(), "x.toml")
    assert (caught.value.key, caught.value.facts["key"]) == ("instruments.no_direction", "channel[1].positive")


@pytest.mark.parametrize(
    ("data", "key"),
    [(b"\xff\xfe", "instruments.not_utf8"), (b"a = ", "instruments.not_toml"), (b"", "instruments.missing_key")],
)
def test_a_file_that_is_none(data: bytes, key: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse_instrument(data, "x.toml")
    assert caught.value.key == key
    assert "x.toml" in str(caught.value)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(BadInput) as caught:
        read_instrument(tmp_path / "none.toml")
    assert str(tmp_path / "none.toml") in str(caught.value)


def test_a_byte_order_mark_is_no_mistake() -> None:
    assert parse_instrument(b"\xef\xbb\xbf" + beam_text().encode(), "x.toml").channels == beam().channels


def test_the_schema_for_editors_knows_every_key() -> None:
    schema = description_schema()
    channel = schema["$defs"]["Channel"]
    assert set(channel["properties"]) == {
        "name", "group", "kind", "unit", "positive", "range", "lost", "over", "factor", "offset", "linearity",
    }  # fmt: skip
    assert channel["additionalProperties"] is False
    assert {"format", "name", "title", "link", "stream", "channel"} <= set(schema["$defs"]["Description"]["required"])
