"""Who may do what: this computer everything, a paired phone what its role says, anybody else the pairing page.

One layer around the whole application, so that no page and no socket can be forgotten. It also refuses names that are
no address of this computer (a foreign page cannot point its own name here), foreign origins, and sets the headers.
"""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Iterable
from http.cookies import SimpleCookie
from urllib.parse import urlsplit

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from waywright.web.display import display_of, shown_as
from waywright.web.pairing import Pairings

COOKIE = "waywright-pairing"
DESK = "desk"
_OPEN = ("/pair", "/theme.css", "/fonts/", "/static/")
_LOOK = (*_OPEN, "/phone", "/live")
_READ = "/api/v1/"
_TAKE = ("/phone/take", "/phone/again", "/adjusting/seen")
_HEADERS = {
    "content-security-policy": (
        "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
        "img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; object-src 'none'; base-uri 'self'; "
        "form-action 'self'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(self), geolocation=()",
}


class Guarded:
    """The application with its doors."""

    def __init__(self, app: ASGIApp, pairings: Pairings) -> None:
        self._app = app
        self._pairings = pairings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request in, send it to the pairing page, or refuse it."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        headers = _headers(scope["headers"])
        with shown_as(display_of(headers.get("cookie", ""))):
            await self._answer(scope, receive, send, headers)

    async def _answer(self, scope: Scope, receive: Receive, send: Send, headers: dict[str, str]) -> None:
        if not _known_host(headers.get("host", "")):
            await _refuse(scope, receive, send, 421)
        elif not _own_origin(scope, headers):
            await _refuse(scope, receive, send, 403)
        elif not self._may(scope, headers):
            await _refuse(scope, receive, send, 403, to_pairing=scope["type"] == "http" and scope["method"] == "GET")
        else:
            await self._app(scope, receive, _with_headers(send))

    def _may(self, scope: Scope, headers: dict[str, str]) -> bool:
        role = role_of(scope, headers, self._pairings)
        scope.setdefault("state", {})["role"] = role
        path = scope["path"]
        reads = scope["type"] == "websocket" or scope["method"] in ("GET", "HEAD")
        if role == DESK or _within(path, _OPEN):
            return True
        if role is None:
            return False
        if _within(path, _LOOK) and reads:
            return True
        if path.startswith(_READ):
            return reads
        return role == "take" and path in _TAKE


def role_of(scope: Scope, headers: dict[str, str], pairings: Pairings) -> str | None:
    """ "desk" for this computer, the role of a paired phone, None for anybody else."""
    client = scope.get("client")
    if client is None or _is_loopback(client[0]):
        return DESK
    cookies: SimpleCookie = SimpleCookie(headers.get("cookie", ""))
    return pairings.role_of(cookies[COOKIE].value if COOKIE in cookies else None)


def _within(path: str, beginnings: Iterable[str]) -> bool:
    return any(path == item or (item.endswith("/") and path.startswith(item)) for item in beginnings)


def _is_loopback(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _known_host(host: str) -> bool:
    """An address in figures, or a name that is this computer's own."""
    name = (urlsplit(f"//{host}").hostname or "").lower()
    own = socket.gethostname().lower()
    if name in ("localhost", own, f"{own}.local"):
        return True
    try:
        ipaddress.ip_address(name)
    except ValueError:
        return False
    return True


def _own_origin(scope: Scope, headers: dict[str, str]) -> bool:
    """Browsers say where a page comes from: sockets and everything that changes something only from our own pages."""
    origin = headers.get("origin")
    if origin is None or (scope["type"] == "http" and scope["method"] in ("GET", "HEAD")):
        return True
    return urlsplit(origin).netloc.lower() == headers.get("host", "").lower()


def _headers(raw: Iterable[tuple[bytes, bytes]]) -> dict[str, str]:
    return {name.decode("latin-1").lower(): value.decode("latin-1") for name, value in raw}


async def _refuse(scope: Scope, receive: Receive, send: Send, status: int, *, to_pairing: bool = False) -> None:
    if scope["type"] == "websocket":
        await receive()
        await send({"type": "websocket.close", "code": 1008})
        return
    headers = [(b"content-length", b"0")]
    if to_pairing:
        status, headers = 303, [*headers, (b"location", b"/pair")]
    await _with_headers(send)({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": b""})


def _with_headers(send: Send) -> Send:
    async def sending(message: Message) -> None:
        if message["type"] == "http.response.start":
            present = {name.lower() for name, _ in message["headers"]}
            added = [
                (name.encode(), value.encode()) for name, value in _HEADERS.items() if name.encode() not in present
            ]
            message = {**message, "headers": [*message["headers"], *added]}
        await send(message)

    return sending
