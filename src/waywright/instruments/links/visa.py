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

    async def work(self, fed: Fed) -> None:
        """Ask until the resource fails, and close it."""
        loop = asyncio.get_running_loop()
        # One thread: closing waits its turn behind a read that has not timed out yet.
        with_thread = ThreadPoolExecutor(1, "visa")
        try:
            resource = await loop.run_in_executor(with_thread, self._open)
            try:
                fed.opened()
                await self._ask(fed, resource, with_thread)
            finally:
                with_thread.submit(resource.close)
        finally:
            with_thread.shutdown(wait=False)

    def _open(self) -> Any:
        import pyvisa

        try:
            resource = pyvisa.ResourceManager(self._stated.library).open_resource(self._stated.resource)
        except (pyvisa.Error, ValueError, LookupError) as failure:
            raise OSError(str(failure)) from failure
        resource.timeout = 1000.0 * self._stated.timeout_s
        resource.read_termination = self._stated.read_ends_with  # type: ignore[attr-defined]
        resource.write_termination = ""  # type: ignore[attr-defined]  # the description says all that is sent
        return resource

    async def _ask(self, fed: Fed, resource: Any, with_thread: ThreadPoolExecutor) -> None:
        next_s = self._clock.monotonic_s()
        while True:
            while (told := fed.to_write()) is not None:
                await self._exchange(fed, resource, with_thread, *told)
            await self._exchange(fed, resource, with_thread, self._asking.data, True)
            next_s = max(next_s + self._asking.period_s, self._clock.monotonic_s())
            await self._clock.sleep(next_s - self._clock.monotonic_s())

    async def _exchange(
        self, fed: Fed, resource: Any, with_thread: ThreadPoolExecutor, data: bytes, answered: bool
    ) -> None:
        loop = asyncio.get_running_loop()
        answer = await loop.run_in_executor(with_thread, self._say, resource, data, answered)
        if answer is not None:
            fed.feed(answer)

    def _say(self, resource: Any, data: bytes, answered: bool) -> bytes | None:
        """Send, and read the answer. After a time-out the device is cleared: a late answer would be taken for the next.

        Raises ConnectionError after several time-outs in a row.
        """
        import pyvisa

        try:
            resource.write_raw(data)
            answer: bytes | None = resource.read().encode() if answered else None
        except pyvisa.errors.VisaIOError as failure:
            if failure.error_code != pyvisa.constants.StatusCode.error_timeout:
                raise ConnectionError(failure.description) from failure
            self._timeouts += 1
            if self._timeouts >= _MOST_TIMEOUTS:
                raise ConnectionError("no answer") from failure
            resource.clear()
            return None
        self._timeouts = 0
        return answer
