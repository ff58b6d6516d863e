"""Where the instruments talk: TCP servers and, on POSIX, a serial line made of a pseudo-terminal.

A peer never waits for anybody. A client that does not read loses whole lines once its buffer is full, others lose
nothing; whoever connects later hears what is said from then on, as at a real instrument.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import select
from collections.abc import Sequence
from typing import Protocol

from waywright.simulation.protocol import Endpoint

HOST = "127.0.0.1"
BAUD = 115_200
_END = "\r\n"
WAITING_BYTES = 65_536


class Peer(Protocol):
    """An instrument's side of a link."""

    @property
    def endpoint(self) -> Endpoint:
        """Where a client finds it."""

    def say(self, lines: Sequence[str]) -> None:
        """Send lines to whoever listens; never blocks."""

    async def close(self) -> None:
        """Hang up."""


class TcpPeer:
    """A server that says the same to every client."""

    def __init__(self) -> None:
        self._server: asyncio.Server | None = None
        self._clients: set[asyncio.Transport] = set()

    @classmethod
    async def open(cls, port: int = 0) -> TcpPeer:
        """Listen on the loopback address; port 0 lets the system choose."""
        peer = cls()
        loop = asyncio.get_running_loop()
        peer._server = await loop.create_server(lambda: _Client(peer._clients), HOST, port)
        return peer

    @property
    def endpoint(self) -> Endpoint:
        """Host and port."""
        sockets = self._server.sockets if self._server else ()
        return Endpoint(kind="tcp", host=HOST, port=int(sockets[0].getsockname()[1]) if sockets else 0)

    def say(self, lines: Sequence[str]) -> None:
        """Send to every client that keeps up; one that does not misses these lines whole."""
        data = as_bytes(lines)
        for client in tuple(self._clients):
            if client.get_write_buffer_size() < WAITING_BYTES:
                client.write(data)

    async def close(self) -> None:
        """Stop listening and hang up on every client."""
        if self._server is not None:
            self._server.close()
        for client in tuple(self._clients):
            client.abort()


class _Client(asyncio.Protocol):
    """One connection. What a client says is not meant for this instrument and falls on the floor."""

    def __init__(self, clients: set[asyncio.Transport]) -> None:
        self._clients = clients
        self._transport: asyncio.Transport | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        if isinstance(transport, asyncio.Transport):
            self._transport = transport
            self._clients.add(transport)

    def connection_lost(self, exc: Exception | None) -> None:
        if self._transport is not None:
            self._clients.discard(self._transport)


class SerialPeer:
    """The instrument's end of a serial line; the other end has a device name that any serial program opens."""

    def __init__(self) -> None:
        import tty

        self._end, other = os.openpty()
        self._name = os.ttyname(other)
        tty.setraw(other)
        # closed at once: the system then tells whether somebody else has the line open
        os.close(other)
        os.set_blocking(self._end, False)
        self._poll = select.poll()
        self._poll.register(self._end, select.POLLIN)
        self._heard = True
        self._rest = b""

    @property
    def endpoint(self) -> Endpoint:
        """Device name and speed (a pseudo-terminal takes any speed)."""
        return Endpoint(kind="serial", port=self._name, baud=BAUD)

    def say(self, lines: Sequence[str]) -> None:
        """Send while somebody has the line open; what does not fit is left out, a whole line at a time."""
        events = sum(event for _, event in self._poll.poll(0))
        if events & select.POLLHUP:
            self._hung_up()
            return
        self._heard = True
        if events & select.POLLIN:
            os.read(self._end, 4096)
        for line in lines:
            self._push()
            if not self._rest:
                self._rest = as_bytes([line])
                self._push()

    def _push(self) -> None:
        """Send what is left of a line begun; a line is never cut, only left out."""
        with contextlib.suppress(BlockingIOError):
            self._rest = self._rest[os.write(self._end, self._rest) :]

    async def close(self) -> None:
        """Take the line away."""
        os.close(self._end)

    def _hung_up(self) -> None:
        """Throw away what the last client left unread, or the next one would take it for news."""
        import termios

        if self._heard:
            self._heard = False
            self._rest = b""
            other = os.open(self._name, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
            termios.tcflush(other, termios.TCIOFLUSH)
            os.close(other)


async def open_line() -> Peer:
    """A serial line where the system has pseudo-terminals, a TCP server elsewhere."""
    return SerialPeer() if hasattr(os, "openpty") else await TcpPeer.open()


def as_bytes(lines: Sequence[str]) -> bytes:
    """Lines as they travel."""
    return "".join(line + _END for line in lines).encode("ascii")
