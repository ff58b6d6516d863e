"""Bluetooth LE behind the same interface, against a stand-in for the library's client: no radio was at hand."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any

import pytest

from instrument_hearing import heard, run, samples, values
from waywright.clocks import SystemClock
from waywright.errors import InstrumentError, MissingPart
from waywright.instruments import InstrumentSource, parse_instrument
from waywright.instruments.links import parts

DIAL = """\
format = 1
name = "dial"
title = "dial indicator"
link = { kind = "ble", address = "AA:BB:CC:00:11:22", notify = "6e40", write = "6e41" }
stream = { pattern = '(?P<v>[-+]\\d+\\.\\d+)', rate_hz = 20 }
ask = { send = "?\\r" }
channel = [{ name = "deviation", group = "v", kind = "displacement", unit = "mm", positive = "up" }]
"""


class Device:
    """Takes the place of the library's client: answers questions in pieces of a few bytes, then goes away."""

    def __init__(self, address: str, disconnected_callback: Callable[[Any], None]) -> None:
        assert address == "AA:BB:CC:00:11:22"
        self._gone = disconnected_callback
        self._answers = 0
        self._notify: Callable[[Any, bytearray], None] | None = None

    async def __aenter__(self) -> Device:
        return self

    async def __aexit__(self, *_: object) -> None:
        return None

    async def start_notify(self, characteristic: str, callback: Callable[[Any, bytearray], None]) -> None:
        assert characteristic == "6e40"
        self._notify = callback

    async def write_gatt_char(self, characteristic: str, data: bytes) -> None:
        assert (characteristic, data) == ("6e41", b"?\r")
        assert self._notify is not None
        self._answers += 1
        text = b"%+.3f\r\n" % (self._answers * 0.001)
        for at in range(0, len(text), 3):
            self._notify(None, bytearray(text[at : at + 3]))
        if self._answers == 6:
            self._gone(self)


def test_lines_cut_into_notifications(monkeypatch: pytest.MonkeyPatch) -> None:
    import bleak

    monkeypatch.setattr(bleak, "BleakClient", Device)

    async def conversation() -> None:
        source = InstrumentSource(parse_instrument(DIAL.encode(), "dial.toml"), SystemClock())
        batches, events = await heard(source, lambda said: samples(said) == 5 and len(said) >= 2 and _lost(said[-1]))
        assert values(batches)[:, 0].tolist() == pytest.approx([2.0, 3.0, 4.0, 5.0, 6.0])
        assert [event.key.removeprefix("instruments.") for event in events] == ["connected", "link_lost"]

    run(conversation())


def _lost(item: object) -> bool:
    return getattr(item, "key", "") == "instruments.link_lost"


@pytest.mark.parametrize("kind", sorted(parts.PARTS))
def test_a_part_that_is_not_installed_names_the_command_that_brings_it(
    kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(parts, "find_spec", lambda name: None)
    with pytest.raises(MissingPart, match=f"python3 x.py add {kind}"):
        parts.need(kind)


def test_what_is_installed_is_not_asked_for_and_asking_happens_before_the_link_is_opened(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for kind in parts.PARTS:
        parts.need(kind)
    monkeypatch.setattr(parts, "find_spec", lambda name: None)
    with pytest.raises(MissingPart, match="ble"):
        InstrumentSource(parse_instrument(DIAL.encode(), "dial.toml"), SystemClock())
    parts.need("tcp")


def test_a_link_that_is_not_open_takes_no_command() -> None:
    text = DIAL + 'command = [{ name = "zero", send = "Z\\r" }]\n'
    source = InstrumentSource(parse_instrument(text.encode(), "dial.toml"), SystemClock())
    with pytest.raises(InstrumentError, match="not open"):
        asyncio.run(source.command("zero"))
