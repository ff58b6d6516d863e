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

    One that fails is logged: readings are taken whatever it makes of them.
    """

    def __init__(self, screen: PassScreen) -> None:
        self._screen = screen
        self._found: list[Screened] = []
        self._last: asyncio.Task[None] | None = None

    def look(self, readings: Sequence[Reading], time_s: float) -> None:
        """Look at the readings so far, after earlier looks."""
        self._add(self._screen.look, readings, time_s)

    def take(self) -> list[Screened]:
        """What was found since it was asked last."""
        found, self._found = self._found, []
        return found

    async def end(self, readings: Sequence[Reading], time_s: float) -> list[Screened]:
        """Wait for the looks under way, look at the pass as a whole, and say what was found."""
        if readings:
            self._add(self._screen.at_end, readings, time_s)
        if self._last is not None:
            await self._last
        return self.take()

    def _add(
        self, look: Callable[[Sequence[Reading]], tuple[Told, ...]], readings: Sequence[Reading], time_s: float
    ) -> None:
        self._last = asyncio.create_task(self._after(self._last, look, readings, time_s))

    async def _after(
        self,
        before: asyncio.Task[None] | None,
        look: Callable[[Sequence[Reading]], tuple[Told, ...]],
        readings: Sequence[Reading],
        time_s: float,
    ) -> None:
        if before is not None:
            await before
        try:
            told = await asyncio.to_thread(look, readings)
        except Exception:
            _log.exception("readings could not be screened; the pass goes on")
        else:
            self._found.append(Screened(time_s, told, self._screen.again_mm))
