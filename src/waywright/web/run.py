"""Running the server: for this computer, for phones too where they are let in, to an orderly end."""

from __future__ import annotations

import asyncio
import contextlib
import socket
from types import FrameType

import uvicorn
from starlette.types import ASGIApp

from waywright.web.app import make_app
from waywright.web.desk import Desk
from waywright.web.door import Serving, Tell, address_in_the_hall
from waywright.web.self_made import fingerprint, self_made


def serve_at(here: socket.socket, there: socket.socket | None, serving: Serving, tell: Tell) -> None:
    """Serve at these sockets until ctrl-c; ``there`` for phones."""
    hall = _Hall(there, serving) if there is not None else None
    desk = Desk(serving.archive)
    app = make_app(desk, hall.address if hall else None)
    servers: list[tuple[uvicorn.Server, socket.socket]] = [(_Server(_config(app), desk), here)]
    if hall is not None:
        servers.append((_without_signals(uvicorn.Server(_config(app, hall))), hall.socket))
        tell("web.serving_phones", hall.address)
        if hall.made_here and hall.certificate is not None:
            tell("web.fingerprint", fingerprint(hall.certificate))
    with contextlib.suppress(KeyboardInterrupt):  # said again by the server after its orderly end
        asyncio.run(_until_ended(servers))


class _Server(uvicorn.Server):
    """Tells the desk first that the end has come, so that no stream of figures holds it up."""

    def __init__(self, config: uvicorn.Config, desk: Desk) -> None:
        super().__init__(config)
        self._desk = desk

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """As the server does it, once the desk knows."""
        self._desk.ending = True
        super().handle_exit(sig, frame)


class _Hall:
    """The door for phones: a socket of its own, so that this computer needs no certificate."""

    def __init__(self, listening: socket.socket, serving: Serving) -> None:
        self.socket = listening
        place = address_in_the_hall()
        self.made_here = serving.tls and serving.certificate is None
        self.certificate, self.key = serving.certificate, serving.key
        if self.made_here:
            self.certificate, self.key = self_made(serving.archive.parent / "certificate", place)
        if not serving.tls:
            self.certificate = self.key = None
        scheme = "https" if self.certificate else "http"
        self.address = f"{scheme}://{place}:{self.socket.getsockname()[1]}/"


def _config(app: ASGIApp, hall: _Hall | None = None) -> uvicorn.Config:
    return uvicorn.Config(
        app,
        log_level="warning",
        ws="websockets-sansio",
        lifespan="off" if hall else "on",
        server_header=False,
        proxy_headers=False,  # nobody may claim to be this computer
        ssl_certfile=hall.certificate if hall else None,
        ssl_keyfile=hall.key if hall else None,
    )


def _without_signals(server: uvicorn.Server) -> uvicorn.Server:
    """One server hears ctrl-c and ends the other."""
    server.capture_signals = contextlib.nullcontext  # type: ignore[method-assign, assignment]
    return server


async def _until_ended(servers: list[tuple[uvicorn.Server, socket.socket]]) -> None:
    (first, here), *others = servers
    running = [asyncio.create_task(server.serve([listening])) for server, listening in others]
    await first.serve([here])
    for server, _ in others:
        server.should_exit = True
    await asyncio.gather(*running)
