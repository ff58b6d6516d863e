"""Pictures of the pages for this documentation, from the simulated workshop in a true Chromium.

Run with the development tools: ``python docs/make_pictures.py``. Needs the system's Chromium; takes some five minutes.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

PICTURES = Path(__file__).with_name("pictures")
WIDTH, HEIGHT = 1440, 900


def main() -> None:
    """Serve an empty archive, practise, and take a picture of every page."""
    from playwright.sync_api import sync_playwright

    browser = shutil.which("chromium") or sys.exit("Install your system's chromium package first.")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        command = [sys.executable, "-m", "waywright", "serve", "--port", "0", "--no-browser"]
        served = subprocess.Popen([*command, "--archive", f"{folder}/a.sqlite"], stdout=subprocess.PIPE, text=True)
        try:
            address = next(word for word in served.stdout.readline().split() if word.startswith("http"))  # type: ignore[union-attr]
            chromium = playwright.chromium.launch(executable_path=browser, args=["--no-sandbox"])
            page = chromium.new_page(viewport={"width": WIDTH, "height": HEIGHT})
            page.set_default_timeout(300_000)
            take_pictures(page, address, chromium)
        finally:
            served.terminate()
            served.wait()


def take_pictures(page: Page, address: str, chromium: Browser) -> None:
    """One after the other, in the order of the job."""
    page.goto(address)
    shot(page, "start")
    page.get_by_role("button", name="5 × real time").click()
    page.get_by_role("button", name="practise with the simulated workshop").click()
    page.wait_for_url("**/take")
    page.locator("button:enabled", has_text="arm forward and backward").wait_for()
    line = page.url.removesuffix("/take")
    test_the_set_up(page, line)
    page.goto(f"{line}/take")
    page.locator("button:enabled", has_text="arm forward and backward").click()
    page.wait_for_function("document.querySelectorAll('.readings tbody tr').length >= 12")
    shot(page, "take")
    phone = chromium.new_page(viewport={"width": 360, "height": 740})
    phone.goto(f"{address}phone")
    phone.wait_for_function("document.querySelector('[data-fit]')?.textContent.length > 2")
    phone.screenshot(path=PICTURES / "phone.png")
    page.get_by_role("link", name="judge", exact=True).wait_for()
    judge_and_correct(page, line)
    page.goto(f"{line}/prove")
    page.locator("img.paper-page").first.wait_for()
    page.wait_for_function("document.querySelector('img.paper-page')?.naturalWidth > 0")
    shot(page, "prove")


def test_the_set_up(page: Page, line: str) -> None:
    """The direction test, and the beam drawn."""
    page.goto(f"{line}/trust?test=alignment")
    for place in ("near", "far"):
        page.get_by_role("button", name=f"drive {place}").click()
        page.wait_for_timeout(9_000)
        page.get_by_role("button", name="read here").click()
        page.locator("button:enabled", has_text="read here").wait_for()
        page.locator("li", has_text="m from the source").nth(0 if place == "near" else 1).wait_for()
    page.locator(".curve svg").first.wait_for()
    shot(page, "trust", full=True)


def judge_and_correct(page: Page, line: str) -> None:
    """Values with their verdict; a plan, a round, the first support."""
    page.goto(f"{line}/judge")
    page.get_by_label("tolerance rule").fill("0.03")
    page.locator(".verdict").first.wait_for()
    shot(page, "judge")
    page.locator(".bed-view").scroll_into_view_if_needed()
    page.locator("section", has=page.locator(".bed-view")).screenshot(path=PICTURES / "bed.png")
    page.goto(f"{line}/correct")
    page.get_by_label("why supports are turned all the same").fill("top and foot of the bed read alike since morning")
    page.get_by_role("button", name="go on to the plan").click()
    page.get_by_role("button", name="work out what to turn").click()
    page.get_by_role("button", name="begin this round").wait_for()
    shot(page, "correct")


def shot(page: Page, name: str, *, full: bool = False) -> None:
    """A picture once everything has come to rest."""
    page.wait_for_load_state("networkidle")
    page.screenshot(path=PICTURES / f"{name}.png", full_page=full)


if __name__ == "__main__":
    main()
