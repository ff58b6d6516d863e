"""Everything that is served beside the first page."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated
from uuid import UUID

from fastapi import Depends, FastAPI, HTTPException, Response, WebSocket

from waywright.errors import WaywrightError
from waywright.jobs.sharing import export, quiet
from waywright.visit import Attachment
from waywright.web import pages
from waywright.web.api import serve_api
from waywright.web.desk import Desk
from waywright.web.downloads import download
from waywright.web.live_socket import serve_live
from waywright.web.pages import display, phones
from waywright.web.pairing import Pairings
from waywright.web.phone import serve_phone
from waywright.web.report_shelf import MEDIA, ReportShelf, Wish


def serve_rest(app: FastAPI, desk: Desk, known: Pairings, phone_address: str | None) -> None:
    """Live figures, files, REST, phones and the other pages."""

    @app.websocket("/live")
    async def live(socket: WebSocket) -> None:
        await serve_live(desk, socket)

    @app.post("/adjusting/seen", include_in_schema=False)
    def seen() -> dict[str, str]:
        desk.adjusting.seen()
        return {"said": ""}

    shelf = ReportShelf(desk)
    _serve_reports(app, desk, shelf)
    serve_api(app, desk, shelf)
    serve_phone(app, desk, known)
    pages.register_others(desk, shelf)
    phones.register(known, phone_address)
    display.register()


def _serve_reports(app: FastAPI, desk: Desk, shelf: ReportShelf) -> None:
    """The files of a report, the pictures of its pages, attached photos."""

    @app.get("/line/{identity}/report/{number}.png", include_in_schema=False)
    async def picture(identity: str, number: int, wish: Annotated[Wish, Depends()]) -> Response:
        with _said_to_the_browser():
            pages = await shelf.pictures(desk.line(identity)[2], wish)
        if not 1 <= number <= len(pages):
            raise HTTPException(404)
        return Response(pages[number - 1], media_type="image/png", headers={"Cache-Control": "no-store"})

    @app.get("/line/{identity}/report.{ending}", include_in_schema=False)
    async def file(identity: str, ending: str, wish: Annotated[Wish, Depends()]) -> Response:
        if ending not in MEDIA:
            raise HTTPException(404)
        with _said_to_the_browser():
            name, content = await shelf.file(desk.line(identity)[2], wish, ending)
        return download(name, content, MEDIA[ending])

    @app.get("/visit/{identity}/visit.json.gz", include_in_schema=False)
    def whole_visit(identity: UUID) -> Response:
        with _said_to_the_browser(), tempfile.TemporaryDirectory() as folder:
            place = Path(folder) / f"visit-{identity}.json.gz"
            export(desk.archive_path, str(identity), None, place, quiet)
            return download(place.name, place.read_bytes(), "application/gzip")

    @app.get("/attachment/{identity}", include_in_schema=False)
    def attachment(identity: UUID) -> Response:
        with _said_to_the_browser():
            found = desk.archive.load(Attachment, identity)
            content = desk.archive.content(found.sha256)
        safe = found.media_type if found.media_type in ("image/jpeg", "image/png") else "application/octet-stream"
        return Response(content, media_type=safe, headers={"Cache-Control": "private, max-age=3600"})


@contextmanager
def _said_to_the_browser() -> Iterator[None]:
    """What went wrong, as a sentence in the answer."""
    try:
        yield
    except WaywrightError as error:
        raise HTTPException(422, str(error)) from error
