"""A link that opens itself again, with growing pauses, and says what happened."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import aclosing

from waywright.clocks import Clock
from waywright.instruments.batches import Happening
from waywright.instruments.links.inbox import Chunk, Inbox

Opener = Callable[[Inbox], Awaitable[None]]

_FIRST_PAUSE_S = 0.5
_LONGEST_PAUSE_S = 15.0
# Wall time that an instrument may take to answer a call, and that a computer may be busy without blaming a link.
_OPENING_S = 5.0
_STALL_S = 5.0


class Reconnecting:
    """Chunks of one instrument for as long as somebody wants them.

    ``opener`` connects an inbox or raises OSError; ``quiet_s`` (of the clock) without a byte opens the link again,
    because a receiver never notices that the other end of a pulled cable has gone.
    """

    def __init__(self, opener: Opener, clock: Clock, source: str, address: str, quiet_s: float) -> None:
        self._opener = opener
        self._clock = clock
        self._place: dict[str, str | float] = {"source": source, "address": address}
        self._quiet_s = quiet_s
        self._pause_s = _FIRST_PAUSE_S
        self._told_unreached = False

    async def chunks(self) -> AsyncGenerator[Chunk | Happening, None]:
        """Chunks and happenings, for ever."""
        while True:
            inbox = Inbox(self._clock)
            try:
                refusal = await self._open(inbox)
                if refusal is None:
                    self._told_unreached = False
                    yield self._happening("instruments.connected")
                    async with aclosing(self._listen(inbox)) as heard:
                        async for item in heard:
                            yield item
                elif not self._told_unreached:
                    self._told_unreached = True
                    yield self._happening("instruments.not_reached", reason=refusal)
            finally:
                inbox.close()
            await self._clock.sleep(self._pause_s)
            self._pause_s = min(2.0 * self._pause_s, _LONGEST_PAUSE_S)

    async def _open(self, inbox: Inbox) -> str | None:
        """Open the link; the reason if that failed."""
        try:
            async with asyncio.timeout(_OPENING_S):
                await self._opener(inbox)
        except TimeoutError:
            return "no answer"
        except OSError as failure:
            return failure.strerror or str(failure)
        return None

    async def _listen(self, inbox: Inbox) -> AsyncGenerator[Chunk | Happening, None]:
        """Chunks until the link is lost or has been quiet for too long; the reason last."""
        while True:
            try:
                chunk = await inbox.fetch(max(_STALL_S, self._quiet_s / self._clock.factor))
            except ConnectionError as failure:
                yield self._happening("instruments.link_lost", reason=str(failure))
                return
            if chunk is None:
                yield self._happening("instruments.link_quiet", duration_s=self._quiet_s)
                return
            self._pause_s = _FIRST_PAUSE_S
            yield chunk

    def _happening(self, key: str, **facts: str | float) -> Happening:
        return Happening(key, {**self._place, **facts})
