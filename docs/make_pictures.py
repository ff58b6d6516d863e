"""Pictures of the pages for this documentation, from the simulated workshop in a true Chromium.

Run with the development tools: ``python docs/make_pictures.py``. Needs the system's Chromium; takes some three minutes.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page

PICTURES = Path(__file__).with_name("pictures")
WORDS = ("judge", "prove")


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
            page = chromium.new_page(viewport={"width": 1440, "height": 900})
            page.set_default_timeout(300_000)
            take_pictures(page, address)
        finally:
            served.terminate()
            served.wait()


def take_pictures(page: Page, address: str) -> None:
    """One after the other, in the order of the job."""
    page.goto(address)
    page.get_by_role("button", name="5 × real time").click()
    page.get_by_role("button", name="practise with the simulated workshop").click()
    page.get_by_role("button", name="arm forward and backward").click()
    page.wait_for_function("document.querySelectorAll('.readings tbody tr').length >= 12")
    page.screenshot(path=PICTURES / "take.png")
    page.get_by_role("link", name="judge", exact=True).wait_for()
    for word in WORDS:
        page.get_by_role("link", name=word.capitalize(), exact=True).click()
        page.wait_for_load_state("networkidle")
        page.wait_for_function("[...document.images].every((picture) => picture.complete && picture.naturalWidth)")
        page.screenshot(path=PICTURES / f"{word}.png")


if __name__ == "__main__":
    main()
