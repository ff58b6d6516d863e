"""The pages of the report as pictures, to be looked at before it is written."""

from __future__ import annotations

import json

from waywright.drawing import font_folder
from waywright.errors import ReportError
from waywright.report.content import ReportContent
from waywright.report.pages import pages_of
from waywright.report.pdf import TEMPLATE
from waywright.report.settable import settable


def page_images(content: ReportContent, ppi: float = 120.0) -> tuple[bytes, ...]:
    """One PNG a page, as the PDF will be printed. Raises ReportError where the pages cannot be set."""
    import typst

    pages = settable(pages_of(content)) | {"attached": []}  # pictures carry none
    try:
        made = typst.compile(
            str(TEMPLATE),
            format="png",
            ppi=ppi,
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
            sys_inputs={"pages": json.dumps(pages, ensure_ascii=False)},
            timestamp=int(content.made_utc.timestamp()),
        )
    except (typst.TypstError, RuntimeError) as problem:
        raise ReportError("report.not_set", reason=str(problem)) from problem
    return tuple(bytes(page) for page in ([made] if isinstance(made, bytes) else made or []))
