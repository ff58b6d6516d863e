"""One file a page; each has a ``register`` that ties it to a desk."""

from __future__ import annotations

from waywright.web.desk import Desk
from waywright.web.pages import start


def register(desk: Desk) -> None:
    """Every page."""
    for page in (start,):
        page.register(desk)
