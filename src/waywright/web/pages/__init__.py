"""One file a page; each has a ``register`` that ties it to a desk."""

from __future__ import annotations

from waywright.web.desk import Desk


def register(desk: Desk) -> None:
    """Every page."""
    from waywright.web.pages import judge, start, take

    for page in (start, take, judge):
        page.register(desk)
