"""REST: reports made, kept and taken away."""

from __future__ import annotations

import asyncio
from typing import Any, Literal
from uuid import UUID

from fastapi import APIRouter, Response

from waywright.visit import IssuedReport, Line, Visit
from waywright.web.api_records import Reference, ReportOut
from waywright.web.desk import Desk
from waywright.web.downloads import download
from waywright.web.report_shelf import MEDIA, ReportShelf, Wish

Ending = Literal["pdf", "xlsx", "csv"]


class Reports:
    """Reports of lines and visits. The same report made twice is one report."""

    def __init__(self, desk: Desk, shelf: ReportShelf, router: APIRouter) -> None:
        self._desk, self._shelf = desk, shelf
        tags = ["reports"]
        router.add_api_route(
            "/lines/{line_id}/reports", self.make, methods=["POST"], status_code=201, response_model=ReportOut,
            tags=[*tags],
        )  # fmt: skip
        router.add_api_route("/visits/{visit_id}/reports", self.all, response_model=list[ReportOut], tags=[*tags])
        router.add_api_route("/reports/{report_id}", self.one, response_model=ReportOut, tags=[*tags])
        for path, call, media in (
            ("/reports/{report_id}/report.pdf", self.file, [MEDIA["pdf"]]),
            ("/lines/{line_id}/report.{ending}", self.now, list(MEDIA.values())),
        ):
            router.add_api_route(path, call, response_class=Response, responses=_files(media), tags=[*tags])

    async def make(self, line_id: UUID, wish: Wish) -> ReportOut:
        """Make the report of a line, or of its whole visit, and keep its PDF; 409 says why there can be none."""
        line = self._desk.archive.load(Line, line_id)
        return self._out(await self._shelf.issued(line, wish))

    def all(self, visit_id: UUID) -> list[ReportOut]:
        """The reports made of a visit, in the order made."""
        self._desk.archive.load(Visit, visit_id)
        made = sorted(self._desk.archive.every(IssuedReport, visit_id), key=lambda each: each.id)
        return [self._out(each) for each in made]

    def one(self, report_id: UUID) -> ReportOut:
        """One report."""
        return self._out(self._desk.archive.load(IssuedReport, report_id))

    async def file(self, report_id: UUID) -> Response:
        """The PDF as it was made, byte for byte; 404 where only the record of it was kept."""
        found = self._desk.archive.load(IssuedReport, report_id)
        content = await asyncio.to_thread(self._desk.archive.content, found.sha256)
        return download(found.title, content, MEDIA["pdf"])

    async def now(self, line_id: UUID, ending: Ending, reference: Reference = "least-squares") -> Response:
        """The report of a line as it would be now: PDF, workbook or readings table."""
        line = self._desk.archive.load(Line, line_id)
        name, content = await self._shelf.file(line, Wish(reference), ending)
        return download(name, content, MEDIA[ending])

    def _out(self, made: IssuedReport) -> ReportOut:
        number, revision = made.facts.get("number"), made.facts.get("revision")
        kept = self._desk.archive.has_content(made.sha256)
        return ReportOut(
            made.id, made.visit_id, list(made.line_ids),
            None if number is None else str(number), None if revision is None else int(revision),
            made.title, made.sha256, made.issued_utc,
            f"/api/v1/reports/{made.id}/report.pdf" if kept else None,
        )  # fmt: skip


def _files(media: list[str]) -> dict[int | str, dict[str, Any]]:
    return {200: {"content": {each: {} for each in media}, "description": "The file."}}
