"""The pages around an archive made for a test, opened by a simulated user in the same process."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import asynccontextmanager
from pathlib import Path

from nicegui.testing import User
from nicegui.testing.user_simulation import user_simulation

from waywright.web import pages
from waywright.web.desk import Desk
from waywright.web.pages import phones
from waywright.web.pairing import Pairings
from waywright.web.report_shelf import ReportShelf

Story = Callable[[User, Desk], Awaitable[None]]


@asynccontextmanager
async def opened_pages(archive: Path) -> AsyncIterator[tuple[User, Desk]]:
    """A user and the desk that the pages belong to; everything is closed at the end."""
    async with user_simulation() as user:
        desk = Desk(archive)
        desk.loop = asyncio.get_running_loop()
        pages.register(desk, ReportShelf(desk))
        phones.register(Pairings(), None)
        try:
            yield user, desk
        finally:
            await desk.close()


def tell(archive: Path, story: Story) -> None:
    """Run a story from beginning to end."""

    async def told() -> None:
        async with opened_pages(archive) as (user, desk):
            await story(user, desk)

    asyncio.run(told())


async def until(condition: Callable[[], bool], seconds: float = 30.0) -> None:
    """Wait for something that another thread does; the test fails where it never comes."""
    async with asyncio.timeout(seconds):
        while not condition():
            await asyncio.sleep(0.02)


async def see(user: User, words: str) -> None:
    """Wait until the page shows something, as a person would."""
    await user.should_see(words, retries=600)


async def gone(user: User, words: str) -> None:
    """Wait until the page does not show something any more."""
    await user.should_not_see(words, retries=600)


def fill(user: User, label: str, value: object) -> None:
    """Write on the line of exactly this label."""
    from nicegui import ui

    found = [each for each in user.find(kind=ui.element).elements if each.props.get("label") == label]
    assert len(found) == 1, f"{len(found)} lines are labelled {label!r}"
    found[0].set_value(value)  # type: ignore[attr-defined]
