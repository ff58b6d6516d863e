"""The report of a line or its visit, made when it is asked for: pictures to look at, files to take away."""

from __future__ import annotations

import asyncio
import tempfile
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Literal
from urllib.parse import urlencode

from waywright.jobs.measured import MeasuredLine, measured_line
from waywright.jobs.preview import report_images
from waywright.jobs.prove import written_report
from waywright.jobs.report_order import ReportOrder
from waywright.visit import IssuedReport, Line
from waywright.web.desk import Desk
from waywright.wording import counting

_KEPT = 4
MEDIA = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "csv": "text/csv; charset=utf-8",
}


@dataclass(frozen=True, slots=True)
class Wish:
    """What is wanted of a report, as a page's address says it."""

    reference: Literal["end-points", "least-squares", "minimum-zone"] = "least-squares"
    scope: Literal["line", "visit"] = "line"
    language: Literal["en", "de", "en+de"] = "en"
    paper: Literal["a4", "us-letter"] = "a4"
    rule: str = ""

    @property
    def order(self) -> ReportOrder:
        """For the verbs."""
        return ReportOrder(
            reference=self.reference, language=self.language, paper=self.paper, rule=self.rule.strip() or None
        )

    @property
    def query(self) -> str:
        """For an address."""
        return urlencode(asdict(self))


class ReportShelf:
    """Pictures are kept until something in the archive is new; files are always made anew."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._pictures: dict[tuple[str, Wish, int], tuple[bytes, ...]] = {}
        self._making = asyncio.Lock()

    async def pictures(self, line: Line, wish: Wish) -> tuple[bytes, ...]:
        """One PNG a page. Raises BadInput or ReportError where there is no report."""
        key = (str(line.id), wish, self._desk.revision)
        async with self._making:
            if key not in self._pictures:
                self._pictures[key] = await asyncio.to_thread(self._images, line, wish)
                for old in list(self._pictures)[:-_KEPT]:
                    del self._pictures[old]
        return self._pictures[key]

    async def file(self, line: Line, wish: Wish, ending: str) -> tuple[str, bytes]:
        """Name and bytes of the report as PDF, workbook or table. Raises BadInput or ReportError."""
        return await asyncio.to_thread(self._file, line, wish, ending)

    async def issued(self, line: Line, wish: Wish) -> IssuedReport:
        """Make a report and keep its PDF. Raises BadInput or ReportError where there is none."""
        return await asyncio.to_thread(self._issued, line, wish)

    def _images(self, line: Line, wish: Wish) -> tuple[bytes, ...]:
        archive = self._desk.archive
        lines = [each for each in self.lines(line, wish) if each.passes]
        with counting(()):  # a report states what everybody reads alike
            return report_images(archive, lines or [measured_line(archive, line)], wish.order)

    def lines(self, line: Line, wish: Wish) -> list[MeasuredLine]:
        """What the wanted report is of: lines with passes."""
        archive = self._desk.archive
        chosen = archive.lines(line.visit_id) if wish.scope == "visit" else (line,)
        return [measured_line(archive, each) for each in chosen if archive.passes(each.id)]

    def _file(self, line: Line, wish: Wish, ending: str) -> tuple[str, bytes]:
        """A table holds one line; PDF and workbook hold all that is wanted."""
        with tempfile.TemporaryDirectory() as folder:
            return self._written(line, replace(wish, scope="line") if ending == "csv" else wish, Path(folder), ending)

    def _issued(self, line: Line, wish: Wish) -> IssuedReport:
        with tempfile.TemporaryDirectory() as folder:
            _, content = self._written(line, wish, Path(folder), "pdf")
        archive = self._desk.archive
        sha256 = archive.keep_content(content)
        return next(each for each in archive.every(IssuedReport, line.visit_id) if each.sha256 == sha256)

    def _written(self, line: Line, wish: Wish, folder: Path, ending: str) -> tuple[str, bytes]:
        lines = [str(line.id)]
        if wish.scope == "visit":
            lines = [str(each.line.id) for each in self.lines(line, wish) if each.passes]
        written = written_report(lines, folder, wish.order, path=self._desk.archive_path)
        found = next(path for path in written.files if path.suffix == f".{ending}")
        return found.name, found.read_bytes()
