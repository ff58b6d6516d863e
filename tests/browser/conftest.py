"""A true Chromium, the system's own, driven by Playwright."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


# One module only: while it is open Playwright keeps an event loop running here, and no other test could run its own.
@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """The browser; without one these tests are skipped, and fail where everything has to be there (CI)."""
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None:
        sentence = "No Chromium on this computer: install your system's chromium package to run the browser journeys."
        if os.environ.get("CI", "").lower() == "true":
            pytest.fail(sentence)
        pytest.skip(sentence)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield browser
        browser.close()
