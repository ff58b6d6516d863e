"""A report in a folder: PDF, workbook and readings tables, each whole or not there."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from waywright.errors import ReportError
from waywright.report.attached import plain_file_name, table_files
from waywright.report.content import ReportContent
from waywright.report.pdf import pdf_bytes
from waywright.report.workbook import workbook_bytes


@dataclass(frozen=True, slots=True)
class ReportPaths:
    """Where the parts of a report lie; one table a line."""

    pdf: Path
    workbook: Path
    tables: tuple[Path, ...]

    @property
    def table(self) -> Path:
        """The table of the only line, or the first."""
        return self.tables[0]

    @property
    def files(self) -> tuple[Path, ...]:
        """All of them."""
        return (self.pdf, self.workbook, *self.tables)


def write_report(
    content: ReportContent, folder: str | Path, name: str | None = None, data: str | None = None
) -> ReportPaths:
    """Write PDF, workbook and tables into a folder, made if need be; files of the same name are replaced.

    ``name`` is the file name without ending, by default machine, line and state. ``data`` is what lies inside the PDF
    for ``report verify``. Raises ReportError where the folder cannot be written or the pages cannot be set, BadInput
    where a record does not fit the machine.
    """
    place = Path(folder)
    stem = name or file_stem(content)
    tables = table_files(content)
    endings = [""] if len(tables) == 1 else [f"-{number}" for number in range(1, len(tables) + 1)]
    paths = ReportPaths(
        place / f"{stem}.pdf", place / f"{stem}.xlsx", tuple(place / f"{stem}{ending}.csv" for ending in endings)
    )
    try:
        place.mkdir(parents=True, exist_ok=True)
        _replace(paths.pdf, pdf_bytes(content, data))
        _replace(paths.workbook, workbook_bytes(content))
        for path, table in zip(paths.tables, tables, strict=True):
            _replace(path, table.text.encode())
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise ReportError("report.cannot_write", folder=str(place), reason=reason) from problem
    return paths


def file_stem(content: ReportContent) -> str:
    """A file name that every system takes: letters, digits and hyphens; number and revision once it is signed."""
    if content.issue.number is not None and not content.issue.draft:
        return (
            plain_file_name(f"{content.issue.number} {content.machine.name} rev {content.issue.revision}") or "report"
        )
    states = "-".join(dict.fromkeys(each.line.state for each in content.lines))
    line = content.lines[0].line.name if len({each.line.name for each in content.lines}) == 1 else ""
    return plain_file_name(f"{content.machine.name} {line} {states}") or "report"


def _replace(path: Path, data: bytes) -> None:
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(data)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)
