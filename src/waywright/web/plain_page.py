"""A page without the toolkit: a head, our style sheet, a body made here."""

from __future__ import annotations

from html import escape

from fastapi import Response
from fastapi.responses import HTMLResponse

from waywright.errors import WaywrightError
from waywright.wording import spoken, text


def plain_page(title: str, body: str, status: int = 200) -> Response:
    """``body`` is markup made here, with everything from outside escaped."""
    return HTMLResponse(
        f'<!doctype html><html lang="{spoken()}"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f'<title>{escape(title)} · Waywright</title><link rel="icon" href="/static/favicon.svg">'
        f'<link rel="stylesheet" href="/theme.css"></head><body>{body}</body></html>',
        status,
        {"Cache-Control": "no-store"},
    )


def nothing_here(error: WaywrightError) -> Response:
    """What is asked for is not there, in a sentence, and the way back."""
    name, back = escape(text("web.name")), escape(text("web.machines"))
    body = (
        f'<header class="head"><a class="name" href="/">{name}</a></header><main class="page one">'
        f'<p class="note bad">{escape(str(error))}</p><p><a class="press" href="/">{back}</a></p></main>'
    )
    return plain_page(text("web.machines"), body, 404)
