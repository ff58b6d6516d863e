"""Who may do what: this computer everything, a paired phone its role, anybody else the pairing page."""

from __future__ import annotations

import asyncio
from pathlib import Path

import httpx
import pytest
from fastapi import FastAPI, Response, WebSocket

from waywright.web.access import COOKIE, Guarded
from waywright.web.desk import Desk
from waywright.web.pairing import CODE_LASTS_S, TRIES, WAIT_S, Pairings
from waywright.web.phone import serve_phone

HERE, PHONE = "127.0.0.1", "192.0.2.7"  # the second is an address reserved for examples (RFC 5737)


class Hands:
    """A clock that a test moves."""

    now_s = 100.0

    def __call__(self) -> float:
        return self.now_s


def served(folder: Path, pairings: Pairings) -> Guarded:
    """The phone's pages and two that only this computer may see, behind the doors."""
    app = FastAPI()
    serve_phone(app, Desk(folder / "a.sqlite"), pairings)

    @app.get("/")
    def machines() -> Response:
        return Response("machines")

    @app.get("/api/v1/machines")
    def read() -> list[str]:
        return []

    @app.post("/api/v1/machines")
    def write() -> list[str]:
        return []

    @app.websocket("/live")
    async def live(socket: WebSocket) -> None:
        await socket.accept()
        await socket.close()

    return Guarded(app, pairings)


def asked(app: Guarded, client: str, method: str, path: str, **more: object) -> httpx.Response:
    """One request from an address."""

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(app, client=(client, 5000))
        async with httpx.AsyncClient(transport=transport, base_url="http://192.0.2.1:8230") as user:
            return await user.request(method, path, **more)  # type: ignore[arg-type]

    return asyncio.run(ask())


def test_this_computer_sees_everything(tmp_path: Path) -> None:
    assert asked(served(tmp_path, Pairings()), HERE, "GET", "/").text == "machines"


@pytest.mark.parametrize("path", ["/", "/phone", "/api/v1/machines", "/line/1/take", "/_nicegui/x", "/phones"])
def test_a_stranger_is_sent_to_the_pairing_page(tmp_path: Path, path: str) -> None:
    answer = asked(served(tmp_path, Pairings()), PHONE, "GET", path)
    assert (answer.status_code, answer.headers["location"]) == (303, "/pair")
    assert asked(served(tmp_path, Pairings()), PHONE, "POST", path).status_code == 403


def test_a_code_pairs_once(tmp_path: Path) -> None:
    pairings = Pairings()
    app = served(tmp_path, pairings)
    code = pairings.offer("look")
    answer = asked(app, PHONE, "POST", "/pair", content=f"code={code.digits}")
    assert (answer.status_code, answer.headers["location"]) == (303, "/phone")
    cookie = answer.headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=strict" in cookie
    assert asked(app, PHONE, "POST", "/pair", content=f"code={code.digits}").status_code == 403
    assert len(pairings.all) == 1


@pytest.mark.parametrize(("role", "status"), [("look", 403), ("take", 200)])
def test_a_phone_does_what_its_role_allows(tmp_path: Path, role: str, status: int) -> None:
    pairings = Pairings()
    app = served(tmp_path, pairings)
    token = pairings.redeem(pairings.offer(role).digits, "a phone")
    cookie = {"cookie": f"{COOKIE}={token}"}
    page = asked(app, PHONE, "GET", "/phone", headers=cookie)
    assert page.status_code == 200
    assert ("take now" in page.text) == (role == "take")
    assert asked(app, PHONE, "POST", "/phone/take", headers=cookie).status_code == status
    assert asked(app, PHONE, "GET", "/api/v1/machines", headers=cookie).status_code == 200
    assert asked(app, PHONE, "POST", "/api/v1/machines", headers=cookie).status_code == 403
    assert asked(app, PHONE, "GET", "/", headers=cookie).status_code == 303
    pairings.revoke(pairings.all[0].number)
    assert asked(app, PHONE, "GET", "/phone", headers=cookie).status_code == 303


def test_too_many_wrong_codes_make_everybody_wait() -> None:
    hands = Hands()
    pairings = Pairings(hands)
    right = pairings.offer("look").digits
    wrong = f"{(int(right) + 1) % 1_000_000:06d}"
    assert [pairings.redeem(wrong, "") for _ in range(TRIES)] == [None] * TRIES
    assert pairings.redeem(right, "") is None
    again = pairings.offer("look").digits
    assert pairings.redeem(again, "") is None
    assert 0 < pairings.seconds_to_wait() <= WAIT_S
    hands.now_s += WAIT_S
    assert pairings.redeem(again, "") is not None


def test_a_code_is_good_for_a_short_time() -> None:
    hands = Hands()
    pairings = Pairings(hands)
    code = pairings.offer("take").digits
    hands.now_s += CODE_LASTS_S + 1
    assert pairings.redeem(code, "") is None


def test_foreign_names_and_foreign_pages_are_refused(tmp_path: Path) -> None:
    app = served(tmp_path, Pairings())
    assert asked(app, HERE, "GET", "/", headers={"host": "elsewhere.example"}).status_code == 421
    foreign = {"origin": "http://elsewhere.example"}
    assert asked(app, HERE, "POST", "/phone/take", headers=foreign).status_code == 403
    own = {"origin": "http://192.0.2.1:8230"}
    assert asked(app, HERE, "POST", "/phone/take", headers=own).json() == {"said": "No pass runs."}


@pytest.mark.parametrize(("origin", "accepted"), [("http://elsewhere.example", False), ("http://127.0.0.1:8230", True)])
def test_the_origin_of_a_socket_is_checked(tmp_path: Path, origin: str, accepted: bool) -> None:
    said: list[str] = []

    async def connect() -> None:
        async def receive() -> dict[str, object]:
            return {"type": "websocket.connect"}

        async def send(message: dict[str, object]) -> None:
            said.append(str(message["type"]))

        headers = [(b"host", b"127.0.0.1:8230"), (b"origin", origin.encode())]
        scope = {"type": "websocket", "path": "/live", "headers": headers, "client": (HERE, 1), "query_string": b""}
        await served(tmp_path, Pairings())(scope, receive, send)  # type: ignore[arg-type]

    asyncio.run(connect())
    assert (said[0] == "websocket.accept") == accepted


def test_every_answer_carries_the_headers(tmp_path: Path) -> None:
    for client, path in ((HERE, "/"), (PHONE, "/"), (PHONE, "/pair")):
        headers = asked(served(tmp_path, Pairings()), client, "GET", path).headers
        assert "frame-ancestors 'none'" in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"
