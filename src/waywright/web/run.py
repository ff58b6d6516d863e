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


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """What to serve and where. ``port`` 0 takes a free one."""

    archive: Path
    port: int = 8230
    browser: bool = True


def serve(serving: Serving, tell: Callable[[str], None]) -> None:
    """Serve until ctrl-c. ``tell`` hears the address once it is known. Raises BadInput for a port that is taken."""
    listening = _bound(serving.port)
    address = f"http://{THIS_COMPUTER}:{listening.getsockname()[1]}/"
    config = uvicorn.Config(make_app(Desk(serving.archive)), log_level="warning", ws="websockets-sansio", lifespan="on")
    server = uvicorn.Server(config)
    tell(address)
    if serving.browser:
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    with contextlib.suppress(KeyboardInterrupt):  # said again by the server after its orderly end
        server.run(sockets=[listening])


def _bound(port: int) -> socket.socket:
    """Listening already, so that a browser that is quick waits instead of failing."""
    made = socket.socket()
    made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((THIS_COMPUTER, port))
    except OSError as problem:
        made.close()
        raise BadInput("web.port_taken", port=port) from problem
    made.listen(64)
    return made
