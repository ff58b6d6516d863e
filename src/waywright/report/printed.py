"""A report read back: what is printed on its pages, how they are drawn, and what lies inside. Bounded, never run."""

from __future__ import annotations

import io
import logging
import re
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from waywright.errors import BadInput
from waywright.report.attached import DATA_NAME

if TYPE_CHECKING:
    from collections.abc import Iterator

LARGEST_PDF = 100_000_000
MOST_PAGES, MOST_FILES = 2000, 200
_WORD = re.compile(r"\S+")


@dataclass(frozen=True, slots=True)
class PrintedPage:
    """The words of a page in the order printed, and the drawing commands of the page as they stand in the file."""

    words: tuple[str, ...]
    drawn: bytes


@dataclass(frozen=True, slots=True)
class PrintedReport:
    """What a PDF says: its pages, the files inside by name, and whether somebody signed the file."""

    pages: tuple[PrintedPage, ...]
    files: dict[str, bytes]
    signed: bool

    @property
    def data(self) -> bytes | None:
        """What the report was computed from, or None where it is not inside."""
        return self.files.get(DATA_NAME)


def read_printed(path: Path) -> PrintedReport:
    """Read a report. Raises BadInput for what cannot be read, is too large, or is no PDF."""
    try:
        if path.stat().st_size > LARGEST_PDF:
            raise BadInput("report_verify.too_large", file=path.name, limit_mb=LARGEST_PDF / 1e6)
        data = path.read_bytes()
    except OSError as problem:
        reason = problem.strerror or type(problem).__name__
        raise BadInput("files.cannot_read", file=str(path), reason=reason) from problem
    return printed(data, path.name)


def printed(data: bytes, name: str) -> PrintedReport:
    """Read a report from its bytes. Raises BadInput for what is no PDF or is built to harm."""
    import pypdf

    if b"%PDF-" not in data[:1024] or b"startxref" not in data[-4096:]:
        raise BadInput("report_verify.not_a_pdf", file=name, detail="no beginning or no end of one")
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        reader = pypdf.PdfReader(io.BytesIO(data), strict=False)
        if reader.is_encrypted:
            raise BadInput("report_verify.locked", file=name)
        if len(reader.pages) > MOST_PAGES:
            raise BadInput("report_verify.too_many_pages", file=name, limit=MOST_PAGES)
        pages = tuple(_page(page) for page in reader.pages)
        return PrintedReport(pages, dict(_files(reader, name)), _signed(reader))
    except BadInput:
        raise
    except RecursionError as problem:
        raise BadInput("report_verify.not_a_pdf", file=name, detail="nested too deeply") from problem
    except Exception as problem:  # whatever a broken or hostile PDF makes the library raise
        raise BadInput(
            "report_verify.not_a_pdf", file=name, detail=str(problem)[:120] or type(problem).__name__
        ) from problem


def _page(page: Any) -> PrintedPage:
    contents = page.get_contents()
    return PrintedPage(tuple(_WORD.findall(page.extract_text())), b"" if contents is None else contents.get_data())


def _files(reader: Any, name: str) -> Iterator[tuple[str, bytes]]:
    for found, (each, contents) in enumerate(reader.attachments.items(), start=1):
        if found > MOST_FILES:
            raise BadInput("report_verify.too_many_files", file=name, limit=MOST_FILES)
        yield each, contents[-1]


def _signed(reader: Any) -> bool:
    fields = reader.get_fields() or {}
    return any(str(field.get("/FT")) == "/Sig" and field.get("/V") is not None for field in fields.values())
