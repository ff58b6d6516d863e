"""A server that answers its first page at once and loads the rest of itself when that is out."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

from starlette.types import ASGIApp, Receive, Scope, Send

FIRST_PAGE = "/"
_EARLY = ("/static/", "/fonts/", "/theme.css", "/_nicegui")
_SHOWN_S = 0.5
"""From the answer until a browser has fetched what the first page is made of."""


class Growing:
    """``whole`` makes the rest of ``app``, in a thread. What is asked meanwhile waits for it."""

    def __init__(self, app: ASGIApp, whole: Callable[[], None]) -> None:
        self._app = app
        self._whole = whole
        self._growing: asyncio.Task[None] | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer, once there is an answer."""
        path = scope.get("path")
        if path is not None and path != FIRST_PAGE and not path.startswith(_EARLY):
            await asyncio.shield(self._grown())
        await self._app(scope, receive, send)
        if path == FIRST_PAGE:
            asyncio.get_running_loop().call_later(_SHOWN_S, self._grown)

    def _grown(self) -> asyncio.Task[None]:
        if self._growing is None:
            self._growing = asyncio.create_task(asyncio.to_thread(self._whole))
        return self._growing
