"""Short journeys over a line that was measured before: judging, correcting, proving, reading in another language."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from browser_pages import Watch, serious_violations, window

from jobs.made_line import LATHE, begin_line, take_pass
from pages_server import Server, server
from waywright.archive import open_archive
from waywright.jobs.new_machine import plain_machine

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c4944415408d763f8cfc0000003010100"
    "18dd8db00000000049454e44ae426082"
)


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server with a line measured forward and back; ``line`` is its id."""
    folder = tmp_path_factory.mktemp("measured")
    with open_archive(folder / "a.sqlite", create=True) as archive:
        begun = begin_line(archive, folder)
        take_pass(archive, begun, 1)
        take_pass(archive, begun, 2)
        made_bed = plain_machine("-", "lathe", LATHE.axes, bed_length_mm=6400.0, supports_in_a_row=6).bed
        assert made_bed is not None
        known = tuple(replace(each, lift_um_per_turn=500.0, smallest_step_um=1.0) for each in made_bed.supports)
        bed = replace(made_bed, supports=known, bending_n_m2=2e6, mass_kg=1500.0)
        archive.save(replace(begun.machine, bed=bed), reason="its supports counted")
    with server(folder / "a.sqlite") as made:
        made.line = str(begun.line.id)
        made.visit = str(begun.visit.id)
        yield made


def opened(page: Page, served: Server, word: str) -> None:
    """One of the pages of the line."""
    page.goto(f"{served.address}line/{served.line}/{word}")
    page.locator(".page").wait_for()


def test_a_rule_is_judged_and_the_bed_turned_by_the_keyboard(chromium: Browser, served: Server) -> None:
    watch = Watch()
    with window(chromium, 1366, 768) as context:
        page = watch.page(context)
        opened(page, served, "judge")
        page.get_by_label("tolerance rule").fill("10 um")
        page.locator(".verdict.outside", has_text="does not conform").first.wait_for()
        page.get_by_label("tolerance rule").fill("100 um")
        page.locator(".verdict.inside", has_text="conforms").first.wait_for()
        page.get_by_role("button", name="minimum zone").click()
        page.locator(".curve svg:visible", has_text="about the minimum-zone line").first.wait_for()
        view = page.locator(".bed-view")
        before = view.inner_html()
        view.focus()
        page.keyboard.press("ArrowRight")
        assert view.inner_html() != before
        watch.nothing_wrong()


def test_the_way_drawing_opens_stations_and_supports_from_both_sides(chromium: Browser, served: Server) -> None:
    watch = Watch()
    for width in (1366, 360):
        with window(chromium, width, 740) as context:
            page = watch.page(context)
            opened(page, served, "judge")
            drawing = page.locator(".way svg:visible")
            drawing.locator("[data-support]").nth(2).click(force=True)
            page.get_by_text("one turn lifts").wait_for()
            page.get_by_role("button", name="close").click()
            page.get_by_text("one turn lifts").wait_for(state="detached")
            drawing.locator(".point").nth(4).click(force=True)
            page.get_by_role("button", name="leave this reading out").first.wait_for()
            page.get_by_role("button", name="close").click()
            page.get_by_role("button", name="seen from above").click()
            page.get_by_role("button", name="seen from the side").wait_for()
            assert page.evaluate("document.documentElement.scrollWidth") <= width
    watch.nothing_wrong()


def test_from_the_bow_to_the_first_support_on_a_phone_s_width(chromium: Browser, served: Server) -> None:
    """Gate, plan, round, each confirmation on its own, the first support with its ring; nothing wider than 360 px."""
    watch = Watch()
    with window(chromium, 360, 740) as context:
        page = watch.page(context)
        opened(page, served, "correct")
        page.get_by_label("why supports are turned all the same").fill("top and foot read alike")
        page.get_by_role("button", name="go on to the plan").click()
        page.get_by_role("button", name="work out what to turn").click()
        page.get_by_role("button", name="begin this round").click()
        answers = iter(("main switch off, padlock 14", "no vertical axis here", "cribs of oak under both ends"))
        confirm = page.get_by_role("button", name="confirm:")
        confirm.first.wait_for()
        for left in range(confirm.count(), 0, -1):
            first = page.locator(".gap").first
            label = first.locator("label").first.inner_text()
            first.locator("input").fill("5000" if "maker" in label else next(answers))
            confirm.first.click()
            page.wait_for_function(f"document.querySelectorAll('.gap input').length < {left}")
        page.get_by_text("turn now · 1 of ").wait_for()
        page.get_by_role("button", name="start turning").wait_for()
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        page.get_by_role("button", name="done, next support").click()
        page.get_by_text("turn now · 2 of ").wait_for()
    watch.nothing_wrong()


