"""The application: pages, live figures and REST in one server."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI, Response
from fastapi.staticfiles import StaticFiles
from nicegui import ui
from starlette.routing import Mount
from starlette.types import ASGIApp

from waywright import __version__
from waywright.drawing import font_folder
from waywright.web.access import Guarded
from waywright.web.desk import Desk
from waywright.web.growing import Growing
from waywright.web.pages import start
from waywright.web.pairing import Pairings
from waywright.web.problems import answer_problems
from waywright.web.theme import STATIC, style_sheet


def make_app(desk: Desk, phone_address: str | None = None, pairings: Pairings | None = None) -> ASGIApp:
    """Everything that is served, around one desk and behind its doors.

    The first page is there at once, the others as soon as what they need has been loaded. ``phone_address`` is where
    phones reach this computer, None where only this computer does.
    """
    known = pairings or Pairings()

    @asynccontextmanager
    async def alive(_: FastAPI) -> AsyncIterator[None]:
        desk.loop = asyncio.get_running_loop()
        yield
        await desk.close()

    app = FastAPI(
        title="Waywright", version=__version__, docs_url=None, redoc_url=None, openapi_url=None, lifespan=alive
    )
    answer_problems(app)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    app.mount("/fonts", StaticFiles(directory=font_folder()), name="fonts")

    @app.get("/theme.css", include_in_schema=False)
    def theme() -> Response:
        return Response(style_sheet(), media_type="text/css", headers={"Cache-Control": "no-cache"})

    start.register(desk)
    ui.run_with(app, title="Waywright", favicon=STATIC / "favicon.svg", dark=False, tailwind=False, language="en-US",
                show_welcome_message=False, reconnect_timeout=20.0)  # fmt: skip

    def whole() -> None:
        from waywright.web.app_rest import serve_rest

        serve_rest(app, desk, known, phone_address)
        _pages_last(app)

    return Guarded(Growing(app, whole), known)


def _pages_last(app: FastAPI) -> None:
    """The pages answer every address that nothing else answers."""
    routes = app.router.routes
    pages = [route for route in routes if isinstance(route, Mount) and not route.path]
    app.router.routes = [*(route for route in routes if route not in pages), *pages]
