"""Samples of a few channels over a while, outside a pass: averages, and whether the beam was lost meanwhile."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import aclosing
from types import TracebackType
from typing import Any, Self, cast

import numpy as np

from waywright.clocks import Clock
from waywright.instruments import SampleBatch, Source
from waywright.readings import Floats

_LOOK_WALL_S = 0.1
_LEAST_SAMPLES = 5
# A line that was sent before may still be on its way for so long.
_ON_ITS_WAY_WALL_S = 0.15


class BeamLostError(Exception):
    """A channel had no value; its name is the text."""


class Listening:
    """Hears sources from entering to leaving; an asynchronous context manager."""

    def __init__(self, sources: Sequence[Source], channels: Iterable[str], clock: Clock) -> None:
        self._sources = tuple(sources)
        self._channels = tuple(channels)
        self._clock = clock
        self._queue: asyncio.Queue[SampleBatch] = asyncio.Queue(256)
        self._pumps: list[asyncio.Task[None]] = []

    async def __aenter__(self) -> Self:
        self._pumps = [asyncio.create_task(self._pump(source)) for source in self._sources]
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None
    ) -> None:
        for pump in self._pumps:
            pump.cancel()
        await asyncio.gather(*self._pumps, return_exceptions=True)

    async def samples(self, duration_s: float, check: Callable[[], None]) -> dict[str, Floats]:
        """What every channel says (n,) for so long from now, at least five samples of each; ``check`` may raise.

        What was measured before does not count, also if it arrives now. Raises BeamLostError where a channel has no
        value, then or now.
        """
        kept: dict[str, list[Floats]] = {name: [] for name in self._channels}
        from_s = self._clock.monotonic_s() + _ON_ITS_WAY_WALL_S * self._clock.factor
        while self._clock.monotonic_s() < from_s + duration_s or _fewest(kept) < _LEAST_SAMPLES:
            check()
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(_LOOK_WALL_S):
                    _take(await self._queue.get(), kept, from_s)
        return {name: np.concatenate(parts) for name, parts in kept.items()}

    async def _pump(self, source: Source) -> None:
        items = cast(Any, aiter(source))
        async with aclosing(items) if hasattr(items, "aclose") else contextlib.nullcontext():
            async for item in items:
                if isinstance(item, SampleBatch) and len(item.time_s):
                    await self._queue.put(item)


def _take(batch: SampleBatch, kept: dict[str, list[Floats]], from_s: float) -> None:
    for at, name in enumerate(batch.channels):
        if name in kept:
            value = batch.value[:, at]
            if not np.isfinite(value).all():
                raise BeamLostError(name)
            kept[name].append(value[batch.time_s >= from_s])


def _fewest(kept: Mapping[str, list[Floats]]) -> int:
    return min(sum(part.size for part in parts) for parts in kept.values())
