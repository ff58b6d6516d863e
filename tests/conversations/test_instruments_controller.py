"""Axis position from the controller: OPC UA from a server in another process, MTConnect from an agent in the test."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from asyncua import ua

from instrument_certificates import make_certificate
from instrument_hearing import heard, run, samples, values
from instrument_processes import Served, served
from instrument_servers import URI
from waywright import wording
from waywright.clocks import SystemClock
from waywright.errors import InstrumentError
from waywright.instruments import Flaw, Happening, Instrument, InstrumentSource, SampleBatch, parse_instrument
from waywright.instruments.links import opcua
from waywright.instruments.links.held import HeldValues
from waywright.instruments.links.mtconnect import observed, parts

AXIS = """\
format = 1
name = "axis"
title = "position of the carriage as the controller has it"
[link]
{link}
[stream]
rate_hz = 20
[[channel]]
name = "position"
group = "{group}"
kind = "position"
unit = "mm"
"""
NODE = "ns=2;s=Z.Actual"


def axis(link: str, group: str = NODE) -> Instrument:
    return parse_instrument(AXIS.format(link=link, group=group).encode(), "axis.toml")


def reached(value: float) -> Callable[[list[Any]], bool]:
    return lambda said: isinstance(said[-1], SampleBatch) and bool((said[-1].value == value).any())


def _lost_link(item: object) -> bool:
    return isinstance(item, Happening) and item.key == "instruments.link_lost"


@pytest.fixture(scope="module")
def certificates(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("certificates")
    make_certificate(folder, "server", URI)
    make_certificate(folder, "ours", "urn:hollin-reach:waywright")
    make_certificate(folder, "stranger", "urn:hollin-reach:stranger")
    return folder


@pytest.fixture(scope="module")
def controller(certificates: Path) -> Iterator[Served]:
    """Lets in anybody without encryption, and with encryption one user."""
    with served("controller", str(certificates), "technician", "right") as server:
        yield server


@pytest.mark.parametrize(
    ("password", "pinned", "reached"),
    [("right", "server", True), ("wrong", "server", False), ("right", "stranger", False)],
)
def test_signed_encrypted_with_certificate_and_user(
    certificates: Path, controller: Served, password: str, pinned: str, reached: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HR6_PASSWORD", password)
    files = {"certificate": "ours.der", "key": "ours.pem", "server_certificate": f"{pinned}.der"}
    stated = "".join(f"{key} = '{certificates / file}'\n" for key, file in files.items())
    link = (
        f'kind = "opcua"\nurl = "opc.tcp://127.0.0.1:{controller.port}/controller"\nsecurity = "Basic256Sha256"\n'
        f'{stated}user = "technician"\npassword_variable = "HR6_PASSWORD"'
    )

    async def conversation() -> None:
        source = InstrumentSource(axis(link), SystemClock())
        batches, events = await heard(source, lambda said: samples(said) >= 3 or (len(said) == 1 and not reached))
        if reached:
            assert set(values(batches)[:, 0].tolist()) == {1200.5}
        else:
            assert (batches, [event.key for event in events]) == ([], ["instruments.not_reached"])

    run(conversation())


def test_a_subscription_follows_the_axis_and_goes_on_while_it_stands(controller: Served) -> None:
    """And a value that the controller calls bad is lost, and a dead server a lost link."""

    async def conversation() -> None:
        link = f'kind = "opcua"\nurl = "opc.tcp://127.0.0.1:{controller.port}/controller"'
        source = InstrumentSource(axis(link), SystemClock())
        connected = asyncio.Event()
        listening = asyncio.create_task(heard(source, lambda said: _lost_link(said[-1]), connected))
        await connected.wait()
        for order in ("set 1300.25", "bad"):
            before = source.tally.samples
            while source.tally.samples < before + 10:
                await asyncio.sleep(0.02)
            controller.order(order)
        while not source.tally.flawed.get(Flaw.LOST):
            await asyncio.sleep(0.02)
        controller.kill()
        batches, events = await listening
        got = values(batches)[:, 0]
        # Ten samples at least of an axis that stood and announced nothing.
        assert np.count_nonzero(got == 1200.5) >= 10
        assert set(got[np.isfinite(got)].tolist()) == {1200.5, 1300.25}
        assert np.isnan(got[-1])
        keys = [event.key.removeprefix("instruments.") for event in events]
        assert keys == ["connected", "reads_controller", "link_lost"]
        assert events[1].standing
        assert "read only" in wording.text(events[1].key, "en", **events[1].facts)

    run(conversation())


class Reader:
    """In place of the library's client: says the values of a list, one for each look, the last one for ever."""

    def __init__(self, *values: float) -> None:
        self._values = list(values)
        self.uaclient = self

    async def check_connection(self) -> None:
        return None

    async def read_attributes(self, nodes: list[Any], attribute: object) -> list[ua.DataValue]:
        return [ua.DataValue(self._values.pop(0) if len(self._values) > 1 else self._values[0])]


