"""A sheet of tests as PDF, blank for paper or filled; the same content gives the same bytes."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from waywright.drawing import font_folder
from waywright.errors import ReportError
from waywright.report.sheet_content import SheetContent
from waywright.wording import text

TEMPLATE = Path(__file__).with_name("sheet.typ")
_HEADS = ("number", "picture", "what", "readings", "permissible", "measured", "verdict", "remark")
_BUDGET = ("contribution", "value", "distribution", "source", "adds")


def sheet_pdf(content: SheetContent) -> bytes:
    """The sheet as a PDF file (PDF/A-3a, PDF/UA-1). Raises ReportError where it cannot be set."""
    import typst

    try:
        made = typst.compile(
            str(TEMPLATE),
            format="pdf",
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
            sys_inputs={"pages": json.dumps(_pages(content), ensure_ascii=False)},
            pdf_standards=["a-3a", "ua-1"],
            timestamp=int(content.made_utc.timestamp()),
        )
    except (typst.TypstError, RuntimeError) as problem:
        raise ReportError("report.not_set", reason=str(problem)) from problem
    return bytes(made)


def sheet_images(content: SheetContent, pixels_per_inch: float = 110.0) -> tuple[bytes, ...]:
    """The pages as PNG pictures."""
    import typst

    made: Any = typst.compile(str(TEMPLATE), format="png", font_paths=[str(font_folder())], ignore_system_fonts=True,
                         sys_inputs={"pages": json.dumps(_pages(content), ensure_ascii=False)},
                         ppi=pixels_per_inch)  # fmt: skip
    return tuple(made) if isinstance(made, list) else (bytes(made),)


def _pages(content: SheetContent) -> dict[str, object]:
    """The content as plain data, with the words that stand around it."""
    words = {name: text(f"sheet.print.{name}", content.language) for name in (*_HEADS, *_BUDGET, *_WORDS)}
    return asdict(content) | {"words": words, "made_utc": content.made_utc.strftime("%Y-%m-%d %H:%M UTC")}


_WORDS = ("undecided", "causes", "uncertainty", "origin", "page", "signed", "date")
