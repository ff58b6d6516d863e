"""The sheets of tests of a visit, as rows and sentences ready to print."""

from __future__ import annotations

from typing import Any

from waywright.report.content import ReportContent
from waywright.report.content_sheet import SheetListedContent, SheetTestContent
from waywright.report.saying import Saying

_COLUMNS = ("number", "what", "permissible", "measured", "verdict", "why")


def sheet_parts(content: ReportContent) -> list[dict[str, Any]]:
    """Each sheet: its title, how many tests have each verdict, who has to prove, and its tests row by row."""
    say = Saying(content)
    head = [say.of(f"sheet.print.{name}") for name in _COLUMNS]
    return [
        {"title": each.title, "said": _said(say, each), "head": head, "rows": [_row(say, test) for test in each.tests]}
        for each in content.sheets
    ]


def _said(say: Saying, each: SheetListedContent) -> list[str]:
    note = [each.note] if each.note else []
    if each.unread is not None:
        return [say.said(each.unread), *note]
    parts = [say.of(f"sheet.count.{_key(name)}", count=count) for name, count in each.counts.items()]
    burden = f"{say.of('sheet.print.burden')}: {say.of(f'sheet.burden.{each.burden}')}"
    return [say.of("sheet.summary", rows=len(each.tests), parts=", ".join(parts)), burden, *note]


def _row(say: Saying, test: SheetTestContent) -> list[str]:
    measured = " ".join(part for part in (test.measured, test.expanded, test.unit) if part) if test.measured else "–"
    return [
        test.number,
        test.what,
        test.permissible or say.of("sheet.print.no_limit"),
        measured,
        say.of(f"sheet.verdict.{_key(test.verdict)}"),
        " ".join(say.said(reason) for reason in test.why) or "–",
    ]


def _key(verdict: str) -> str:
    return verdict.replace(" ", "-")
