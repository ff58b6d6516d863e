"""The door of the server: an address that listens before anything else is loaded, and the browser sent there.

What the pages are made of takes a second to load; a browser takes as long to open. So both begin at once.
"""

from __future__ import annotations

import gc
import socket
import sys
import threading
import webbrowser
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from waywright.errors import BadInput

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


_FOR_CLIENTS = ("aiohttp", "requests", "tornado")
"""The library of the pages' sockets would load these too, if they are there; only its clients need them. It is a fifth
of what loading takes."""


def serve(serving: Serving, tell: Tell) -> None:
    """Serve until ctrl-c. ``tell`` hears the address, then that for phones where they are let in.

    Raises BadInput for a port that is taken."""
    here = bound(THIS_COMPUTER, serving.port)
    address = f"http://{THIS_COMPUTER}:{here.getsockname()[1]}/"
    there = bound(EVERYWHERE, serving.port + 1 if serving.port else 0) if serving.lan else None
    if serving.browser:
        threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    tell("web.serving", address)
    with _loading(_FOR_CLIENTS):
        from waywright.web.run import serve_at
    serve_at(here, there, serving, tell)


@contextmanager
def _loading(without: tuple[str, ...]) -> Iterator[None]:
    """Load inside as if these libraries were not installed, and look for no garbage: what is loaded is none."""
    unwanted = [name for name in without if name not in sys.modules]
    sys.modules.update(dict.fromkeys(unwanted))  # type: ignore[arg-type]
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()
        for name in unwanted:
            del sys.modules[name]


def address_in_the_hall() -> str:
    """The address that other devices reach this computer at, as its routing says; nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect(("10.255.255.255", 9))
        except OSError:
            return socket.gethostname()
        return str(asking.getsockname()[0])


def bound(host: str, port: int) -> socket.socket:
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
