"""Listening to instruments in tests: a TCP peer that follows a script, and what a source says until it is enough."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable, Coroutine
from contextlib import aclosing, asynccontextmanager
from typing import Any

import numpy as np

from waywright.instruments import Happening, InstrumentSource, SampleBatch

PATIENCE_S = 60.0
Say = Callable[[bytes], Awaitable[None]]


def run(conversation: Coroutine[Any, Any, None]) -> None:
    async def with_patience() -> None:
        async with asyncio.timeout(PATIENCE_S):
            await conversation

    asyncio.run(with_patience())


@asynccontextmanager
async def tcp_peer(script: Callable[[Say, int], Awaitable[None]]) -> AsyncIterator[int]:
    """A server that follows a script with each caller (given the number of the call), then hangs up."""
    calls = 0

    async def serve(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        nonlocal calls
        calls += 1

        async def say(data: bytes) -> None:
            writer.write(data)
            await writer.drain()

        try:
            await script(say, calls - 1)
        except ConnectionError:
            pass
        finally:
            writer.close()

    server = await asyncio.start_server(serve, "127.0.0.1", 0)
    try:
        yield server.sockets[0].getsockname()[1]
    finally:
        server.close()


async def heard(
    source: InstrumentSource, enough: Callable[[list[Any]], bool], connected: asyncio.Event | None = None
) -> tuple[list[SampleBatch], list[Happening]]:
    """What a source says until it is enough; then the link is closed."""
    said: list[Any] = []
    async with aclosing(aiter(source)) as items:  # type: ignore[type-var]
        async for item in items:
            said.append(item)
            if connected is not None and isinstance(item, Happening) and item.key == "instruments.connected":
                connected.set()
            if enough(said):
                break
    batches = [item for item in said if isinstance(item, SampleBatch)]
    return batches, [item for item in said if isinstance(item, Happening)]


def samples(said: list[Any]) -> int:
    return sum(len(item.time_s) for item in said if isinstance(item, SampleBatch))


def happened(key: str, times: int = 1) -> Callable[[list[Any]], bool]:
    return lambda said: sum(isinstance(item, Happening) and item.key == key for item in said) == times


def values(batches: list[SampleBatch]) -> np.ndarray:
    return np.concatenate([batch.value for batch in batches])
