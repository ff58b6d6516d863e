"""What lies inside the PDF: the readings of every line as tables, and all data the report was computed from."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from waywright.files.table_writer import text_of
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent
from waywright.report.saying import Saying
from waywright.report.table import TABLE_NAME, line_table
from waywright.wording import speaking

DATA_NAME = "visit.json"


@dataclass(frozen=True, slots=True)
class AttachedFile:
    """A file inside the PDF; ``relationship`` is that of PDF/A-3 ("data" or "source")."""

    name: str
    text: str
    mime: str
    relationship: str
    description: str


def attached_files(content: ReportContent, data: str | None) -> tuple[AttachedFile, ...]:
    """The tables of all lines, and the data of the visit (JSON text) where they are given."""
    with speaking(content.language.partition("+")[0]):
        return _attached(content, data)


def _attached(content: ReportContent, data: str | None) -> tuple[AttachedFile, ...]:
    say = Saying(content)
    tables = tuple(
        AttachedFile(
            table_name(content, line), text_of(line_table(content, line)), "text/csv", "data",
            say.of("report.attached", line=say.line_name(line)),
        )
        for line in content.lines
    )  # fmt: skip
    if data is None:
        return tables
    made = AttachedFile(DATA_NAME, data, "application/json", "source", say.of("report.attached_data"))
    return (*tables, made)


def table_name(content: ReportContent, line: LineContent) -> str:
    """``readings.csv`` for the only line; with several their place and name."""
    if len(content.lines) == 1:
        return TABLE_NAME
    number = next(index for index, each in enumerate(content.lines, start=1) if each is line)
    return f"readings-{number}-{plain_file_name(line.line.name)}-{line.line.state}.csv"


def plain_file_name(words: str) -> str:
    """Words as a file name that every system takes: letters, digits and hyphens."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")[:80]