def test_a_subscription_that_has_died_does_not_look_like_an_axis_that_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opcua, "_LOOK_WALL_S", 0.02)
    node = SimpleNamespace(nodeid="z")

    async def watch(announce_s: float | None, *values: float) -> str:
        held = HeldValues(("z",))
        held.hold("z", 1.0)
        handler = opcua._Handler(held, {"z": "z"})
        if announce_s is not None:
            news = SimpleNamespace(monitored_item=SimpleNamespace(Value=ua.DataValue(values[-1])))
            asyncio.get_running_loop().call_later(
                announce_s, lambda: handler.datachange_notification(node, values[-1], news)
            )
        try:
            async with asyncio.timeout(0.4):
                await opcua._watch(Reader(*values), [node], held, handler)
        except ConnectionError as failure:
            return str(failure)
        except TimeoutError:
            return "goes on"
        return ""

    assert asyncio.run(watch(None, 1.0)) == "goes on"
    assert asyncio.run(watch(None, 1.0, 1.0, 2.0)) == "changes are not announced"
    # Read before it was announced: that is no fault.
    assert asyncio.run(watch(0.03, 2.0)) == "goes on"


def test_a_password_that_is_not_set_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("HR6_PASSWORD", raising=False)
    link = 'kind = "opcua"\nurl = "opc.tcp://127.0.0.1:9"\nuser = "technician"\npassword_variable = "HR6_PASSWORD"'
    with pytest.raises(InstrumentError, match="HR6_PASSWORD"):
        InstrumentSource(axis(link), SystemClock())


STREAMS = """<?xml version="1.0" encoding="UTF-8"?>
<MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:1.3">
 <Header creationTime="2026-05-04T08:00:00Z" sender="hollin-reach" instanceId="{instance}" version="1.3"
  bufferSize="131072" nextSequence="{following}" firstSequence="1" lastSequence="{last}"/>
 <Streams><DeviceStream name="HR-6" uuid="hr-6">
  <ComponentStream component="Linear" name="Z" componentId="z">
   <Samples>{observations}</Samples>
  </ComponentStream></DeviceStream></Streams>
</MTConnectStreams>
"""
POSITION = (
    '<Position dataItemId="{item}" name="Zact" sequence="{number}" subType="ACTUAL" '
    'timestamp="2026-05-04T08:00:00Z">{said}</Position>'
)


def document(observations: list[tuple[int, str, str]], following: int, instance: int = 7) -> bytes:
    """A streams document with (sequence, data item, text) of each observation."""
    inside = "".join(POSITION.format(item=item, number=number, said=said) for number, item, said in observations)
    text = STREAMS.format(instance=instance, following=following, last=following - 1, observations=inside)
    return text.encode()


class Agent:
    """A small MTConnect agent: the current state, and a stream of documents taken from a queue."""

    def __init__(self) -> None:
        self.said: asyncio.Queue[bytes] = asyncio.Queue()
        self.current = document([(41, "z1", "1200.5"), (42, "x1", "3.0")], 43)
        self.asked: list[str] = []

    async def serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        request = (await reader.readuntil(b"\r\n\r\n")).split(b"\r\n")[0].decode()
        self.asked.append(request)
        try:
            await (self._stream(writer) if "/sample" in request else self._state(writer))
        except ConnectionError:
            pass
        finally:
            writer.close()

    async def _state(self, writer: asyncio.StreamWriter) -> None:
        head = f"HTTP/1.1 200 OK\r\nContent-Type: text/xml\r\nContent-Length: {len(self.current)}\r\n\r\n"
        writer.write(head.encode() + self.current)
        await writer.drain()

    async def _stream(self, writer: asyncio.StreamWriter) -> None:
        writer.write(
            b"HTTP/1.1 200 OK\r\nContent-Type: multipart/x-mixed-replace;boundary=hollinreach\r\n"
            b"Transfer-Encoding: chunked\r\n\r\n"
        )
        while True:
            text = await self.said.get()
            part = b"\r\n--hollinreach\r\nContent-type: text/xml\r\nContent-length: %d\r\n\r\n%s" % (len(text), text)
            for piece in (part[:70], part[70:]):  # cut where no library expects it
                writer.write(b"%x\r\n%s\r\n" % (len(piece), piece))
                await writer.drain()


