"""A task in place of a transport: libraries that bring messages feed an inbox through it."""

from __future__ import annotations

import asyncio
import contextlib
from collections import deque
from collections.abc import Awaitable, Callable
from typing import TYPE_CHECKING

from waywright.errors import WaywrightError

if TYPE_CHECKING:
    from waywright.instruments.links.inbox import Inbox

# Wall time that a library may take to say good-bye.
_CLOSING_S = 2.0
_MOST_WRITES = 64


class Fed:
    """Runs ``work(fed)``, which calls :meth:`opened` once connected and :meth:`feed` for every message.

    Whatever the work raises means that the link is lost. While too much waits to be fetched messages are dropped.
    """

    def __init__(self, inbox: Inbox, work: Callable[[Fed], Awaitable[None]]) -> None:
        self._inbox = inbox
        self._ready: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._writes: deque[tuple[bytes, bool]] = deque(maxlen=_MOST_WRITES)
        self._asked = asyncio.Event()
        self._task = asyncio.create_task(self._run(work))

    @classmethod
    async def open(cls, inbox: Inbox, work: Callable[[Fed], Awaitable[None]]) -> None:
        """Start the work and wait until it is connected. Raises OSError with the reason if it never is."""
        fed = cls(inbox, work)
        try:
            await fed._ready
        except BaseException:
            fed.abort()
            await fed.closed()
            raise
        inbox.connection_made(fed)  # type: ignore[arg-type]  # all that an inbox asks of a transport

    def opened(self) -> None:
        """The link is open."""
        if not self._ready.done():
            self._ready.set_result(None)

    @property
    def full(self) -> bool:
        """Whether more waits to be fetched than should."""
        return self._inbox.full

    def feed(self, message: bytes) -> None:
        """A whole message: its lines are whole, whether or not it ends with a line end."""
        self.feed_raw(b"\n" + message + b"\n")

    def feed_raw(self, data: bytes) -> None:
        """Bytes of a stream."""
        if not self._inbox.full:
            self._inbox.data_received(data)

    def write(self, data: bytes, expects_answer: bool = False) -> None:
        """Leave something to be sent for the work to fetch."""
        self._writes.append((data, expects_answer))
        self._asked.set()

    def to_write(self) -> tuple[bytes, bool] | None:
        """The next thing to be sent, and whether an answer will come; None if there is none."""
        return self._writes.popleft() if self._writes else None

    async def wait_to_write(self) -> tuple[bytes, bool]:
        """The next thing to be sent, once there is one."""
        while not self._writes:
            self._asked.clear()
            await self._asked.wait()
        return self._writes.popleft()

    def abort(self) -> None:
        """Stop the work."""
        self._task.cancel()

    async def closed(self) -> None:
        """Wait until the work has closed what it opened."""
        with contextlib.suppress(TimeoutError, asyncio.CancelledError):
            async with asyncio.timeout(_CLOSING_S):
                await asyncio.gather(self._task, return_exceptions=True)

    def pause_reading(self) -> None:
        """Nothing to do: :meth:`feed` looks whether there is room."""

    def resume_reading(self) -> None:
        """Nothing to do: :meth:`feed` looks whether there is room."""

    async def _run(self, work: Callable[[Fed], Awaitable[None]]) -> None:
        failure: Exception = ConnectionError("closed by the other end")
        try:
            await work(self)
        except Exception as error:  # any of the libraries' own kinds
            failure = error
        if not self._ready.done():
            known = isinstance(failure, OSError | WaywrightError)
            self._ready.set_exception(failure if known else OSError(_reason(failure)))
        else:
            self._inbox.connection_lost(ConnectionError(_reason(failure)))


def _reason(failure: Exception) -> str:
    while isinstance(failure, ExceptionGroup):
        failure = failure.exceptions[0]
    return str(failure) or type(failure).__name__
