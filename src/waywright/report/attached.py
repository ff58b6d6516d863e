"""What lies inside the PDF: the readings of every line as tables, and all data the report was computed from."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from waywright.files.table_writer import text_of
from waywright.report.content import ReportContent
from waywright.report.content_line import LineContent
from waywright.report.saying import Saying
from waywright.report.table import TABLE_NAME, line_table
from waywright.wording import speaking

DATA_NAME = "visit.json"
PRINTED_NAME = "report.json"


@dataclass(frozen=True, slots=True)
class AttachedFile:
    """A file inside the PDF; ``relationship`` is that of PDF/A-3 ("data" or "source")."""

    name: str
    text: str
    mime: str
    relationship: str
    description: str


def attached_files(content: ReportContent, pages: Mapping[str, Any], data: str | None) -> tuple[AttachedFile, ...]:
    """The tables of all lines, all that ``pages`` print as JSON, and the data of the visit (JSON) where given."""
    with speaking(content.language.partition("+")[0]):
        say = Saying(content)
        words = AttachedFile(
            PRINTED_NAME, printed_json(pages), "application/json", "alternative", say.of("report.attached_printed")
        )
        found = (*table_files(content), words)
        if data is None:
            return found
        return (*found, AttachedFile(DATA_NAME, data, "application/json", "source", say.of("report.attached_data")))


def table_files(content: ReportContent) -> tuple[AttachedFile, ...]:
    """The readings table of every line."""
    with speaking(content.language.partition("+")[0]):
        say = Saying(content)
        return tuple(
            AttachedFile(
                table_name(content, line), text_of(line_table(content, line)), "text/csv", "data",
                say.of("report.attached", line=say.line_name(line)),
            )
            for line in content.lines
        )  # fmt: skip


def printed_json(pages: Mapping[str, Any]) -> str:
    """Every word and figure of the pages as JSON, without the drawings (their descriptions stay)."""
    return json.dumps(_without_drawings(pages), ensure_ascii=False, indent=1) + "\n"


def _without_drawings(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {name: _without_drawings(item) for name, item in value.items() if name != "svg"}
    return [_without_drawings(item) for item in value] if isinstance(value, list | tuple) else value


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
