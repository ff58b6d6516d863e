"""A report in a folder: PDF, workbook and readings table, each whole or not there."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path

from waywright.errors import ReportError
from waywright.files import write_table
from waywright.report.content import ReportContent
from waywright.report.pdf import pdf_bytes
from waywright.report.table import report_table
from waywright.report.workbook import workbook_bytes


@dataclass(frozen=True, slots=True)
class ReportPaths:
    """Where the parts of a report lie."""

    pdf: Path
    workbook: Path
    table: Path


def write_report(content: ReportContent, folder: str | Path, name: str | None = None) -> ReportPaths:
    """Write PDF, workbook and table into a folder, made if need be; files of the same name are replaced.

    ``name`` is the file name without ending, by default machine, line and state. Raises ReportError where the folder
    cannot be written or the pages cannot be set, BadInput where a record does not fit the machine.
    """
    place = Path(folder)
    stem = name or file_stem(content)
    paths = ReportPaths(*(place / f"{stem}.{ending}" for ending in ("pdf", "xlsx", "csv")))
    try:
        place.mkdir(parents=True, exist_ok=True)
        _replace(paths.pdf, pdf_bytes(content))
        _replace(paths.workbook, workbook_bytes(content))
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise ReportError("report.cannot_write", folder=str(place), reason=reason) from problem
    write_table(paths.table, report_table(content))
    return paths


def file_stem(content: ReportContent) -> str:
    """A file name that every system takes: letters, digits and hyphens."""
    words = f"{content.machine.name} {content.line.name} {content.line.state}"
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-") or "report"


def _replace(path: Path, data: bytes) -> None:
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
