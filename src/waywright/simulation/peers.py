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
_WAITING_BYTES = 65_536


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
        self._clients: set[asyncio.StreamWriter] = set()

    @classmethod
    async def open(cls, port: int = 0) -> TcpPeer:
        """Listen on the loopback address; port 0 lets the system choose."""
        peer = cls()
        peer._server = await asyncio.start_server(peer._serve, HOST, port)
        return peer

    @property
    def endpoint(self) -> Endpoint:
        """Host and port."""
        sockets = self._server.sockets if self._server else ()
        return Endpoint(kind="tcp", host=HOST, port=int(sockets[0].getsockname()[1]) if sockets else 0)

    def say(self, lines: Sequence[str]) -> None:
        """Send to every client that keeps up; one that does not misses these lines whole."""
        data = _bytes(lines)
        for client in self._clients:
            if data and client.transport.get_write_buffer_size() < _WAITING_BYTES:
                client.write(data)

    async def close(self) -> None:
        """Stop listening and hang up on every client."""
        if self._server is not None:
            self._server.close()
        for client in tuple(self._clients):
            client.transport.abort()

    async def _serve(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        self._clients.add(writer)
        # what a client says is not meant for this instrument; reading tells when it hangs up
        with contextlib.suppress(OSError):
            while await reader.read(1024):
                pass
        self._clients.discard(writer)
        writer.transport.abort()


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

    @property
    def endpoint(self) -> Endpoint:
        """Device name and speed (a pseudo-terminal takes any speed)."""
        return Endpoint(kind="serial", port=self._name, baud=BAUD)

    def say(self, lines: Sequence[str]) -> None:
        """Send while somebody has the line open; what does not fit is lost, a line at a time."""
        events = sum(event for _, event in self._poll.poll(0))
        if events & select.POLLHUP:
            self._hung_up()
            return
        self._heard = True
        with contextlib.suppress(BlockingIOError):
            if events & select.POLLIN:
                os.read(self._end, 4096)
            for line in lines:
                os.write(self._end, _bytes([line]))

    async def close(self) -> None:
        """Take the line away."""
        os.close(self._end)

    def _hung_up(self) -> None:
        """Throw away what the last client left unread, or the next one would take it for news."""
        import termios

        if self._heard:
            self._heard = False
            other = os.open(self._name, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
            termios.tcflush(other, termios.TCIOFLUSH)
            os.close(other)


async def open_line() -> Peer:
    """A serial line where the system has pseudo-terminals, a TCP server elsewhere."""
    return SerialPeer() if hasattr(os, "openpty") else await TcpPeer.open()


def _bytes(lines: Sequence[str]) -> bytes:
    return "".join(line + _END for line in lines).encode("ascii")
