"""One file a page; each has a ``register`` that ties it to a desk."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from waywright.web.desk import Desk
    from waywright.web.report_shelf import ReportShelf


def register(desk: Desk, shelf: ReportShelf) -> None:
    """Every page."""
    from waywright.web.pages import start

    start.register(desk)
    register_others(desk, shelf)


def register_others(desk: Desk, shelf: ReportShelf) -> None:
    """All but the first page."""
    from waywright.web.pages import begin, correct, judge, prove, sheets, take, trust, visit, wizard

    for page in (begin, visit, wizard, sheets, take, trust, judge, correct):
        page.register(desk)
    prove.register(desk, shelf)
