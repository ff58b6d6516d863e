"""Links on which the instrument comes to us: it calls a TCP port, or sends datagrams."""

from __future__ import annotations

import asyncio
from collections import deque
from typing import cast

from waywright.clocks import Clock
from waywright.instruments.link_records import TcpServerLink, UdpLink
from waywright.instruments.links.inbox import MOST_BYTES, Inbox
from waywright.instruments.links.reconnecting import Asking, Reconnecting

_WAITING_DATAGRAMS = 256


def tcp_server_link(
    stated: TcpServerLink, clock: Clock, source: str, quiet_s: float, asking: Asking | None = None
) -> Reconnecting:
    """The link to an instrument that calls this computer. The newest caller is the one that is heard."""
    door = _Door(stated.host, stated.port)
    address = f"{stated.host}:{stated.port}"
    return Reconnecting(door.open, clock, source, address, quiet_s, asking=asking, closer=door.close)


def udp_link(stated: UdpLink, clock: Clock, source: str, quiet_s: float) -> Reconnecting:
    """The link to an instrument that sends datagrams to this computer."""
    box = _Letterbox(stated.host, stated.port)
    return Reconnecting(box.open, clock, source, f"{stated.host}:{stated.port}", quiet_s, closer=box.close)


class _Caller(asyncio.Protocol):
    """Somebody who has called and is not listened to yet."""

    def __init__(self, door: _Door) -> None:
        self._door = door
        self._early = bytearray()
        self.transport: asyncio.Transport | None = None
        self.gone = False

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        self.transport = cast(asyncio.Transport, transport)
        self._door.called(self)

    def data_received(self, data: bytes) -> None:
        self._early += data
        if len(self._early) > MOST_BYTES and self.transport is not None:
            self.transport.pause_reading()

    def connection_lost(self, exc: Exception | None) -> None:
        self.gone = True

    def hand_over(self, inbox: Inbox) -> None:
        """From now on the inbox hears the caller."""
        assert self.transport is not None
        self.transport.set_protocol(inbox)
        inbox.connection_made(self.transport)
        self.transport.resume_reading()
        if self._early:
            inbox.data_received(bytes(self._early))


class _Door:
    """The listening port. It stays open while nobody is listened to."""

    def __init__(self, host: str, port: int) -> None:
        self._address = (host, port)
        self._server: asyncio.Server | None = None
        self._newest: _Caller | None = None
        self._rang = asyncio.Event()
        self._heard: Inbox | None = None

    def called(self, caller: _Caller) -> None:
        """Somebody calls: the instrument was switched off and on, perhaps without saying good-bye."""
        if self._newest is not None and self._newest.transport is not None:
            self._newest.transport.abort()
        self._newest = caller
        if self._heard is not None and self._heard.lost is None:
            self._heard.connection_lost(ConnectionError("it called again"))
        self._rang.set()

    async def open(self, inbox: Inbox) -> None:
        """Wait for a caller. Raises OSError if the port cannot be opened."""
        if self._server is None:
            loop = asyncio.get_running_loop()
            self._server = await loop.create_server(lambda: _Caller(self), *self._address)
        while self._newest is None or self._newest.gone:
            self._newest = None
            self._rang.clear()
            await self._rang.wait()
        caller, self._newest = self._newest, None
        caller.hand_over(inbox)
        self._heard = inbox

    async def close(self) -> None:
        """Close the port."""
        if self._newest is not None and self._newest.transport is not None:
            self._newest.transport.abort()
        if self._server is not None:
            self._server.close()
            self._server = None


class _Letterbox(asyncio.DatagramProtocol):
    """The bound port; keeps the newest datagrams while nobody listens."""

    def __init__(self, host: str, port: int) -> None:
        self._address = (host, port)
        self._transport: asyncio.DatagramTransport | None = None
        self._waiting: deque[bytes] = deque(maxlen=_WAITING_DATAGRAMS)
        self._came = asyncio.Event()
        self._inbox: Inbox | None = None

    def datagram_received(self, data: bytes, addr: tuple[str | int, int]) -> None:
        if self._inbox is None or self._inbox.lost is not None:
            self._waiting.append(data)
            self._came.set()
        elif not self._inbox.full:
            # A datagram holds whole lines, with or without the last line end.
            self._inbox.data_received(b"\n" + data + b"\n")

    def error_received(self, exc: Exception) -> None:
        """Nothing is sent, so nothing can come back undelivered."""

    async def open(self, inbox: Inbox) -> None:
        """Wait for a datagram. Raises OSError if the port cannot be opened."""
        loop = asyncio.get_running_loop()
        if self._transport is None:
            await loop.create_datagram_endpoint(lambda: self, self._address)
        while not self._waiting:
            self._came.clear()
            await self._came.wait()
        inbox.connection_made(_Slot(self))  # type: ignore[arg-type]  # all that an inbox asks of a transport
        self._inbox = inbox
        while self._waiting:
            self.datagram_received(self._waiting.popleft(), ("", 0))

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        self._transport = cast(asyncio.DatagramTransport, transport)

    def let_go(self) -> None:
        """Nobody listens now."""
        self._inbox = None

    async def close(self) -> None:
        """Close the port."""
        if self._transport is not None:
            self._transport.abort()
            self._transport = None


class _Slot:
    """What an inbox closes and pauses, in place of the port that stays open."""

    def __init__(self, box: _Letterbox) -> None:
        self._box = box

    def abort(self) -> None:
        self._box.let_go()

    def pause_reading(self) -> None:
        """Nothing to do: the letterbox looks whether there is room."""

    def resume_reading(self) -> None:
        """Nothing to do: the letterbox looks whether there is room."""
