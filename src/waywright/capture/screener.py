"""Looks at readings in a thread, one look after the other, so that samples never wait for a look."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from waywright.capture.screening import PassScreen
from waywright.capture.telling import Told
from waywright.readings import Reading

_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Screened:
    """What a look found, and which stations are to be taken again; ``time_s`` is that of the reading."""

    time_s: float
    told: tuple[Told, ...]
    again_mm: tuple[float, ...]


class Screener:
    """A screen that works beside a running pass, on its event loop.

    One that fails is logged: readings are taken whatever it makes of them. Where a look takes longer than a station,
    only the newest readings are looked at next. ``patience_s`` of wall time is all that the end of a pass waits for.
    """

    def __init__(self, screen: PassScreen, patience_s: float) -> None:
        self._screen = screen
        self._patience_s = patience_s
        self._found: list[Screened] = []
        self._next: tuple[Sequence[Reading], float] | None = None
        self._working: asyncio.Task[None] | None = None

    def look(self, readings: Sequence[Reading], time_s: float) -> None:
        """Look at the readings so far, as soon as the look under way is over."""
        self._next = (readings, time_s)
        if self._working is None or self._working.done():
            self._working = asyncio.create_task(self._work())

    def take(self) -> list[Screened]:
        """What was found since it was asked last."""
        found, self._found = self._found, []
        return found

    async def end(self, readings: Sequence[Reading], time_s: float) -> list[Screened]:
        """Finish the looks, look at the pass as a whole, and say what was found.

        What takes longer than the patience is left out: the next pass must not wait, and a kept pass can be watched
        again at any time.
        """
        whole = asyncio.create_task(self._whole(readings, time_s))
        done, _ = await asyncio.wait({whole}, timeout=self._patience_s)
        if not done:
            _log.info("the look at the whole pass took too long and was left out")
        return self.take()

    async def _work(self) -> None:
        while self._next is not None:
            (readings, time_s), self._next = self._next, None
            await self._one(self._screen.look, readings, time_s)

    async def _whole(self, readings: Sequence[Reading], time_s: float) -> None:
        if self._working is not None:
            await self._working
        if readings:
            await self._one(self._screen.at_end, readings, time_s)

    async def _one(
        self, look: Callable[[Sequence[Reading]], tuple[Told, ...]], readings: Sequence[Reading], time_s: float
    ) -> None:
        try:
            told = await asyncio.to_thread(look, readings)
        except Exception:
            _log.exception("readings could not be screened; the pass goes on")
        else:
            self._found.append(Screened(time_s, told, self._screen.again_mm))
