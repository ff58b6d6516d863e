"""Issued reports: what was written, recorded in the archive with number, revision, hashes, when and by whom."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from pathlib import Path
from uuid import UUID

from waywright.archive import Archive
from waywright.clocks import SystemClock, new_id
from waywright.jobs.attach import attach
from waywright.jobs.people import who
from waywright.jobs.report_order import ReportData, content_sha256
from waywright.visit import IssuedReport


def record_issued(archive: Archive, data: ReportData, pdf: Path, *, keep: bool = False) -> IssuedReport | None:
    """Record a report that was written; the same bytes written again are the same report.

    Number and revision are those that the report itself bears. ``keep`` keeps the PDF itself as an attachment too.
    None where the archive cannot be written: a report of an archive on a read-only medium is allowed.
    """
    printed = hashlib.sha256(pdf.read_bytes()).hexdigest()
    visit = UUID(str(data.visit.visit))
    known = next((each for each in archive.every(IssuedReport, visit) if each.sha256 == printed), None)
    if not archive.writable or (known is not None and (known.attachment_id is not None or not keep)):
        return known
    by, made = who(archive, None), known or _issued(data, visit, pdf.name, printed)
    if keep:
        made = replace(made, attachment_id=attach(archive, made.id, pdf, "report", data.number, by).id)
    archive.save(made, by=by)
    return made


def _issued(data: ReportData, visit: UUID, title: str, sha256: str) -> IssuedReport:
    now = SystemClock().utc()
    facts = {
        "number": data.number,
        "revision": data.revision,
        "root": data.root,
        "content_sha256": content_sha256(data),
        "signatures": len(data.signatures),
        "language": data.order.language,
    }
    return IssuedReport(new_id(now), visit, title, sha256, now, line_ids=data.lines, facts=facts)
