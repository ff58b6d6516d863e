"""How much later than one instrument another one says what it measured: both listen to the same motion."""

from __future__ import annotations

import asyncio
from contextlib import aclosing
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

import numpy as np

from waywright.clocks import Clock
from waywright.errors import BadInput
from waywright.instruments import Delay, InstrumentSource, SampleBatch, estimate_delay, read_instrument


@dataclass(frozen=True, slots=True)
class LinkDelay:
    """``second`` lags ``first`` (channels) by ``delay_s``; None with the reason, a wording key, if not determinable."""

    first: str
    second: str
    delay_s: float | None
    standard_uncertainty_s: float | None
    reason: str | None


async def link_delay(first: Path, second: Path, channel: str | None, seconds: float, clock: Clock) -> LinkDelay:
    """Listen to two instruments for so long. The first needs a position channel; ``channel`` is one of the second.

    Raises BadInput for a channel that is not there.
    """
    sources = [InstrumentSource(read_instrument(path), clock) for path in (first, second)]
    position = next((name for name in sources[0].channels if name.endswith("_mm")), None)
    wanted = channel or sources[1].channels[0]
    if position is None or wanted not in sources[1].channels:
        known = ", ".join(sources[0].channels if position is None else sources[1].channels)
        raise BadInput("instruments.no_channel", channel=channel or "..._mm", allowed=known)
    heard = await asyncio.gather(
        _heard(sources[0], position, seconds / clock.factor), _heard(sources[1], wanted, seconds / clock.factor)
    )
    found: Delay = estimate_delay(*heard[0], *heard[1])
    return LinkDelay(position, wanted, found.delay_s, found.standard_uncertainty_s, found.reason)


async def _heard(source: InstrumentSource, channel: str, wall_s: float) -> tuple[Any, Any]:
    """Times and values of a channel."""
    times, values = [np.empty(0)], [np.empty(0)]
    at = source.channels.index(channel)
    try:
        async with asyncio.timeout(wall_s), aclosing(cast(Any, aiter(source))) as items:
            async for item in items:
                if isinstance(item, SampleBatch):
                    times.append(item.time_s)
                    values.append(item.value[:, at])
    except TimeoutError:
        pass
    return np.concatenate(times), np.concatenate(values)
