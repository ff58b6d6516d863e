"""What has arrived on a link and was not fetched yet: bounded, with the time of the last arrival."""

from __future__ import annotations

import asyncio
from dataclasses import dataclass
from typing import Any, cast

from waywright.clocks import Clock
from waywright.instruments.links.fed import Fed

MOST_BYTES = 1 << 20
_MANY_BYTES = 1 << 16
# Time in which what arrives is taken as one bunch: a sender that catches up does so line by line, and every bunch costs
# work. In practice that runs faster than real time it shrinks with it, but not below what a busy computer needs.
_GATHER_S, _GATHER_WALL_S = 0.045, 0.02


@dataclass(frozen=True, slots=True)
class Chunk:
    """Bytes, and when the last of them arrived on the monotonic clock."""

    data: bytes
    received_s: float


class Inbox(asyncio.Protocol):
    """Collects bytes of a transport; asks it to pause when a mebibyte waits to be fetched."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._gather_s = max(_GATHER_S / clock.factor, _GATHER_WALL_S)
        self._transport: asyncio.ReadTransport | None = None
        self._data = bytearray()
        self._received_s = 0.0
        self._arrived = asyncio.Event()
        self._paused = False
        self.line_ended = asyncio.Event()
        self.lost: str | None = None

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        """The link is open."""
        # Serial transports read as well, without being ReadTransport by name.
        self._transport = cast(asyncio.ReadTransport, transport)

    def data_received(self, data: bytes) -> None:
        """Bytes have come."""
        self._data += data
        self._received_s = self._clock.monotonic_s()
        if b"\n" in data or b"\r" in data:
            self.line_ended.set()
        if len(self._data) > MOST_BYTES and not self._paused and self._transport is not None:
            self._transport.pause_reading()
            self._paused = True
        self._arrived.set()

    def connection_lost(self, exc: Exception | None) -> None:
        """The link is gone; what has arrived can still be fetched."""
        self.lost = str(exc) if exc else "closed by the other end"
        self._arrived.set()

    async def fetch(self, wait_s: float) -> Chunk | None:
        """All that has arrived, after waiting at most ``wait_s`` of wall time; None if nothing has.

        Raises ConnectionError with the reason once the link is lost and everything has been fetched.
        """
        try:
            async with asyncio.timeout(wait_s):
                await self._arrived.wait()
        except TimeoutError:
            # After a stall of the computer the alarm and the bytes are served in the same breath.
            if not self._data:
                return None
        if len(self._data) < _MANY_BYTES and self.lost is None:
            await asyncio.sleep(self._gather_s)
        if not self._data and self.lost is not None:
            raise ConnectionError(self.lost)
        return self._take()

    def _take(self) -> Chunk:
        chunk = Chunk(bytes(self._data), self._received_s)
        self._data.clear()
        if self.lost is None:
            self._arrived.clear()
        if self._paused and self._transport is not None:
            self._paused = False
            self._transport.resume_reading()
        return chunk

    @property
    def full(self) -> bool:
        """Whether more waits to be fetched than should."""
        return self._paused

    def send(self, data: bytes, expects_answer: bool = False) -> None:
        """Send bytes. Raises ConnectionError if the link is not open."""
        transport: Any = self._transport
        if transport is None or self.lost is not None:
            raise ConnectionError(self.lost or "not open")
        if isinstance(transport, Fed):
            transport.write(data, expects_answer)
        else:
            transport.write(data)

    async def close(self) -> None:
        """Close the link at once; what has not been fetched is dropped."""
        transport: Any = self._transport
        if transport is not None:
            transport.abort()
        if isinstance(transport, Fed):
            await transport.closed()
