"""Preview: the report of a line as it will be, in pictures."""

from __future__ import annotations

from datetime import datetime

from waywright.archive import Archive
from waywright.jobs.measured import MeasuredLine, results_of_line
from waywright.jobs.prove import report_content
from waywright.report.images import page_images
from waywright.visit import Person


def report_images(archive: Archive, measured: MeasuredLine, reference: str, made_utc: datetime) -> tuple[bytes, ...]:
    """One PNG a page. Raises BadInput where there is nothing to report, ReportError where it cannot be set."""
    results = results_of_line(measured, reference, None)
    technician = measured.visit.technician_id
    name = None if technician is None else archive.load(Person, technician).name
    return page_images(report_content(measured, results, name, made_utc))
