"""What supports cannot do: shims, scraping, a table for the controller; each says when it is the wrong remedy."""

from __future__ import annotations

from collections.abc import Sequence

from nicegui import ui

from waywright.correct.notes import Note
from waywright.correct.remedies import shim_pack
from waywright.jobs.correct_else import compensation_of_line, scraping_of_line, stock_of
from waywright.jobs.measured import MeasuredLine
from waywright.web.display import bare_length, length, length_as_shown, place_unit
from waywright.web.display import place as place_of
from waywright.web.elements import Press, Words, box, field, markup, note, number, tried
from waywright.web.lengths import LengthField
from waywright.web.saying import heading_of, straight_codes, table_markup
from waywright.wording import text


def else_sheet(measured: MeasuredLine) -> None:
    """Three remedies, each folded away until it is asked for."""
    with box("sheet", "section"):
        Words(text("rounds.else_title"), tag="h2")
        for name, fill in (("shims", _shims), ("scraping", _scraping), ("table", _table)):
            with box("passes", "details"):
                Words(text(f"rounds.else_{name}"), tag="summary")
                with box("stack"):
                    fill(measured)


def _shims(measured: MeasuredLine) -> None:
    with box("row"):
        wanted = LengthField("rounds.shim_wanted", 120.0, least_um=1.0)
        stock = field(text("rounds.shim_stock"), "100 x 4, 50 x 4, 20 x 4, 10 x 4, 5 x 4")
    place = box("stack")

    def work_out() -> None:
        place.clear()
        with place:
            pack = shim_pack(wanted.um_or_zero, stock_of(str(stock.value or "")))
            foils = " + ".join(map(str, pack.foils_um))
            Words(text("rounds.shim_pack", foils=foils, off=length(pack.off_um, 1, sign=True)), tag="p")

    _press(work_out)


def _scraping(measured: MeasuredLine) -> None:
    with box("row"):
        goal = LengthField("web.goal", 10.0, least_um=0.1)
        width = number(text("rounds.way_width"), 60.0, least=1.0)
    place = box("stack")

    def work_out() -> None:
        found = scraping_of_line(measured, goal.um_or_zero, float(width.value or 0))
        place.clear()
        with place:
            Words(text("rounds.scraping", volume=found.volume_mm3, deepest=found.deepest_um), tag="p")
            rows = [
                (None, [place_of(float(x)), bare_length(float(take))])
                for x, take in zip(found.position_mm, found.remove_um, strict=True)
                if take >= 0.05
            ]
            heads = [text("rounds.at_mm", unit=place_unit()), text("rounds.take_off", unit=length_as_shown().word)]
            markup(table_markup(heads, rows), "scroll readings")
            _notes(found.notes)

    _press(work_out)


def _table(measured: MeasuredLine) -> None:
    codes = straight_codes(measured)
    options = {item.text: heading_of(item, measured.machine) for item in codes}
    with box("row"):
        quantity = ui.select(options, label=text("web.column_quantity"), value=codes[0].text if codes else None)
        quantity.props("outlined square stack-label").classes("short")
        spacing = number(text("rounds.spacing"), 250.0, least=1.0)
    place = box("stack")

    def work_out() -> None:
        found = compensation_of_line(measured, str(quantity.value), float(spacing.value or 0))
        place.clear()
        with place:
            _notes(found.notes)
            facts = {"repeatable": found.repeatable_um, "scatter": found.scatter_um}
            Words(text("rounds.table_repeats", **facts), "small", "p")
            markup("", tag="pre").set_content(_escaped(found.text()))
            name = f"compensation-{found.code}.csv"
            Press(text("rounds.table_file"), lambda: ui.download.content(found.text(), name, "text/csv"))

    _press(work_out)


def _press(work_out: object) -> None:
    problem = note("", "bad")
    problem.set_visibility(False)
    Press(text("rounds.work_out"), tried(work_out, problem))  # type: ignore[arg-type]


def _notes(notes: Sequence[Note]) -> None:
    for each in notes:
        note(text(each.key, **each.facts))


def _escaped(words: str) -> str:
    from html import escape

    return escape(words)
