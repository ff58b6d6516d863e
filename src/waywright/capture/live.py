"""What a screen shows while a pass is taken."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from waywright.capture import events as made
from waywright.instruments import SampleBatch


@dataclass(frozen=True, slots=True)
class Live:
    """``state`` is "waiting" (nothing known yet), "moving", "averaging", "taken", "resting" or "silent".

    ``position_mm`` and ``latest`` (channel to value) are the newest samples; ``progress`` of the window is 0 to 1,
    ``again`` says that it is taken again; ``silent`` names sources that are silent; ``readings`` were taken so far.
    ``again_mm`` are stations (as the position source reads) that the screen of readings wants to be taken again.
    """

    time_s: float = 0.0
    state: str = "waiting"
    position_mm: float | None = None
    progress: float = 0.0
    again: bool = False
    readings: int = 0
    silent: tuple[str, ...] = ()
    latest: dict[str, float] = field(default_factory=dict)
    again_mm: tuple[float, ...] = ()


Watcher = Callable[[Live], None]


def with_batch(live: Live, batch: SampleBatch, position_channel: str) -> Live:
    """The newest values of a batch."""
    newest = {name: float(value) for name, value in zip(batch.channels, batch.value[-1], strict=True)}
    position_mm = newest.get(position_channel, live.position_mm)
    if position_mm is not None and not np.isfinite(position_mm):
        position_mm = live.position_mm
    time_s = max(live.time_s, float(batch.time_s[-1]))
    return replace(live, time_s=time_s, position_mm=position_mm, latest={**live.latest, **newest})


def with_event(live: Live, event: made.Event) -> Live:  # noqa: PLR0911 - one line for each kind of event
    """The state after an event."""
    match event:
        case made.Moving() | made.HandMoved():
            return replace(live, state="moving", progress=0.0, again=False)
        case made.Still():
            return replace(live, state="averaging", progress=0.0, again=False)
        case made.Averaging():
            return replace(live, state="averaging", progress=event.progress, again=event.again)
        case made.Accepted():
            return replace(live, state="taken", progress=1.0, again=False, readings=live.readings + 1)
        case made.TooSmallStep():
            return replace(live, state="resting", progress=0.0)
        case made.Silent():
            return replace(live, state="silent", silent=(*live.silent, event.source))
        case made.Returned():
            left = tuple(name for name in live.silent if name != event.source)
            return replace(live, state=live.state if left else "moving", silent=left)
    return live
