"""Where the further instruments talk: asked over TCP, datagrams, a broker, a controller's server.

Broker and server need the optional part ``practice``; their libraries are imported when one is opened.
"""

from __future__ import annotations

import asyncio
import logging
import socket
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from waywright.errors import BadInput
from waywright.instruments.links.parts import need
from waywright.simulation.peers import HOST, WAITING_BYTES, Peer, TcpPeer, as_bytes
from waywright.simulation.protocol import Endpoint

PLAIN = ("reference", "autocollimator", "indicator", "thermometers")
OPTIONAL = ("controller", "climate")
FURTHER = PLAIN + OPTIONAL
"""The instruments beside beam, distance meter and level; the optional ones need the part ``practice``."""

TOPIC = "hollin-reach/hr-6/climate"
NODE = "ns=2;s=Z.Actual"
_SPACE = "urn:hollin-reach:workshop"
_ASKED: dict[str, Mapping[str, str | None]] = {
    "autocollimator": {"A?": None},
    "indicator": {"READ?": None, "*IDN?": "HOLLIN REACH (INVENTED),DIAL,HR-DI-01,1"},
}


def check_further(names: Collection[str]) -> None:
    """Raises BadInput for an instrument that there is not, MissingPart where one needs a part that is not there."""
    for name in names:
        if name not in FURTHER:
            raise BadInput("simulation.no_instrument", name=name, known=", ".join(FURTHER))
    if any(name in OPTIONAL for name in names):
        need("practice")


async def open_further(name: str) -> Peer:
    """The peer of a further instrument."""
    match name:
        case "thermometers":
            return UdpPeer()
        case "controller":
            return await ControllerPeer.open()
        case "climate":
            return await BrokerPeer.open()
    return await AskedPeer.open_with(_ASKED[name]) if name in _ASKED else await TcpPeer.open()


class AskedPeer(TcpPeer):
    """Speaks only when asked: each question has its answer, or (None) the last line of the instrument."""

    def __init__(self) -> None:
        super().__init__()
        self._last = ""
        self._answers: Mapping[str, str | None] = {}

    @classmethod
    async def open_with(cls, answers: Mapping[str, str | None]) -> AskedPeer:
        """Listen on the loopback address for these questions."""
        peer = cls()
        peer._answers = answers
        loop = asyncio.get_running_loop()
        peer._server = await loop.create_server(lambda: _Asker(peer), HOST, 0)
        return peer

    def say(self, lines: Sequence[str]) -> None:
        """Keep the last line until somebody asks."""
        self._last = lines[-1] if lines else self._last

    def answer(self, question: str) -> str | None:
        """What it says to a question; nothing to one that it does not know, or before it has measured."""
        return (self._answers[question] or self._last or None) if question in self._answers else None


class _Asker(asyncio.Protocol):
    """One connection to an instrument that is asked."""

    def __init__(self, peer: AskedPeer) -> None:
        self._peer = peer
        self._rest = b""
        self._transport: asyncio.Transport | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        if isinstance(transport, asyncio.Transport):
            self._transport = transport
            self._peer._clients.add(transport)

    def connection_lost(self, exc: Exception | None) -> None:
        if self._transport is not None:
            self._peer._clients.discard(self._transport)

    def data_received(self, data: bytes) -> None:
        *questions, self._rest = (self._rest + data).replace(b"\r", b"\n").split(b"\n")
        self._rest = self._rest[-WAITING_BYTES:]
        for question in questions:
            answer = self._peer.answer(question.decode("ascii", "replace").strip())
            if answer is not None and self._transport is not None:
                self._transport.write(as_bytes([answer]))


class UdpPeer:
    """Sends datagrams to a port of this computer, whether somebody listens or not."""

    def __init__(self) -> None:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as found:
            found.bind((HOST, 0))
            self._port = int(found.getsockname()[1])
        self._socket = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        self._socket.setblocking(False)

    @property
    def endpoint(self) -> Endpoint:
        """The port that it sends to."""
        return Endpoint(kind="udp", port=self._port, host=HOST)

    def say(self, lines: Sequence[str]) -> None:
        """One datagram a line; what the system does not take is lost, as datagrams are."""
        for line in lines:
            try:
                self._socket.sendto(as_bytes([line]), (HOST, self._port))
            except OSError:
                # nobody listens, or the buffer is full
                continue

    async def close(self) -> None:
        """Stop sending."""
        self._socket.close()


class BrokerPeer:
    """An MQTT broker of its own, and the topic that the lines are published under."""

    def __init__(self, broker: Any, port: int) -> None:
        self._broker, self._port = broker, port
        self._sending: set[asyncio.Task[None]] = set()

    @classmethod
    async def open(cls) -> BrokerPeer:
        """Start the broker; it lets everybody on this computer in."""
        from amqtt.broker import Broker

        logging.getLogger("amqtt").setLevel(logging.CRITICAL)
        logging.getLogger("transitions").setLevel(logging.CRITICAL)
        port = _free_port()
        plugins = {"amqtt.plugins.authentication.AnonymousAuthPlugin": {"allow_anonymous": True}}
        broker = Broker({"listeners": {"default": {"type": "tcp", "bind": f"{HOST}:{port}"}}, "plugins": plugins})
        await broker.start()
        return cls(broker, port)

    @property
    def endpoint(self) -> Endpoint:
        """Broker and topic."""
        return Endpoint(kind="mqtt", port=self._port, host=HOST, topic=TOPIC)

    def say(self, lines: Sequence[str]) -> None:
        """Publish each line as a message."""
        for line in lines:
            sending = asyncio.ensure_future(self._broker.internal_message_broadcast(TOPIC, line.encode("ascii"), 0))
            self._sending.add(sending)
            sending.add_done_callback(self._sending.discard)

    async def close(self) -> None:
        """Stop the broker."""
        await self._broker.shutdown()


class ControllerPeer:
    """An OPC UA server with the actual position of the axis; nobody can write it."""

    def __init__(self, server: Any, actual: Any, url: str) -> None:
        self._server, self._actual, self._url = server, actual, url
        self._writing: asyncio.Task[None] | None = None

    @classmethod
    async def open(cls) -> ControllerPeer:
        """Start the server on the loopback address, without security: it is for practice."""
        from asyncua import Server, ua

        logging.getLogger("asyncua").setLevel(logging.CRITICAL)
        url = f"opc.tcp://{HOST}:{_free_port()}/controller"
        server = Server()
        await server.init()
        server.set_endpoint(url)
        server.set_security_policy([ua.SecurityPolicyType.NoSecurity])
        space = await server.register_namespace(_SPACE)
        axis = await server.nodes.objects.add_object(space, "Z")
        actual = await axis.add_variable(ua.NodeId.from_string(NODE), "Actual", 0.0)
        await server.start()
        return cls(server, actual, url)

    @property
    def endpoint(self) -> Endpoint:
        """The server's address."""
        return Endpoint(kind="opcua", port=0, url=self._url)

    def say(self, lines: Sequence[str]) -> None:
        """The position now; one that could not be written yet is passed over, as a slow controller does."""
        if lines and (self._writing is None or self._writing.done()):
            self._writing = asyncio.ensure_future(self._actual.write_value(float(lines[-1])))

    async def close(self) -> None:
        """Stop the server."""
        await self._server.stop()


def _free_port() -> int:
    with socket.socket() as found:
        found.bind((HOST, 0))
        return int(found.getsockname()[1])
