"""Parts of a sheet's page: the place that comes next with its field, and one row of the sheet."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from waywright.drawing import VARIABLES
from waywright.drawing.row_pictures import row_picture
from waywright.evaluate.sheet_rows import kind_of_row
from waywright.jobs.sheet_content import division_words, place_words
from waywright.jobs.sheet_fill import SheetFill, unit_of
from waywright.jobs.typing_in import Doubt
from waywright.report.sheet_content import SheetRowContent
from waywright.visit.sheet import SheetRow
from waywright.web.elements import Press, Words, box, markup, note
from waywright.wording import text

PEDALS = ("", "PageDown", "F9", "b", "ArrowRight")
"""Keys that foot switches send; which one it is, is chosen on the page."""
_PICTURE_PX = 200.0


class EntryView:
    """The place that comes next: what it is, where it is, the field, and what was kept last."""

    def __init__(
        self, entered: Callable[[str, str, str], None], undo: Callable[[], None], leave: Callable[[], None]
    ) -> None:
        with box("sheet", "section"):
            self._where = Words("", "mute", "p")
            self._picture = markup("", "row-picture")
            self._place = Words("", "sheet-place", "p")
            with box("sheet-typing"):
                self._input = box("sheet-input", "input")
                self._input.props('type="text" inputmode="decimal" autocomplete="off" enterkeyhint="next" autofocus')
                self._input._props["aria-label"] = text("sheet.page.value")
                self._unit = Words("", "unit")
            self._input.on("entered", lambda event: entered(*_said(event.args)), js_handler=_EMIT)
            self._problem = note("", "bad")
            self._kept = Words("", "kept")
            self._kept._props["aria-live"] = "polite"
            with box("row"):
                keep = Press(text("sheet.page.keep"), classes="next")
                keep._props["data-sheet-does"] = "keep"
                back = Press(text("sheet.page.undo"), undo)
                back._props["data-sheet-does"] = "undo"
                Press(text("sheet.page.leave"), leave)
            _hands_free()

    def show(self, fill: SheetFill, full: bool, doubted: bool) -> None:
        """The place where ``fill`` stands."""
        self._problem.set_visibility(False)
        self._input._props["data-state"] = "doubt" if doubted else "asked"
        self._input.update()
        entry = None if full else fill.here
        if entry is None:
            for words in (self._place, self._unit):
                words.set_text("")
            self._where.set_text(text("sheet.page.full"))
            self._picture.set_content("")
            return
        row = [other for other in fill.entries if other.row is entry.row]
        facts = {"number": entry.row.number, "what": entry.row.what, "at": row.index(entry) + 1, "of": len(row)}
        self._where.set_text(text("sheet.page.where", **facts))
        self._place.set_text(place_words(entry.place, entry.state))
        self._unit.set_text(unit_words(entry.row))
        name = entry.row.drawing or kind_of_row(entry.row).drawing
        self._picture.set_content(row_picture(name, entry.row.what, palette=VARIABLES, width=_PICTURE_PX, ident="now"))

    def refuse(self, words: str) -> None:
        """What is wrong, or asked, below the field."""
        self._problem.set_text(words)
        self._problem.set_visibility(True)

    def kept(self, place: str, said: str) -> None:
        """What was kept last; read aloud where that is wanted."""
        self._kept.set_text(text("sheet.page.kept", place=place, said=said))


def _hands_free() -> None:
    """Foot switch and voice: the browser does both; what it cannot do it does not offer."""
    with box("small", "details"):
        Words(text("sheet.page.hands_free"), tag="summary")
        with box("stack"):
            with box("row"):
                Words(text("sheet.page.pedal"), "mute")
                pedal = box("pedal", "select")
                pedal._props["data-sheet-does"] = "pedal"
                pedal._props["aria-label"] = text("sheet.page.pedal")
                with pedal:
                    for key in PEDALS:
                        option = Words(key or text("sheet.page.no_pedal"), tag="option")
                        option._props["value"] = key
            with box("row"):
                for name in ("listen", "read-back"):
                    press = Press(text(f"sheet.page.{name}"), classes="quiet")
                    press._props["data-sheet-does"] = name
                    press._props["aria-pressed"] = "false"
            Words(text("sheet.page.listen_words"), "mute", "p")


class RowView:
    """One row: what, readings, value with uncertainty, verdict and why.

    Pressed, its first open place comes next; a reading pressed is the one to be typed again. ``first`` is the number of
    its first place in the sheet.
    """

    def __init__(self, number: str, first: int, go: Callable[[str], None], again: Callable[[int], None]) -> None:
        self._number, self._first, self._go, self._again = number, first, go, again
        self._shown: SheetRowContent | None = None
        self._place = box("sheet-row", "li")

    def show(self, row: SheetRowContent, here: bool) -> None:
        """The row as it stands; drawn anew only where something in it is new."""
        self._place.classes(add="here" if here else "", remove="" if here else "here")
        if row == self._shown:
            return
        self._shown = row
        self._place.clear()
        with self._place:
            self._draw(row)

    def _draw(self, row: SheetRowContent) -> None:
        with box("row apart"):
            Press(f"{row.number}  {row.what}", lambda: self._go(self._number), "quiet")
            Words(row.verdict, f"verdict {row.mark or 'mute'}")
        if any(place.number is not None for place in row.places):
            with box("row apart"):
                with box("readings-of-row"):
                    for at, place in enumerate(row.places, start=self._first):
                        if place.number is not None:
                            Press(f"{place.place} {place.value}", partial(self._again, at), "quiet reading-again")
                with box("figure"):
                    Words(row.measured, "row-value")
                    Words(f"{row.expanded} {row.unit}" if row.measured else "", "unit")
        for words in (*row.further, *(row.why if row.mark else ())):
            Words(words, "small mute", "p")
        Words(text("sheet.page.permissible", rule=row.permissible), "small mute", "p")


def unit_words(row: SheetRow) -> str:
    """The unit that is typed, with the worth of a division."""
    if row.unit == "div":
        return text("sheet.print.divisions", worth=division_words(row))
    return unit_of(row).name.replace("um", "µm")


def doubt_words(doubt: Doubt, fill: SheetFill) -> str:
    """The question about a value."""
    hint = text(f"typing_in.slip_{doubt.likely.replace('-', '_')}") if doubt.likely else ""
    unit = "" if fill.here is None else unit_words(fill.here.row)
    return text("sheet.page.doubt", number=doubt.number, expected=doubt.expected, unit=unit, hint=hint)


def _said(args: Any) -> tuple[str, str, str]:
    said, seen, by = args
    return str(said), str(seen), str(by)


_EMIT = "(event) => emit(event.detail[0], event.detail[1], event.detail[2])"
