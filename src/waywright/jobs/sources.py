"""Instruments kept open over several passes, so that the next pass begins while the axis still stands."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncIterator, Sequence
from types import TracebackType
from typing import Self

from waywright.instruments import Happening, SampleBatch, Source

_WAITING = 512


class KeptOpen:
    """One source, listened to all the time; whoever iterates hears it from then on, one listener at a time.

    What comes while nobody iterates is dropped, except for the last happening of the link ("connected", "not reached").
    What is standing (where the position comes from) is told to every listener, so that every pass records it.
    """

    def __init__(self, source: Source) -> None:
        self.name = source.name
        self.channels = source.channels
        self.rate_hz = source.rate_hz
        self._source = source
        self._listener: asyncio.Queue[SampleBatch | Happening | None] | None = None
        self._missed: Happening | None = None
        self._standing: Happening | None = None
        self.failure: Exception | None = None
        """Why the source has ended; None while it is listened to."""

    async def listen(self) -> None:
        """Hear the source for ever; an error is handed to the listener."""
        try:
            async for item in self._source:
                await self._hand_on(item)
        except Exception as failure:
            self.failure = failure
            if self._listener is not None:
                await self._listener.put(None)

    async def _hand_on(self, item: SampleBatch | Happening) -> None:
        if isinstance(item, Happening):
            self._standing = item if item.standing else None
        if self._listener is not None:
            await self._listener.put(item)
        elif isinstance(item, Happening):
            self._missed = item

    async def __aiter__(self) -> AsyncIterator[SampleBatch | Happening]:
        """Batches and happenings from now on."""
        queue: asyncio.Queue[SampleBatch | Happening | None] = asyncio.Queue(_WAITING)
        self._listener = queue
        missed, self._missed = self._missed, None
        try:
            if missed is not None and missed is not self._standing:
                yield missed
            if self._standing is not None:
                yield self._standing
            while self.failure is None or not queue.empty():
                if (item := await queue.get()) is not None:
                    yield item
            raise self.failure
        finally:
            self._listener = None
            while not queue.empty():  # what waits for room in it would wait for ever, and silence the source
                queue.get_nowait()


class OpenInstruments:
    """Keeps sources open; an asynchronous context manager."""

    def __init__(self, sources: Sequence[Source]) -> None:
        self.sources = tuple(KeptOpen(source) for source in sources)
        self._tasks: list[asyncio.Task[None]] = []

    async def __aenter__(self) -> Self:
        self._tasks = [asyncio.create_task(source.listen()) for source in self.sources]
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None
    ) -> None:
        for task in self._tasks:
            task.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await asyncio.gather(*self._tasks, return_exceptions=True)