def test_notes_photos_and_every_file_can_be_taken_away(chromium: Browser, served: Server, tmp_path: Path) -> None:
    watch = Watch()
    picture = tmp_path / "set-up.png"
    picture.write_bytes(PNG)
    with window(chromium, 1366, 768) as context:
        page = watch.page(context)
        opened(page, served, "prove")
        page.get_by_label("words", exact=True).fill("The cover over the front way could not be taken off.")
        page.get_by_role("button", name="add to the report").click()
        page.get_by_text("remark: The cover over").wait_for()
        page.get_by_label("caption of the next photo").fill("source at the tailstock")
        with page.expect_file_chooser() as chooser:
            page.get_by_role("button", name="add photos").click()
        chooser.value.set_files(picture)
        page.locator(".photo img[alt='source at the tailstock']").wait_for()
        page.get_by_role("button", name="the whole visit").click()
        page.locator("img.paper-page").first.wait_for()
        for name, start in (("report, PDF", b"%PDF-"), ("workbook, XLSX", b"PK"), ("readings, CSV", b"#")):
            with page.expect_download() as download:
                page.get_by_role("link", name=name).click()
            assert Path(download.value.path()).read_bytes().startswith(start), name
    watch.nothing_wrong()


def test_a_person_reads_german_and_inches(chromium: Browser, served: Server) -> None:
    """For this browser only; the decimal comma comes along, and the next page still knows it."""
    watch = Watch()
    with window(chromium, 1366, 768) as context, window(chromium, 1366, 768) as other:
        page, somebody_else = watch.page(context), watch.page(other)
        page.goto(f"{served.address}display")
        page.get_by_role("button", name="Deutsch").click()
        page.get_by_role("heading", name="Sprache").first.wait_for()
        page.locator(".choice").nth(1).get_by_role("button", name="in", exact=True).click()
        page.wait_for_load_state("networkidle")
        opened(page, served, "judge")
        page.get_by_role("link", name="Beurteilen", exact=True).wait_for()
        value = page.locator(".stated .figure").first
        assert "0,00" in value.inner_text()
        assert "in" in value.inner_text()
        opened(somebody_else, served, "judge")
        somebody_else.get_by_role("link", name="Judge", exact=True).wait_for()
        assert "µm" in somebody_else.locator(".stated .figure").first.inner_text()
    watch.nothing_wrong()


def test_two_people_see_each_other_and_overwrite_nothing(chromium: Browser, served: Server) -> None:
    """Both leave the same reading out at the same time: it is left out once for each, and both pages show it."""
    watch = Watch()
    with window(chromium, 1366, 768) as one, window(chromium, 1366, 768) as other:
        pages = [watch.page(one), watch.page(other)]
        for page in pages:
            opened(page, served, "judge")
            page.locator(".way svg:visible .point").nth(6).click(force=True)
            page.get_by_label("why it is left out").first.wait_for()
        for number, page in enumerate(pages):
            page.get_by_label("why it is left out").first.fill(f"bumped, says person {number}")
        for page in pages:
            page.get_by_role("button", name="leave this reading out").first.click()
        for page in pages:
            for number in range(2):
                page.get_by_text(f"a reading left out: bumped, says person {number}").first.wait_for()
    watch.nothing_wrong()


def test_the_keyboard_reaches_everything_that_can_be_pressed(chromium: Browser, served: Server) -> None:
    """Tab goes through every visible press, link and field of a page, and the focus is always seen."""
    with window(chromium, 1366, 768) as context:
        page = context.new_page()
        opened(page, served, "take")
        wanted = page.evaluate(
            "[...document.querySelectorAll('button, a, input, summary')]"
            ".filter((e) => e.checkVisibility({ visibilityProperty: true }) && !e.disabled).length"
        )
        seen = set()
        for _ in range(4 * wanted):
            page.keyboard.press("Tab")
            name = page.evaluate(
                "(() => { const e = document.activeElement; window.seen ??= []; "
                "if (!window.seen.includes(e)) window.seen.push(e); "
                "const s = getComputedStyle(e); return [window.seen.indexOf(e), e.tagName, s.outlineStyle]; })()"
            )
            seen.add((name[0], name[1]))
            if name[1] in ("BUTTON", "A", "SUMMARY"):
                assert name[2] != "none", name
        reached = [tag for _, tag in seen if tag in ("BUTTON", "A", "INPUT", "SUMMARY")]
        assert len(reached) >= wanted


def test_every_page_can_be_read_by_everybody(chromium: Browser, served: Server) -> None:
    """axe-core finds nothing serious, in light and dark; nothing is wider than a phone; nothing leaves the computer."""
    words = [f"line/{served.line}/{word}" for word in ("take", "trust", "judge", "correct", "prove")]
    rest = ["", "begin", "machine", "instrument", "phones", "display", "visit", f"visit/{served.visit}"]
    watch = Watch()
    for scheme, width, pages in (
        ("light", 1366, [*rest, *words]),
        ("dark", 360, [*words, "", f"visit/{served.visit}"]),
    ):
        with window(chromium, width, 768, color_scheme=scheme, bypass_csp=True) as context:
            page = watch.page(context)
            for path in pages:
                page.goto(served.address + path)
                page.locator(".page").wait_for()
                page.wait_for_load_state("networkidle")
                assert page.evaluate("document.documentElement.scrollWidth") <= width, path
                assert serious_violations(page) == [], f"{scheme} /{path}"
    watch.nothing_wrong()
