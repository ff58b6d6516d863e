"""Listening for a while on a page: the averages of some channels, with a bar that fills."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Sequence

from waywright.errors import BadInput
from waywright.jobs.recorder import Average
from waywright.web.desk import Desk

_LOOK_S = 0.1
_PATIENCE = 3.0


async def listened(desk: Desk, channel: str, seconds: float, filled: Callable[[float], object]) -> tuple[float, float]:
    """Wait until a channel was heard for so long, on the instruments' clock; when it began and ended.

    ``filled`` hears the share of the time that has passed. Raises BadInput where nothing is connected or it falls
    silent.
    """
    session = desk.session
    began_s = session.recorder.now_s(channel) if session else None
    if session is None or began_s is None:
        raise BadInput("trust.not_connected")
    waited_s = 0.0
    while True:
        now_s = session.recorder.now_s(channel) or began_s
        filled(min(1.0, (now_s - began_s) / seconds))
        if now_s >= began_s + seconds:
            return began_s, now_s
        if waited_s > _PATIENCE * seconds / session.clock.factor + _PATIENCE:
            raise BadInput("trust.silent", channel=channel)
        await asyncio.sleep(_LOOK_S)
        waited_s += _LOOK_S


async def averages(
    desk: Desk, channels: Sequence[str], seconds: float, filled: Callable[[float], object], *, settle_s: float = 0.0
) -> dict[str, Average]:
    """The average of each channel over so many seconds, once ``settle_s`` have passed. Raises BadInput like
    :func:`listened`.
    """
    began_s, ended_s = await listened(desk, channels[0], settle_s + seconds, filled)
    session = desk.session
    if session is None:
        raise BadInput("trust.not_connected")
    return {channel: session.recorder.average(channel, began_s + settle_s, ended_s) for channel in channels}
