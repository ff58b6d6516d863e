"""REST: what is measured now, as one picture or as a stream of them (server-sent events)."""

from __future__ import annotations

import asyncio
import json
import time
from collections.abc import AsyncIterator
from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import StreamingResponse

from waywright.web.desk import Desk
from waywright.web.live_socket import EVERY_S, picture_of

STILL_HERE_S = 15.0
"""A line without meaning after so long, so that nobody on the way thinks that the stream is dead."""


class LiveFigures:
    """Pictures of what is measured now; nothing queues up for whoever reads slowly."""

    def __init__(self, desk: Desk, router: APIRouter) -> None:
        self._desk = desk
        router.add_api_route("/live", self.now, response_model=dict[str, Any], tags=["live"])
        events = {"description": "Events whose data is a picture as `/live` answers it.", "content": {_EVENTS: {}}}
        router.add_api_route(
            "/live/stream", self.stream, response_class=StreamingResponse, responses={200: events}, tags=["live"]
        )

    def now(self) -> dict[str, Any]:
        """What is measured now; figures are positive as the screen says, null where there is nothing."""
        return picture_of(self._desk.state, self._desk.revision)

    async def stream(self, seconds: Annotated[float, Query(gt=0, le=86_400)] = 3600.0) -> StreamingResponse:
        """The same as server-sent events, at most forty a second, whenever something has changed; it ends by itself
        after so many seconds."""
        return StreamingResponse(self._pictures(seconds), media_type=_EVENTS, headers={"Cache-Control": "no-store"})

    async def _pictures(self, seconds: float) -> AsyncIterator[str]:
        began_s = said_s = time.monotonic()
        sent: dict[str, Any] = {}
        while not self._desk.ending and (now_s := time.monotonic()) - began_s < seconds:
            picture = picture_of(self._desk.state, self._desk.revision)
            if picture != sent:
                sent, said_s = picture, now_s
                yield f"data: {json.dumps(picture, ensure_ascii=False)}\n\n"
            elif now_s - said_s > STILL_HERE_S:
                said_s = now_s
                yield ": \n\n"
            await asyncio.sleep(EVERY_S)


_EVENTS = "text/event-stream"
