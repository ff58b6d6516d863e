"""The sheet in a true Chromium: typed blind at full speed, by foot switch, by voice, on a phone's width."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browser_pages import Watch, serious_violations, window

from pages_server import server
from waywright.archive import open_archive
from waywright.jobs.sheet_keep import find_sheet, values_of

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

EAR = """
window.SpeechRecognition = class {
  start() { window.ear = this; }
  stop() {}
  say(words) { this.onresult({ results: [[{ transcript: words }]] }); }
};
"""
"""A recogniser that hears what the test says; the browser's own would ask a service."""


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """One server for all: every test begins a sheet of its own."""
    path = tmp_path_factory.mktemp("sheets") / "a.sqlite"
    with server(path) as running:
        yield running.address, path


def begin(page: Page, address: str) -> None:
    """From the first page to a sheet whose first place is asked for."""
    page.goto(address)
    page.get_by_role("link", name="sheets").click()
    page.get_by_role("button", name="begin, and type the first value").click()
    page.wait_for_url("**/sheet/*")
    page.wait_for_function("document.activeElement === document.querySelector('.sheet-input')")


def kept(path: Path) -> list[tuple[float, str]]:
    with open_archive(path) as archive:
        held = values_of(archive, find_sheet(archive, None)).values()
        return [(reading.values[0].mean, reading.taken_by) for reading in sorted(held, key=lambda each: each.number)]


def test_numbers_typed_without_waiting_all_arrive_in_their_order(chromium: Browser, served: tuple[str, Path]) -> None:
    """Fourteen values as fast as keys can be sent: the page must not lose or misplace one while it answers."""
    watch = Watch()
    divisions = (1, -1, 1.5, -1.5, 2, -2, 2.5, -2.5, 1, 0.5, 0, 0, -0.5, -1)
    with window(chromium) as context:
        page = watch.page(context)
        begin(page, served[0])
        for value in divisions:
            page.keyboard.type(str(value))
            page.keyboard.press("Enter")
        page.get_by_text("3 Carriage sideways, value 1 of 5").wait_for()
        assert [value for value, _ in kept(served[1])] == [20.0 * value for value in divisions]
        page.locator(".sheet-row", has_text="Bed across: twist").locator(".row-value", has_text="30.0").wait_for()
        assert serious_violations(page) == []
        watch.nothing_wrong()


def test_a_foot_switch_and_a_spoken_word_confirm(chromium: Browser, served: tuple[str, Path]) -> None:
    watch = Watch()
    with window(chromium) as context:
        context.add_init_script(EAR)
        page = watch.page(context)
        begin(page, served[0])
        page.get_by_text("Foot switch and voice").click()
        page.locator("select.pedal").select_option("F9")
        page.keyboard.type("1.5")
        page.keyboard.press("F9")
        page.get_by_text("foot 1: 1.5 kept").wait_for()
        page.get_by_role("button", name="listen for take and back").click()
        page.evaluate("window.ear.say('minus 1.5')")
        page.wait_for_function("document.querySelector('.sheet-input').value === '-1.5'")
        page.evaluate("window.ear.say('take')")
        page.get_by_text("foot 1, turned: -1.5 kept").wait_for()
        assert kept(served[1]) == [(30.0, "foot-switch"), (-30.0, "spoken")]
        page.evaluate("window.ear.say('back')")
        page.locator(".sheet-place", has_text="foot 1, turned").wait_for()
        assert kept(served[1]) == [(30.0, "foot-switch")]
        watch.nothing_wrong()


def test_on_a_phone_the_entry_comes_first_and_nothing_runs_off(chromium: Browser, served: tuple[str, Path]) -> None:
    with window(chromium, 360, 740) as context:
        page = context.new_page()
        begin(page, served[0])
        page.locator(".sheet-row").first.wait_for()
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        field, first_row = page.locator(".sheet-input").bounding_box(), page.locator(".sheet-row").first.bounding_box()
        assert field is not None
        assert first_row is not None
        assert field["y"] + field["height"] < 740
        assert field["y"] < first_row["y"]
        page.keyboard.type("1")
        page.get_by_role("button", name="keep", exact=True).click()
        page.get_by_text("foot 1: 1 kept").wait_for()
