"""Preview: the report of a line as it will be, in pictures."""

from __future__ import annotations

from datetime import datetime

from waywright.archive import Archive
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.prove import ReportOrder, report_of
from waywright.report.images import page_images


def report_images(
    archive: Archive, measured: MeasuredLine, reference: str, made_utc: datetime | None = None, language: str = "en"
) -> tuple[bytes, ...]:
    """One PNG a page. Raises BadInput where there is nothing to report, ReportError where it cannot be set."""
    content, _ = report_of(archive, [measured], ReportOrder(reference=reference, language=language))
    return page_images(content)
