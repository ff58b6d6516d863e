"""The report as PDF/A-3a with accessible tags (PDF/UA-1); the same content gives the same bytes."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from waywright.drawing import font_folder
from waywright.errors import ReportError
from waywright.report.attached import attached_files
from waywright.report.content import ReportContent
from waywright.report.pages import pages_of
from waywright.report.settable import settable, without_unknown

TEMPLATE = Path(__file__).with_name("report.typ")
_CHARACTERS = 200
"""Attempts: a report that needs more characters that no font has is not readable anyway."""


def pdf_bytes(content: ReportContent, data: str | None = None) -> bytes:
    """The report as a PDF file, its readings attached, and ``data`` (JSON) where given.

    Raises ReportError where it cannot be set.
    """
    import typst

    pages = settable(pages_of(content))
    for _ in range(_CHARACTERS):
        attached = [asdict(each) for each in attached_files(content, pages, data)]
        try:
            return _set(pages | {"attached": attached}, content)
        except (typst.TypstError, RuntimeError) as problem:
            known = without_unknown(pages, str(problem))
            if known is None:
                raise ReportError("report.not_set", reason=str(problem)) from problem
            pages = known
    raise ReportError("report.not_set", reason="")


def _set(pages: dict[str, Any], content: ReportContent) -> bytes:
    import typst

    made = typst.compile(
        str(TEMPLATE),
        format="pdf",
        font_paths=[str(font_folder())],
        ignore_system_fonts=True,
        sys_inputs={"pages": json.dumps(pages, ensure_ascii=False)},
        pdf_standards=["a-3a", "ua-1"],
        timestamp=int(content.made_utc.timestamp()),
    )
    return bytes(made)
