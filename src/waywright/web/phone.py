"""The phone: the pairing page and the figures, as plain pages that any phone can show."""

from __future__ import annotations

from html import escape
from urllib.parse import parse_qs

from fastapi import FastAPI, Request, Response
from fastapi.responses import RedirectResponse

from waywright.web.access import COOKIE, DESK
from waywright.web.alarm import alarm_markup
from waywright.web.desk import Desk
from waywright.web.display import place, place_unit
from waywright.web.pairing import Pairings
from waywright.web.plain_page import plain_page
from waywright.web.saying import unit_of, word_of
from waywright.wording import text

_MOST_BYTES = 400


def serve_phone(app: FastAPI, desk: Desk, pairings: Pairings) -> None:
    """The pages at ``/pair`` and ``/phone`` and what their presses do."""

    @app.get("/pair", include_in_schema=False)
    def pair() -> Response:
        return plain_page(text("phones.pair_title"), _pair_form(""))

    @app.post("/pair", include_in_schema=False)
    async def redeem(request: Request) -> Response:
        body = (await request.body())[:_MOST_BYTES].decode(errors="replace")
        digits = parse_qs(body).get("code", [""])[0].replace(" ", "")
        waits_s = pairings.seconds_to_wait()
        token = pairings.redeem(digits, _phone_name(request.headers.get("user-agent", "")))
        if token is None:
            waits_s = max(waits_s, pairings.seconds_to_wait())
            said = text("phones.pair_wait", seconds=waits_s) if waits_s else text("phones.pair_wrong")
            return plain_page(text("phones.pair_title"), _pair_form(said), status=429 if waits_s else 403)
        answer = RedirectResponse("/phone", 303)
        secure = request.url.scheme == "https"
        answer.set_cookie(COOKIE, token, max_age=43_200, httponly=True, samesite="strict", secure=secure)
        return answer

    @app.get("/phone", include_in_schema=False)
    def phone(request: Request) -> Response:
        return plain_page(text("phones.phone_title"), _figures(desk, may_take=request.state.role in (DESK, "take")))

    @app.post("/phone/take", include_in_schema=False)
    def take() -> dict[str, str]:
        return {"said": _take(desk)}

    @app.post("/phone/again", include_in_schema=False)
    def again() -> dict[str, str]:
        return {"said": _again(desk)}


def _take(desk: Desk) -> str:
    if desk.session is None or desk.state.phase != "armed":
        return text("web.no_pass_runs")
    desk.session.trigger()
    return text("web.taking")


def _again(desk: Desk) -> str:
    session, last = desk.session, desk.state.last_mm
    if session is None or desk.state.phase != "armed" or last is None:
        return text("web.no_pass_runs")
    if session.stands_at_last_station:
        session.trigger()
        return text("web.taking")
    return text("web.drive_back", position=f"{place(last)} {place_unit()}")


def _phone_name(agent: str) -> str:
    """What a browser says of its device, short."""
    inside = agent.partition("(")[2].partition(")")[0]
    return "; ".join(part.strip() for part in inside.split(";")[:3]) or text("web.some_phone")


def _pair_form(said: str) -> str:
    problem = f'<p class="note bad" role="alert">{escape(said)}</p>' if said else ""
    return (
        f'<main class="page one"><h1>{escape(text("phones.pair_title"))}</h1>'
        f"<p>{escape(text('phones.pair_words'))}</p>{problem}"
        f'<form method="post" action="/pair" class="stack"><label for="code">{escape(text("phones.pair_code"))}</label>'
        '<input id="code" name="code" class="code" inputmode="numeric" autocomplete="one-time-code" maxlength="7" '
        "required>"
        f'<button class="press next">{escape(text("phones.pair"))}</button></form></main>'
        "<script>function read() { const code = new URLSearchParams(location.hash.slice(1)).get('code');"
        "if (code) { document.getElementById('code').value = code; history.replaceState(null, '', '/pair'); } }"
        "read(); addEventListener('hashchange', read);</script>"
    )


def _turning() -> str:
    """While a support is turned: the reading, its target, the turns to go, for a hand with a wrench in it."""
    return (
        '<section class="phone-turning" data-turning hidden><p class="phone-support">'
        f'{escape(text("phones.support"))} <span data-live="turn-support">–</span></p>'
        '<div data-turn-live><p class="phone-turn" data-live="turn-value">–</p>'
        f'<p class="phone-target"><span data-live="turn-unit"></span> {escape(text("rounds.of_target"))} '
        '<span data-live="turn-target">–</span></p></div>'
        '<div data-turn-blind hidden><p class="phone-turn" data-live="turn-asked">–</p>'
        '<p class="mute" data-live="turn-why"></p></div>'
        '<div class="ring" data-turn-ring></div><p class="to-go" data-live="turn-words">–</p>'
        f'<button class="press" data-does="speak" data-speak="no" aria-pressed="false">'
        f'{escape(text("rounds.speak"))}</button><p class="mute" data-mute hidden>{escape(text("rounds.mute"))}</p>'
        "</section>"
    )


def _figures(desk: Desk, may_take: bool) -> str:
    """One figure, as large as it will go; the others below, a touch makes them the large one."""
    session = desk.session
    parts = []
    for number, meaning in enumerate(desk.state.meanings):
        word = f"{word_of(meaning.code, session.begun.machine)} ({meaning.code.text})" if session else meaning.code.text
        parts.append(
            f'<button class="phone-figure{" hero" if number == 0 else ""}" data-does="hero">'
            f'<span data-fit data-live="value-{escape(meaning.code.text)}">–</span>'
            f"<small>{escape(unit_of(meaning.code))} {escape(word)}</small></button>"
        )
    if not parts:
        parts.append(f'<p class="note">{escape(text("phones.phone_waits"))}</p>')
    presses = "".join(
        f'<button class="press{look}" data-does="post" data-post="/phone/{name}" data-key="{name}">'
        f"{escape(text(key))}</button>"
        for name, key, look in (("take", "web.take_now", " next"), ("again", "web.take_again", ""))
        if may_take
    )
    return (
        f'<main class="phone" data-phone data-cut-words="{escape(text("web.cut_off"))}">'
        '<p class="now phone-words" data-live="words" role="status">–</p>'
        f'<p class="note" data-again role="status" hidden></p>{_turning()}'
        f'<div class="bar" data-live-bar><i></i></div><div class="phone-figures">{"".join(parts)}</div>'
        f'<p class="phone-place"><span data-live="position">–</span> <small>{escape(place_unit())}</small> '
        f'<span class="mute"><span data-live="readings">0</span> {escape(text("phones.phone_taken"))}</span></p>'
        f'<p class="note" data-said hidden></p><div class="row">{presses}</div></main>'
        f'{alarm_markup(may_end=may_take)}<script src="/static/live.js"></script>'
    )
