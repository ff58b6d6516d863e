"""The pages as a technician meets them: the first page after the command, and a live figure from line to screen.

Four instruments at 50 Hz send lines with their own counter; three pages are open in a true Chromium. A line is on the
screen once the page has painted a figure at least as new. Run: ``python -m bench.live_pages``; needs the system's
Chromium and the development tools.
"""

from __future__ import annotations

import asyncio
import json
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

RATE_HZ, LISTEN_S, PAGES = 50.0, 20.0, 3
FIRST_PAGE_S, FIGURE_P95_MS = 1.5, 100.0
NAMES = ("beam", "second", "third", "position")
_DESCRIPTION = """\
format = 1
name = "{name}"
title = "benchmark {name}"
[link]
kind = "tcp"
host = "127.0.0.1"
port = {port}
[stream]
pattern = '(?P<v>[-+]?\\d+\\.\\d+)'
rate_hz = 50
[[channel]]
name = "value"
group = "v"
{meaning}
"""
_MEANING = {
    "beam": 'kind = "displacement"\nunit = "um"\npositive = "up"',
    "second": 'kind = "displacement"\nunit = "um"\npositive = "towards-operator"',
    "third": 'kind = "angle"\nunit = "um/m"\npositive = "operator-side-up"',
    "position": 'kind = "position"\nunit = "mm"',
}
# A figure is painted once the frame after its change has been drawn; the page's clock is that of this computer.
_WATCH = """
() => {
  window.painted = [];
  const place = document.querySelector("[data-live='value-EYZ']");
  new MutationObserver(() => {
    const value = Number(place.textContent.replace("\\u2212", "-"));
    requestAnimationFrame(() => requestAnimationFrame(() => window.painted.push([value, Date.now()])));
  }).observe(place, { childList: true, characterData: true, subtree: true });
}
"""


class Talkers:
    """Four instruments in a thread of their own; the first sends its own count as a deviation, a tenth a line."""

    def __init__(self) -> None:
        self.ports: dict[str, int] = {}
        self.sent_s: dict[int, float] = {}
        self._ready = threading.Event()
        threading.Thread(target=lambda: asyncio.run(self._run()), daemon=True).start()
        self._ready.wait()

    async def _run(self) -> None:
        for name in NAMES:
            server = await asyncio.start_server(lambda _, writer, name=name: self._talk(name, writer), "127.0.0.1", 0)
            self.ports[name] = server.sockets[0].getsockname()[1]
        self._ready.set()
        await asyncio.Event().wait()

    async def _talk(self, name: str, writer: asyncio.StreamWriter) -> None:
        began, count = time.monotonic(), 0
        try:
            while True:
                count += 1
                await asyncio.sleep(max(0.0, began + count / RATE_HZ - time.monotonic()))
                if name == "beam":
                    self.sent_s[count] = time.time()
                writer.write(f"{count / 10 if name == 'beam' else 1000.0:.1f}\n".encode())
                await writer.drain()
        except ConnectionError:
            return


def described(folder: Path, talkers: Talkers) -> list[Path]:
    """Description files of the four."""
    made = []
    for name in NAMES:
        file = folder / f"{name}.toml"
        file.write_text(_DESCRIPTION.format(name=name, port=talkers.ports[name], meaning=_MEANING[name]))
        made.append(file)
    return made


def served(archive: Path) -> tuple[subprocess.Popen[str], str, float]:
    """The server, its address, and when the command was given."""
    began = time.monotonic()
    command = [sys.executable, "-m", "waywright", "serve", "--port", "0", "--no-browser", "--archive", str(archive)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    line = process.stdout.readline() if process.stdout else ""
    return process, next(word for word in line.split() if word.startswith("http")), began


def first_page_s(browser: Browser, folder: Path) -> float:
    """From the command to the painted first page, the best of three: the others warmed the disk."""
    taken = []
    for number in range(3):
        process, address, began = served(folder / f"first-{number}.sqlite")
        try:
            page = browser.new_page()
            page.goto(address, wait_until="commit")
            page.locator("h1").first.wait_for()
            taken.append(time.monotonic() - began)
            page.close()
        finally:
            process.terminate()
            process.wait()
    return min(taken)


def figures_ms(browser: Browser, folder: Path) -> list[float]:
    """Milliseconds from line to screen for every figure painted on any of the pages."""
    talkers = Talkers()
    files = described(folder, talkers)
    process, address, _ = served(folder / "a.sqlite")
    try:
        page = browser.new_page()
        connect(page, address, files)
        pages = [page, *(browser.new_page() for _ in range(PAGES - 1))]
        for other in pages[1:]:
            other.goto(page.url)
        for each in pages:
            each.wait_for_function("document.querySelector(\"[data-live='value-EYZ']\")?.textContent.length > 1")
            each.evaluate(_WATCH)
        time.sleep(LISTEN_S)
        painted: list[Any] = [item for each in pages for item in each.evaluate("window.painted")]
    finally:
        process.terminate()
        process.wait()
    late = [(at / 1000.0 - talkers.sent_s[round(value * 10)]) * 1000.0 for value, at in painted
            if round(value * 10) in talkers.sent_s]  # fmt: skip
    return sorted(late)


def connect(page: Page, address: str, files: Sequence[Path]) -> None:
    """A quick look with the four instruments."""
    page.goto(f"{address}begin")
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="choose description files").click()
    chooser.value.set_files([str(file) for file in files])
    page.locator(".note.good").nth(len(files) - 1).wait_for()
    page.get_by_role("button", name="connect and begin").click()
    page.wait_for_url("**/take")


def main() -> None:
    """Print both figures beside their aims."""
    from playwright.sync_api import sync_playwright

    found = shutil.which("chromium") or sys.exit("Install your system's chromium package first.")
    with tempfile.TemporaryDirectory() as name, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
        folder = Path(name)
        first = first_page_s(browser, folder)
        late = figures_ms(browser, folder)
        p95 = late[int(0.95 * len(late))]
        print(json.dumps({
            "first_page_s": round(first, 2), "first_page_aim_s": FIRST_PAGE_S,
            "figures": len(late), "figure_median_ms": round(statistics.median(late), 1),
            "figure_p95_ms": round(p95, 1), "figure_p95_aim_ms": FIGURE_P95_MS,
        }, indent=1))  # fmt: skip
        browser.close()


if __name__ == "__main__":
    main()
