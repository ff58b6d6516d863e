"""Journeys in a true Chromium, with a server of its own process and the simulated workshop's real instruments."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browser_pages import Watch, practise, stations, wait_for_stations, window

from pages_server import server
from waywright.archive import open_archive
from waywright.readings import standing

if TYPE_CHECKING:
    from playwright.sync_api import Browser


def test_from_an_empty_start_to_the_report(chromium: Browser, tmp_path: Path) -> None:
    """Practise, arm, reload in the middle, a second page catches up, judge, prove, take the PDF away."""
    watch = Watch()
    with server(tmp_path / "a.sqlite") as served, window(chromium) as context:
        page = watch.page(context)
        practise(page, served.address)
        page.get_by_role("button", name="arm forward and backward").click()
        wait_for_stations(page, 2)
        before = stations(page)
        page.reload()
        wait_for_stations(page, before)
        second = watch.page(context)
        second.goto(page.url)
        wait_for_stations(second, before)
        assert second.locator("[data-live='words']").first.inner_text() != "–"
        carriage = second.locator(".way-broad .carriage").first
        first_place = carriage.bounding_box()
        second.wait_for_function(
            "(left) => Math.abs(document.querySelector('.way-broad .carriage').getBoundingClientRect().x - left) > 4",
            arg=first_place["x"] if first_place else 0.0,
        )
        wait_for_stations(page, 4)
        page.keyboard.press("Space")  # by hand, with the pass running
        page.get_by_role("button", name="stop; go on later").click()
        page.get_by_role("button", name="go on with pass 1").wait_for()
        page.get_by_role("link", name="Judge", exact=True).click()
        page.get_by_role("button", name="minimum zone").click()
        page.locator(".curve svg:visible", has_text="about the minimum-zone line").first.wait_for()
        page.get_by_role("link", name="Prove", exact=True).click()
        page.locator("img.paper-page").first.wait_for()
        with page.expect_download() as download:
            page.get_by_role("link", name="report, PDF").click()
        assert Path(download.value.path()).read_bytes().startswith(b"%PDF-")
        watch.nothing_wrong()


def test_killed_in_the_middle_of_a_pass_and_gone_on(chromium: Browser, tmp_path: Path) -> None:
    archive_file = tmp_path / "a.sqlite"
    with window(chromium) as context:
        page = context.new_page()
        with server(archive_file) as served:
            practise(page, served.address)
            page.get_by_role("button", name="arm forward and backward").click()
            wait_for_stations(page, 2)
            shown = stations(page)
            served.kill()
        with open_archive(archive_file) as archive:
            (line,) = [line for visit in archive.visits() for line in archive.lines(visit.id)]
            (taken,) = archive.passes(line.id)
            kept = standing(archive.readings(taken.id))
            assert len(kept) >= shown  # what was shown is there
            assert taken.outcome is None
            assert archive.check().good
        with server(archive_file) as served:
            page.goto(served.address)
            page.get_by_text("pass 1 was interrupted after").wait_for()
            page.get_by_role("link", name="carriage along the bed, as found").click()
            page.get_by_role("button", name="5 × real time").click()
            page.get_by_role("button", name="open the workshop again").click()
            page.get_by_role("button", name="go on with pass 1").click()
            wait_for_stations(page, len(kept) + 1)
            page.get_by_role("button", name="stop; go on later").click()
            page.get_by_role("button", name="go on with pass 1").wait_for()
            assert served.stop() == 0
        with open_archive(archive_file) as archive:
            (again,) = archive.passes(line.id)
            assert again.id == taken.id
            assert archive.check().good
            assert len(standing(archive.readings(taken.id))) >= len(kept) + 1


def test_a_phone_of_360_pixels_is_paired_and_sees_the_figures(chromium: Browser, tmp_path: Path) -> None:
    with server(tmp_path / "a.sqlite", "--lan") as served:
        outside = next(word for word in served.said[1].split() if word.startswith("http"))
        if "//127." in outside:
            pytest.skip("This computer has no address that a phone could reach.")
        with window(chromium) as desk, window(chromium, 360, 740, ignore_https_errors=True) as pocket:
            page, phone = desk.new_page(), pocket.new_page()
            practise(page, served.address)
            phone.goto(outside)
            assert phone.url.endswith("/pair")
            page.goto(f"{served.address}phones")
            page.get_by_role("button", name="look and take readings").click()
            page.get_by_role("button", name="show a code").click()
            page.locator(".qr svg").wait_for()
            code = page.locator(".figure .value").inner_text().replace(" ", "")
            phone.goto(f"{outside}pair#code={code}")
            phone.get_by_role("button", name="pair").click()
            phone.wait_for_url("**/phone")
            phone.wait_for_function("document.querySelector('[data-fit]').textContent.length > 2")
            hero = phone.locator(".phone-figure.hero [data-fit]").bounding_box()
            assert hero is not None
            assert 250 < hero["width"] <= 360
            assert hero["height"] >= 70
            assert phone.evaluate("document.documentElement.scrollWidth") <= 360
            phone.get_by_role("button", name="take now").click()
            phone.get_by_text("No pass runs.").wait_for()
            page.get_by_role("button", name="end this pairing").click()
            page.get_by_text("No phone is paired.").wait_for()
            phone.goto(f"{outside}phone")
            assert phone.url.endswith("/pair")
