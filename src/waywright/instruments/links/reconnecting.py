"""A link that opens itself again, with growing pauses, and says what happened."""

from __future__ import annotations

import asyncio
import contextlib
from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import aclosing
from dataclasses import dataclass

from waywright.clocks import Clock
from waywright.instruments.batches import Happening
from waywright.instruments.links.inbox import Chunk, Inbox

REOPENED = "reopened"
"""Key of a happening between link and source: the link was opened once more without success so far."""

Opener = Callable[[Inbox], Awaitable[None]]

_FIRST_PAUSE_S = 0.5
_LONGEST_PAUSE_S = 15.0
# Wall time that an instrument may take to answer a call, and that a computer may be busy without blaming a link.
_OPENING_S = 5.0
_STALL_S = 5.0
_TICK_S = 0.25


@dataclass(frozen=True, slots=True)
class Asking:
    """``data`` is sent every ``period_s``, once the last was answered or ``timeout_s`` have passed."""

    data: bytes
    period_s: float
    timeout_s: float


class Reconnecting:
    """Chunks of one instrument for as long as somebody wants them.

    ``opener`` connects an inbox or raises OSError; ``quiet_s`` (of the clock) without a byte opens the link again,
    because a receiver never notices that the other end of a pulled cable has gone. ``asking`` is what has to be sent
    for every line. ``closer`` ends what outlives a single opening; ``standing`` is told with every opening.
    """

    def __init__(
        self,
        opener: Opener,
        clock: Clock,
        source: str,
        address: str,
        quiet_s: float,
        *,
        asking: Asking | None = None,
        closer: Callable[[], Awaitable[None]] | None = None,
        standing: str | None = None,
    ) -> None:
        self._opener = opener
        self._clock = clock
        self._place: dict[str, str | float] = {"source": source, "address": address}
        self._quiet_s = quiet_s
        self._pause_s = _FIRST_PAUSE_S
        self._told_unreached = False
        # The last opening brought nothing and that was told: openings are not told again until something comes.
        self._told_barren = False
        self._asking = asking
        self._closer = closer
        self._standing = standing
        self._inbox: Inbox | None = None

    def send(self, data: bytes, expects_answer: bool = False) -> None:
        """Send bytes now. Raises ConnectionError if the link is not open."""
        if self._inbox is None:
            raise ConnectionError("not open")
        self._inbox.send(data, expects_answer)

    async def chunks(self) -> AsyncGenerator[Chunk | Happening, None]:
        """Chunks and happenings, for ever."""
        try:
            while True:
                async with aclosing(self._once()) as heard:
                    async for item in heard:
                        yield item
                await self._clock.sleep(self._pause_s)
                self._pause_s = min(2.0 * self._pause_s, _LONGEST_PAUSE_S)
        finally:
            if self._closer is not None:
                await self._closer()

    async def _once(self) -> AsyncGenerator[Chunk | Happening, None]:
        """One opening, until it fails or the link is lost."""
        inbox = Inbox(self._clock)
        try:
            refusal = await self._open(inbox)
            if refusal is None:
                self._told_unreached = False
                self._inbox = inbox
                for told in self._opened():
                    yield told
                async with aclosing(self._listen(inbox)) as heard:
                    async for item in heard:
                        yield item
            elif not self._told_unreached:
                self._told_unreached = True
                yield self._happening("instruments.not_reached", reason=refusal)
        finally:
            self._inbox = None
            await inbox.close()

    def _opened(self) -> list[Happening]:
        """What is to be told of a link that is open."""
        if self._told_barren:
            return [self._happening(REOPENED)]
        standing = [Happening(self._standing, dict(self._place), standing=True)] if self._standing is not None else []
        return [self._happening("instruments.connected"), *standing]

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
        """Chunks until the link is lost or has been quiet for too long; the reason last.

        While nothing comes an empty chunk tells the time, so that nobody waits for a line that would complete others.
        """
        barren = True
        quiet, longest = 0, max(_STALL_S, self._quiet_s / self._clock.factor) / _TICK_S
        asking = asyncio.create_task(self._ask(inbox, self._asking)) if self._asking else None
        try:
            while True:
                try:
                    chunk = await inbox.fetch(_TICK_S)
                except ConnectionError as failure:
                    for told in self._ended(barren, "instruments.link_lost", reason=str(failure)):
                        yield told
                    return
                # Ticks are counted: a computer that slept has not listened.
                quiet = quiet + 1 if chunk is None else 0
                if quiet >= longest:
                    for told in self._ended(barren, "instruments.link_quiet", duration_s=self._quiet_s):
                        yield told
                    return
                if chunk is not None:
                    self._pause_s = _FIRST_PAUSE_S
                    if self._told_barren:
                        self._told_barren = False
                        for told in self._opened():
                            yield told
                    barren = False
                yield chunk or Chunk(b"", self._clock.monotonic_s())
        finally:
            if asking is not None:
                asking.cancel()

    def _ended(self, barren: bool, key: str, **facts: str | float) -> list[Happening]:
        """What is to be told of an opening that ended; of a row of openings that bring nothing only the first is."""
        told = [] if barren and self._told_barren else [self._happening(key, **facts)]
        self._told_barren = barren
        return told

    async def _ask(self, inbox: Inbox, asking: Asking) -> None:
        """Ask again and again, at even intervals, one question at a time."""
        next_s = self._clock.monotonic_s()
        while True:
            inbox.line_ended.clear()
            try:
                inbox.send(asking.data)
            except ConnectionError:
                return
            with contextlib.suppress(TimeoutError):
                async with asyncio.timeout(asking.timeout_s):
                    await inbox.line_ended.wait()
            next_s = max(next_s + asking.period_s, self._clock.monotonic_s())
            await self._clock.sleep(next_s - self._clock.monotonic_s())

    def _happening(self, key: str, **facts: str | float) -> Happening:
        return Happening(key, {**self._place, **facts})
