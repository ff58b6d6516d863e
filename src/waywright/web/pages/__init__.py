"""One file a page; each has a ``register`` that ties it to a desk."""

from __future__ import annotations

from waywright.web.desk import Desk
from waywright.web.report_shelf import ReportShelf


def register(desk: Desk, shelf: ReportShelf) -> None:
    """Every page."""
    from waywright.web.pages import begin, correct, judge, prove, sheets, start, take, trust, visit, wizard

    for page in (start, begin, visit, wizard, sheets, take, trust, judge, correct):
        page.register(desk)
    prove.register(desk, shelf)