@asynccontextmanager
async def agent() -> AsyncIterator[tuple[Agent, str]]:
    served_by = Agent()
    server = await asyncio.start_server(served_by.serve, "127.0.0.1", 0)
    try:
        yield served_by, f'kind = "mtconnect"\nurl = "http://127.0.0.1:{server.sockets[0].getsockname()[1]}/"'
    finally:
        server.close()


@pytest.mark.parametrize("item", ["z1", "Zact"])
def test_the_sample_stream_follows_the_axis(item: str) -> None:
    async def conversation() -> None:
        async with agent() as (peer, link):
            source = InstrumentSource(axis(link, item), SystemClock())
            connected = asyncio.Event()
            listening = asyncio.create_task(heard(source, reached(1250.125), connected))
            await connected.wait()
            peer.said.put_nowait(document([(43, "z1", "UNAVAILABLE")], 44))
            while not source.tally.flawed.get(Flaw.LOST):
                await asyncio.sleep(0.02)
            peer.said.put_nowait(document([], 44))  # a heartbeat
            # Out of order within a document: the sequence decides.
            peer.said.put_nowait(document([(46, "z1", "1250.125"), (45, "z1", "1225.0")], 47))
            batches, events = await listening
        first = next(value for value in values(batches)[:, 0] if np.isfinite(value))
        assert first in (1200.5, 3.0 if item == "Zact" else 1200.5)
        assert np.isnan(values(batches)[:, 0]).any()
        assert [event.key for event in events] == ["instruments.connected", "instruments.reads_controller"]
        assert "from=43" in peer.asked[1]
        assert all(request.startswith("GET ") for request in peer.asked)

    run(conversation())


@pytest.mark.parametrize(("news", "reason"), [
    (document([], 2, instance=8), "begun anew"),
    (b"<MTConnectError><Errors><Error errorCode='OUT_OF_RANGE'>from is too old</Error></Errors></MTConnectError>",
     "from is too old"),
    (b"<MTConnectStreams", "XML"),
])  # fmt: skip
def test_an_agent_that_begins_anew_or_complains_is_asked_again(news: bytes, reason: str) -> None:
    async def conversation() -> None:
        async with agent() as (peer, link):
            source = InstrumentSource(axis(link, "z1"), SystemClock())
            connected = asyncio.Event()
            listening = asyncio.create_task(heard(source, lambda said: _lost_link(said[-1]), connected))
            await connected.wait()
            peer.said.put_nowait(news)
            _, events = await listening
        assert reason.lower() in str(events[-1].facts["reason"]).lower() or reason == "XML"

    run(conversation())


def test_no_entity_is_resolved_and_nothing_is_fetched(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("1234.5")
    declared = f'<!DOCTYPE x [<!ENTITY e SYSTEM "{secret.as_uri()}">]>\n<MTConnectStreams'
    text = document([(1, "z1", "&e;")], 2).decode().replace("<MTConnectStreams", declared, 1)
    assert [said for _, _, said in observed(text.encode()).observations] == [""]


def test_parts_do_not_depend_on_how_they_were_cut() -> None:
    documents = [document([(number, "z1", f"{number}.5")], number + 1) for number in range(1, 4)]
    body = b"".join(
        b"\r\n--b\r\nContent-type: text/xml\r\nContent-length: %d\r\n\r\n%s" % (len(each), each) for each in documents
    )

    async def cut(size: int) -> list[bytes]:
        async def pieces() -> AsyncIterator[bytes]:
            for at in range(0, len(body), size):
                yield body[at : at + size]

        return [part async for part in parts('multipart/x-mixed-replace; boundary="b"', pieces())]

    for size in (1, 7, 50, 10_000):
        assert asyncio.run(cut(size)) == documents
