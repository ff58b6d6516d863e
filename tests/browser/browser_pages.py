"""Pages in a browser that hear everything that must not happen: errors, and requests that leave this computer."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

PATIENCE_MS = 60_000
"""For a computer that has much else to do; nothing is measured by it."""


class Watch:
    """What a browser said and asked for."""

    def __init__(self) -> None:
        self.errors: list[str] = []
        self.left: list[str] = []

    def page(self, context: BrowserContext) -> Page:
        """A new page that is listened to."""
        page = context.new_page()
        page.on("console", lambda said: self.errors.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("request", lambda request: self._asked(request.url))
        return page

    def _asked(self, url: str) -> None:
        asked = urlsplit(url)
        if asked.scheme not in ("data", "blob") and asked.hostname not in ("127.0.0.1", "localhost"):
            self.left.append(url)

    def nothing_wrong(self) -> None:
        """Fail where anything was heard."""
        assert self.errors == []
        assert self.left == []


@contextmanager
def window(browser: Browser, width: int = 1440, height: int = 900, **more: object) -> Iterator[BrowserContext]:
    """A browser window of a size, with nothing remembered."""
    context = browser.new_context(viewport={"width": width, "height": height}, **more)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE_MS)
    try:
        yield context
    finally:
        context.close()


def practise(page: Page, address: str, pace: int = 5) -> None:
    """From the first page to instruments that are heard."""
    page.goto(address)
    page.get_by_role("button", name=f"{pace} × real time").click()
    page.get_by_role("button", name="practise with the simulated workshop").click()
    page.wait_for_url("**/take")


def stations(page: Page) -> int:
    """How many stations the page says are saved."""
    said = page.locator("h3", has_text="all saved").inner_text()
    return int(said.partition(":")[2].split()[0])


def wait_for_stations(page: Page, number: int) -> None:
    """Until the page shows so many readings."""
    rows = "(document.querySelector('.readings')?.querySelectorAll('tbody tr').length ?? 0)"
    page.wait_for_function(f"(number) => {rows} >= number", arg=number)


def serious_violations(page: Page) -> list[str]:
    """What axe-core finds serious or critical on a page, with the place."""
    axe = Path(__file__).with_name("axe.min.js").read_text(encoding="utf-8")
    page.evaluate(axe)
    found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")
    return [
        f"{item['id']}: {node['html'][:160]}"
        for item in found["violations"]
        if item["impact"] in ("serious", "critical")
        for node in item["nodes"]
    ]
