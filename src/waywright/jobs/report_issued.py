"""Issued reports: what was written, recorded in the archive with number, revision, hashes, when and by whom."""

from __future__ import annotations

import hashlib
from pathlib import Path
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import SystemClock, new_id
from waywright.jobs.people import who
from waywright.jobs.report_order import ReportData, content_sha256
from waywright.visit import IssuedReport


def record_issued(archive: Archive, data: ReportData, pdf: Path) -> IssuedReport | None:
    """Record a report that was written; the same bytes written again are the same report.

    Number and revision are those that the report itself bears. None where the archive cannot be written: a report of
    an archive on a read-only medium is allowed.
    """
    printed = hashlib.sha256(pdf.read_bytes()).hexdigest()
    visit = UUID(str(data.visit.visit))
    known = next((each for each in archive.every(IssuedReport, visit) if each.sha256 == printed), None)
    if known is not None or not archive.writable:
        return known
    now = SystemClock().utc()
    facts = {
        "number": data.number,
        "revision": data.revision,
        "root": data.root,
        "content_sha256": content_sha256(data),
        "signatures": len(data.signatures),
        "language": data.order.language,
    }
    made = IssuedReport(new_id(now), visit, pdf.name, printed, now, line_ids=data.lines, facts=facts)
    archive.save(made, by=who(archive, None))
    return made
