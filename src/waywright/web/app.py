"""The application: pages, live figures and REST in one server."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI, Response, WebSocket
from fastapi.staticfiles import StaticFiles
from nicegui import ui

from waywright import __version__
from waywright.drawing import font_folder
from waywright.web import pages
from waywright.web.desk import Desk
from waywright.web.live_socket import serve_live
from waywright.web.theme import STATIC, style_sheet


def make_app(desk: Desk) -> FastAPI:
    """Everything that is served, around one desk."""

    @asynccontextmanager
    async def alive(_: FastAPI) -> AsyncIterator[None]:
        yield
        await desk.close()

    app = FastAPI(
        title="Waywright", version=__version__, docs_url=None, redoc_url=None, openapi_url=None, lifespan=alive
    )
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    app.mount("/fonts", StaticFiles(directory=font_folder()), name="fonts")

    @app.get("/theme.css", include_in_schema=False)
    def theme() -> Response:
        return Response(style_sheet(), media_type="text/css", headers={"Cache-Control": "no-cache"})

    @app.websocket("/live")
    async def live(socket: WebSocket) -> None:
        await serve_live(desk, socket)

    pages.register(desk)
    ui.run_with(app, title="Waywright", favicon=STATIC / "favicon.svg", dark=False, tailwind=False, language="en-US",
                show_welcome_message=False, reconnect_timeout=20.0)  # fmt: skip
    return app
