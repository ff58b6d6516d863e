"""Starting the server: a free port, the browser once it answers, an orderly end."""

from __future__ import annotations

import contextlib
import socket
import threading
import webbrowser
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from waywright.errors import BadInput
from waywright.web.app import make_app
from waywright.web.desk import Desk

THIS_COMPUTER = "127.0.0.1"
EVERYWHERE = "0.0.0.0"


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """What to serve and where. ``port`` 0 takes a free one; ``lan`` lets paired phones in."""

    archive: Path
    port: int = 8230
    browser: bool = True
    lan: bool = False
    certificate: Path | None = None
    key: Path | None = None


def serve(serving: Serving, tell: Callable[[str], None]) -> None:
    """Serve until ctrl-c. ``tell`` hears the address, then that for phones where they are let in.

    Raises BadInput for a port that is taken."""
    listening = _bound(EVERYWHERE if serving.lan else THIS_COMPUTER, serving.port)
    port = listening.getsockname()[1]
    scheme = "https" if serving.certificate else "http"
    address = f"{scheme}://{THIS_COMPUTER}:{port}/"
    phones = f"{scheme}://{_address_in_the_hall()}:{port}/" if serving.lan else None
    config = uvicorn.Config(
        make_app(Desk(serving.archive), phones),
        log_level="warning",
        ws="websockets-sansio",
        lifespan="on",
        server_header=False,
        proxy_headers=False,  # nobody may claim to be this computer
        ssl_certfile=serving.certificate,
        ssl_keyfile=serving.key,
    )
    server = uvicorn.Server(config)
    tell(address)
    if phones:
        tell(phones)
    if serving.browser:
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    with contextlib.suppress(KeyboardInterrupt):  # said again by the server after its orderly end
        server.run(sockets=[listening])


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
