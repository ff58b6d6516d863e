"""Preview: the report of some lines of a visit as it will be, in pictures."""

from __future__ import annotations

from collections.abc import Sequence

from waywright.archive import Archive
from waywright.jobs.measured import MeasuredLine
from waywright.jobs.prove import report_of
from waywright.jobs.report_order import ReportOrder
from waywright.report.images import page_images


def report_images(archive: Archive, measured: Sequence[MeasuredLine], order: ReportOrder) -> tuple[bytes, ...]:
    """One PNG a page. Raises BadInput where there is nothing to report, ReportError where it cannot be set."""
    content, _ = report_of(archive, measured, order)
    return page_images(content)
