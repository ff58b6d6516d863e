"""A topic of an MQTT broker that runs as a process of its own."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Iterator

import aiomqtt
import pytest

from instrument_hearing import heard, run, samples, values
from instrument_processes import Served, served
from waywright.clocks import ScaledClock, SystemClock
from waywright.instruments import Instrument, InstrumentSource, parse_instrument

AIR = """\
format = 1
name = "air"
title = "air temperature by the beam"
[link]
kind = "mqtt"
host = "127.0.0.1"
port = {port}
topic = "hall/air"
quality = 1
[stream]
pattern = '\\{{"degc": (?P<t>[-+]?\\d+\\.\\d+)\\}}'
rate_hz = 1
[[channel]]
name = "air"
group = "t"
kind = "temperature"
unit = "degC"
"""


def air(port: int) -> Instrument:
    return parse_instrument(AIR.format(port=port).encode(), "air.toml")


@pytest.fixture
def broker() -> Iterator[Served]:
    with served("broker") as process:
        yield process


def test_messages_become_samples(broker: Served) -> None:
    async def conversation() -> None:
        source = InstrumentSource(air(broker.port), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: samples(said) >= 3, connected))
        await connected.wait()
        async with aiomqtt.Client("127.0.0.1", broker.port) as client:
            for payload in (json.dumps({"degc": 20.5}), "not json", json.dumps({"degc": 20.75}), '{"degc": 21.0}\n'):
                await client.publish("hall/air", payload, qos=1)
            await client.publish("hall/other", '{"degc": 99.0}')
        batches, _ = await listening
        assert values(batches)[:, 0].tolist() == [20.5, 20.75, 21.0]
        assert (source.tally.malformed, source.tally.partial) == (1, 0)

    run(conversation())


def test_a_broker_that_dies_is_told_as_a_lost_link(broker: Served) -> None:
    async def conversation() -> None:
        source = InstrumentSource(air(broker.port), ScaledClock(20.0))
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: len(said) >= 3, connected))
        await connected.wait()
        broker.kill()
        _, events = await listening
        keys = [event.key.removeprefix("instruments.") for event in events]
        assert keys == ["connected", "link_lost", "not_reached"]

    run(conversation())
