"""Instruments behind VISA that are asked in SCPI or the like. The library blocks, so it has its own thread."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor
from typing import Any

from waywright.clocks import Clock
from waywright.instruments.link_records import VisaLink
from waywright.instruments.links.fed import Fed
from waywright.instruments.links.inbox import Inbox
from waywright.instruments.links.reconnecting import Asking, Reconnecting

_MOST_TIMEOUTS = 3


def visa_link(stated: VisaLink, clock: Clock, source: str, quiet_s: float, asking: Asking) -> Reconnecting:
    """The link to a VISA resource that is asked at even intervals."""

    async def open_visa(inbox: Inbox) -> None:
        await Fed.open(inbox, _Asker(stated, clock, asking).work)

    return Reconnecting(open_visa, clock, source, stated.resource, quiet_s)


class _Asker:
    """One opening of a resource."""

    def __init__(self, stated: VisaLink, clock: Clock, asking: Asking) -> None:
        self._stated = stated
        self._clock = clock
        self._asking = asking
        self._timeouts = 0
        self._resource: Any = None

    async def work(self, fed: Fed) -> None:
        """Ask until the resource fails, and close it."""
        # One thread: closing waits its turn behind a read that has not timed out yet.
        thread = ThreadPoolExecutor(1, "visa")
        try:
            await asyncio.get_running_loop().run_in_executor(thread, self._open)
            await self._ask(fed, thread)
        finally:
            thread.submit(self._close)
            thread.shutdown(wait=False)

    def _open(self) -> None:
        import pyvisa

        try:
            resource = pyvisa.ResourceManager(self._stated.library).open_resource(self._stated.resource)
        except (pyvisa.Error, ValueError, LookupError) as failure:
            raise OSError(str(failure)) from failure
        resource.timeout = 1000.0 * self._stated.timeout_s
        resource.read_termination = self._stated.read_ends_with  # type: ignore[attr-defined]
        resource.write_termination = ""  # type: ignore[attr-defined]  # the description says all that is sent
        self._resource = resource

    def _close(self) -> None:
        if self._resource is not None:
            self._resource.close()
            self._resource = None

    def _recover(self) -> None:
        """Make sure that a late answer is not taken for the next one.

        A raw socket is opened anew: its library would clear a socket that the other end has closed for ever.
        """
        if self._stated.resource.upper().endswith("::SOCKET"):
            self._close()
            self._open()
        elif self._resource is not None:
            self._resource.clear()

    async def _ask(self, fed: Fed, thread: ThreadPoolExecutor) -> None:
        next_s = self._clock.monotonic_s()
        while True:
            while (told := fed.to_write()) is not None:
                await self._exchange(fed, thread, *told)
            await self._exchange(fed, thread, self._asking.data, True)
            next_s = max(next_s + self._asking.period_s, self._clock.monotonic_s())
            await self._clock.sleep(next_s - self._clock.monotonic_s())

    async def _exchange(self, fed: Fed, thread: ThreadPoolExecutor, data: bytes, answered: bool) -> None:
        answer = await asyncio.get_running_loop().run_in_executor(thread, self._say, data, answered)
        if answer is not None:
            # A socket that nobody listens at opens all the same: only an answer says that somebody is there.
            fed.opened()
            fed.feed(answer)

    def _say(self, data: bytes, answered: bool) -> bytes | None:
        """Send, and read the answer; None after a time-out. Raises ConnectionError after several in a row."""
        import pyvisa

        try:
            self._resource.write_raw(data)
            answer: bytes | None = self._resource.read().encode() if answered else None
        except pyvisa.errors.VisaIOError as failure:
            if failure.error_code != pyvisa.constants.StatusCode.error_timeout:
                raise ConnectionError(failure.description) from failure
            self._timeouts += 1
            if self._timeouts >= _MOST_TIMEOUTS:
                raise ConnectionError("no answer") from failure
            self._recover()
            return None
        self._timeouts = 0
        return answer
