"""The report of a line, made when it is asked for: pictures to look at, files to take away."""

from __future__ import annotations

import asyncio
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from waywright.jobs.preview import report_images
from waywright.jobs.prove import report_of_line
from waywright.visit import Line
from waywright.web.desk import Desk

_KEPT = 4
MEDIA = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "csv": "text/csv; charset=utf-8",
}


class ReportShelf:
    """Pictures are kept until something in the archive is new; files are always made anew."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._pictures: dict[tuple[str, str, int], tuple[bytes, ...]] = {}
        self._making = asyncio.Lock()

    async def pictures(self, line: Line, reference: str) -> tuple[bytes, ...]:
        """One PNG a page. Raises BadInput or ReportError where there is no report."""
        key = (str(line.id), reference, self._desk.revision)
        async with self._making:
            if key not in self._pictures:
                measured = self._desk.measured(line)
                moment = datetime.now(UTC)
                made = await asyncio.to_thread(report_images, self._desk.archive, measured, reference, moment)
                self._pictures[key] = made
                for old in list(self._pictures)[:-_KEPT]:
                    del self._pictures[old]
        return self._pictures[key]

    async def file(self, line: Line, reference: str, ending: str) -> tuple[str, bytes]:
        """Name and bytes of the report as PDF, workbook or table. Raises BadInput or ReportError."""
        return await asyncio.to_thread(self._file, line, reference, ending)

    def _file(self, line: Line, reference: str, ending: str) -> tuple[str, bytes]:
        with tempfile.TemporaryDirectory() as folder:
            written = report_of_line(str(line.id), Path(folder), reference, path=self._desk.archive_path)
            found = next(path for path in written.files if path.suffix == f".{ending}")
            return found.name, found.read_bytes()
