"""The first page does not wait for the others; what is asked of the others meanwhile waits until they are there."""

from __future__ import annotations

import asyncio
import subprocess
import sys
import threading

from starlette.types import Receive, Scope, Send

from waywright.web.growing import Growing


def test_the_first_page_is_answered_while_the_rest_loads_and_the_rest_waits() -> None:
    answered: list[str] = []
    loaded, begun = threading.Event(), threading.Event()

    async def app(scope: Scope, receive: Receive, send: Send) -> None:
        answered.append(scope["path"])

    def whole() -> None:
        begun.set()
        loaded.wait(10.0)

    async def ask(server: Growing, path: str) -> None:
        await server({"type": "http", "path": path}, None, None)  # type: ignore[arg-type]

    async def story() -> None:
        server = Growing(app, whole)
        asked = asyncio.create_task(ask(server, "/line/1/take"))
        await asyncio.to_thread(begun.wait, 10.0)
        await ask(server, "/")
        await ask(server, "/theme.css")
        assert answered == ["/", "/theme.css"]
        loaded.set()
        await asked
        await ask(server, "/live")
        assert answered == ["/", "/theme.css", "/line/1/take", "/live"]

    asyncio.run(story())


def test_the_door_loads_neither_numerics_nor_client_libraries_for_the_first_page() -> None:
    asked = (
        "import sys; from waywright.web import door\n"
        "with door._loading(door._FOR_CLIENTS): import waywright.web.run\n"
        "print([name for name in ('scipy', 'numba', 'aiohttp', 'requests', 'typst', 'waywright.web.session')"
        " if name in sys.modules])"
    )
    said = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "[]"
