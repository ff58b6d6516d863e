"""The fitter's sheet as a PDF of one page; the same content gives the same bytes."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from waywright.correct.instructions import Instruction, Sheet
from waywright.correct.notes import Note
from waywright.drawing import font_folder
from waywright.errors import ReportError
from waywright.wording import spoken, text

TEMPLATE = Path(__file__).with_name("fitter.typ")
_WORDS = ("confirm", "steps", "warnings", "afterwards", "fitter", "date")
_HEAD = ("number", "support", "what", "done")
LARGEST_PT, SMALLEST_PT = 9.5, 5.5


@dataclass(frozen=True, slots=True)
class FitterContent:
    """What the sheet says: the machine, the round's figures (um), the instructions, who made it and when (UTC)."""

    machine: str
    invented: bool
    value_now_um: float
    goal_um: float
    value_um: float
    interval_um: tuple[float, float]
    sheet: Sheet
    made_utc: datetime
    number: int | None = None


def fitter_pdf(content: FitterContent) -> bytes:
    """One page, set as large as it fits. Raises ReportError where even the smallest type needs two pages."""
    size = LARGEST_PT
    while size >= SMALLEST_PT:
        if len(fitter_images(content, size, 20.0)) == 1:
            return _set(content, size)
        size -= 0.5
    raise ReportError("adjust.sheet_too_long", supports=len(content.sheet.instructions))


def fitter_images(content: FitterContent, size_pt: float = LARGEST_PT, pixels_per_inch: float = 110.0) -> list[bytes]:
    """The pages as PNG pictures at one size of type."""
    import typst

    made: Any = typst.compile(
        str(TEMPLATE),
        format="png",
        font_paths=[str(font_folder())],
        ignore_system_fonts=True,
        sys_inputs=_inputs(content, size_pt),
        ppi=pixels_per_inch,
    )
    pages: list[bytes] = made if isinstance(made, list) else [made]
    return [bytes(page) for page in pages]


def _set(content: FitterContent, size_pt: float) -> bytes:
    import typst

    try:
        made = typst.compile(
            str(TEMPLATE),
            format="pdf",
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
            sys_inputs=_inputs(content, size_pt),
            pdf_standards=["a-3a", "ua-1"],
            timestamp=int(content.made_utc.timestamp()),
        )
    except (typst.TypstError, RuntimeError) as problem:
        raise ReportError("report.not_set", reason=str(problem)) from problem
    return bytes(made)


def _inputs(content: FitterContent, size_pt: float) -> dict[str, str]:
    return {"pages": json.dumps(_pages(content, size_pt), ensure_ascii=False)}


def _pages(content: FitterContent, size_pt: float) -> dict[str, object]:
    low, high = content.interval_um
    facts = {"now_um": content.value_now_um, "goal_um": content.goal_um, "value_um": content.value_um,
             "low_um": low, "high_um": high}  # fmt: skip
    number = "" if content.number is None else text("adjust.sheet_round", number=content.number)
    return {
        "size": size_pt,
        "language": spoken(),
        "title": text("adjust.sheet_title", machine=content.machine, round=number),
        "summary": text("adjust.sheet_summary", **facts),
        "invented": text("report.invented") if content.invented else "",
        "footer": text("adjust.sheet_footer"),
        "made": content.made_utc.strftime("%Y-%m-%d %H:%M UTC"),
        "words": {name: text(f"adjust.sheet_{name}") for name in _WORDS},
        "head": [text(f"adjust.sheet_head_{name}") for name in _HEAD],
        "confirm": _said(content.sheet.confirm),
        "rows": [_row(each) for each in content.sheet.instructions],
        "warnings": _said(content.sheet.warnings),
        "afterwards": _said(content.sheet.afterwards),
    }


def _row(each: Instruction) -> dict[str, str]:
    said = _said(each.steps)
    main = next(i for i, step in enumerate(each.steps) if step.facts.get("move_um") is not None)
    return {
        "number": str(each.order),
        "support": each.support,
        "what": " ".join(said[: main + 1]),
        "rest": " ".join(said[main + 1 :]),
    }


def _said(notes: tuple[Note, ...]) -> list[str]:
    return [text(note.key, **note.facts) for note in notes]
