"""The alarm while a support is turned, in a true Chromium: it covers the window, sounds, and ends at its press only."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from browser_pages import Watch, serious_violations, window

if TYPE_CHECKING:
    from playwright.sync_api import Browser

TESTS = Path(__file__).resolve().parent.parent
COUNTS_TONES = (
    "window.tones = 0; const start = OscillatorNode.prototype.start;"
    "OscillatorNode.prototype.start = function (...given) { window.tones += 1; return start.apply(this, given); };"
)


@contextmanager
def turning(archive: Path) -> Iterator[tuple[dict[str, Any], Any]]:
    """A server whose readings are told by the test."""
    command = [sys.executable, str(TESTS / "turning_server.py"), str(archive)]
    process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=TESTS)
    assert process.stdin is not None
    assert process.stdout is not None

    def reads(position_mm: float, height_um: float) -> None:
        process.stdin.write(json.dumps([position_mm, height_um]) + "\n")  # type: ignore[union-attr]
        process.stdin.flush()  # type: ignore[union-attr]

    try:
        yield json.loads(process.stdout.readline()), reads
    finally:
        process.stdin.close()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        process.stdout.close()


def test_the_alarm_fills_every_screen_until_it_is_seen(chromium: Browser, tmp_path: Path) -> None:
    watch = Watch()
    with turning(tmp_path / "a.sqlite") as (told, reads), window(chromium, 1366, 768) as context:
        context.add_init_script(COUNTS_TONES)
        page, phone = watch.page(context), watch.page(context)
        phone.set_viewport_size({"width": 360, "height": 740})
        phone.goto(f"{told['address']}phone")
        page.goto(f"{told['address']}line/{told['line']}/correct")
        page.get_by_role("button", name="start turning").click()
        page.wait_for_function("document.querySelector('[data-live=turn-words]')?.textContent.includes('to go')")
        reads(told["at_mm"], 4.0)
        page.wait_for_function("document.querySelector('[data-live=turn-value]').textContent === '+1.0'")
        phone.wait_for_function("document.querySelector('[data-live=turn-value]').textContent === '+1.0'")
        assert phone.evaluate("document.documentElement.scrollWidth") <= 360
        value = phone.locator("[data-live=turn-value]").bounding_box()
        assert value is not None
        assert value["height"] >= 80, "a figure of 20 mm is read at 5 m"
        assert page.evaluate("window.tones") == 0
        reads(told["at_mm"] + 6.0, 4.0)
        alarm = page.get_by_role("alertdialog", name="Stop")
        alarm.wait_for()
        assert alarm.bounding_box() == {"x": 0, "y": 0, "width": 1366, "height": 768}
        assert "The carriage has moved by 6.0 mm" in alarm.inner_text()
        page.wait_for_function("window.tones >= 2")
        on_phone = phone.get_by_role("alertdialog", name="Stop")
        on_phone.wait_for()
        assert on_phone.bounding_box() == {"x": 0, "y": 0, "width": 360, "height": 740}
        assert phone.locator("[data-alarm] [data-mute]").is_visible(), "not touched yet: it says so"
        for key in ("Space", "Backspace", "Escape"):  # a presenter, a foot switch
            page.keyboard.press(key)
        page.mouse.click(1300, 500)
        reads(told["at_mm"], 4.0)
        page.wait_for_timeout(300)
        assert alarm.is_visible()
        assert serious_violations(page) == []
        page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.wait_for_timeout(200)
        assert alarm.is_visible()
        page.keyboard.press("Enter")
        alarm.wait_for(state="hidden")
        on_phone.wait_for(state="hidden")
        page.get_by_role("button", name="start turning").wait_for()
        page.get_by_text("Round 1: The carriage has moved by 6.0 mm").wait_for()
        watch.nothing_wrong()
