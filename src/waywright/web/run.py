"""Starting the server: a free port, the browser once it answers, an orderly end."""

from __future__ import annotations

import asyncio
import contextlib
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

import uvicorn
from starlette.types import ASGIApp

from waywright.errors import BadInput
from waywright.web.app import make_app
from waywright.web.desk import Desk
from waywright.web.self_made import fingerprint, self_made

THIS_COMPUTER = "127.0.0.1"
EVERYWHERE = "0.0.0.0"


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """What to serve and where. ``port`` 0 takes a free one.

    ``lan`` lets paired phones in, at the next port and by https: with ``certificate`` and ``key``, or with one made
    here; ``tls`` False leaves it plain.
    """

    archive: Path
    port: int = 8230
    browser: bool = True
    lan: bool = False
    certificate: Path | None = None
    key: Path | None = None
    tls: bool = True


Tell = Callable[[str, str], None]
"""Told a key of the wording and an address (or a fingerprint)."""


def serve(serving: Serving, tell: Tell) -> None:
    """Serve until ctrl-c. ``tell`` hears the address, then that for phones where they are let in.

    Raises BadInput for a port that is taken."""
    here = _bound(THIS_COMPUTER, serving.port)
    address = f"http://{THIS_COMPUTER}:{here.getsockname()[1]}/"
    there = _Hall(serving) if serving.lan else None
    desk = Desk(serving.archive)
    app = make_app(desk, there.address if there else None)
    servers: list[tuple[uvicorn.Server, socket.socket]] = [(_Server(_config(app), desk), here)]
    tell("web.serving", address)
    if there is not None:
        servers.append((_without_signals(uvicorn.Server(_config(app, there))), there.socket))
        tell("web.serving_phones", there.address)
        if there.made_here and there.certificate is not None:
            tell("web.fingerprint", fingerprint(there.certificate))
    if serving.browser:
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
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

    def __init__(self, serving: Serving) -> None:
        self.socket = _bound(EVERYWHERE, serving.port + 1 if serving.port else 0)
        place = _address_in_the_hall()
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


def _address_in_the_hall() -> str:
    """The address that other devices reach this computer at, as its routing says; nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("10.255.255.255", 9))
        except OSError:
            return socket.gethostname()
        return str(asking.getsockname()[0])


def _bound(host: str, port: int) -> socket.socket:
    """Listening already, so that a browser that is quick waits instead of failing."""
    made = socket.socket()
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((host, port))
    except OSError as problem:
        made.close()
        raise BadInput("web.port_taken", port=port) from problem
    made.listen(64)
    return made
