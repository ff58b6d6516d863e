"""The frame of every page: the head with the way through, and below it the way drawing."""

from __future__ import annotations

import html
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from nicegui import ui

from waywright.drawing import DARK, VARIABLES, WayScene, way
from waywright.drawing.way_frame import laid_out
from waywright.machine import Machine
from waywright.visit import Line
from waywright.web.alarm import alarm_markup
from waywright.web.display import drawn_units
from waywright.web.elements import Press, To, Words, box, markup, note
from waywright.wording import spoken, text

WORDS = ("take", "judge", "correct", "prove")
"""The words whose pages exist, in the order of the job."""
BROAD_PX, NARROW_PX = 1384.0, 430.0

_EARLY = (
    '<link rel="stylesheet" href="/theme.css">'
    f'<script>document.documentElement.dataset.darkPaper = "{DARK.paper}";'
    'const light = localStorage.getItem("light"); if (light) document.documentElement.dataset.light = light;</script>'
)


def head(title: str, *, line: Line | None = None, machine: Machine | None = None, here: str = "") -> None:
    """The head of a page: on a line's pages the words with ``here`` as the one that is open."""
    ui.page_title(f"{title} · Waywright")
    ui.add_head_html(_EARLY + f'<script>document.documentElement.dataset.language = "{spoken()}";</script>')
    ui.add_body_html('<script src="/static/live.js" defer></script>')
    markup(alarm_markup(may_end=True), "alarm-place")
    low = note("", "bad battery")
    low._props["data-battery"], low._props["hidden"] = text("web.battery_low", percent="%"), True
    with box("head", "header"):
        To(text("web.name"), "/", "name")
        if line is not None:
            with box(tag="nav").props(f'aria-label="{text("web.way_through")}"'):
                for word in WORDS:
                    link = To(text(f"web.{word}"), f"/line/{line.id}/{word}")
                    if word == here:
                        link.props('aria-current="page"')
        where = box("where")
        with where:
            Words(where_words(machine, line) if machine else "")
            where._props["data-cut-words"] = text("web.cut_off")
        with box("tools"):
            if here != "machines":
                To(text("web.machines"), "/", "press quiet")
            To(text("sheet.page.link"), "/sheets", "press quiet")
            with box("more", "details"):
                Words(text("web.more"), "press quiet", "summary")
                with box("menu"):
                    light = Press(text("web.light"), classes="quiet")
                    light._props["data-does"] = "light"
                    To(text("display.link"), "/display", "press quiet")
                    To(text("phones.phones"), "/phones", "press quiet")


def where_words(machine: Machine, line: Line | None = None) -> str:
    """Owner, machine, line and state in one line."""
    state = text(f"web.state.{line.state}") if line else ""
    parts = (machine.owner or "", f"{machine.kind} {machine.name}".strip(), line.name if line else "", state)
    return " · ".join(part for part in parts if part)


class WayDrawing:
    """The way drawing on a page; ``on_open(support, position_mm)`` hears what is touched."""

    def __init__(self, machine: Machine, on_open: Callable[[str | None, float | None], Any]) -> None:
        self._machine = machine
        self._view = "side"
        self._scene = WayScene()
        self._on_open = on_open
        with box("way"):
            self._places = {
                (width, ident): markup("", f"way-{ident}").on("click", self._touched, js_handler=_TOUCH)
                for width, ident in ((BROAD_PX, "broad"), (NARROW_PX, "narrow"))
            }
            if machine.bed is not None:
                self._turn = Press(text("web.seen_from_above"), self._turned, "quiet")

    def show(self, scene: WayScene) -> None:
        """Draw a scene, broad for a table and narrow for a hand."""
        self._scene = scene = replace(scene, units=drawn_units())
        for (width, ident), place in self._places.items():
            svg = way(
                self._machine, scene, view=self._view, palette=VARIABLES, width=width, language=spoken(),
                ident=f"way-{ident}",
            )  # fmt: skip
            place.set_content(svg)
            place._props["data-px-per-mm"] = self._px_per_mm(width)
            place._props["data-drawn-mm"] = scene.carriage_mm or 0.0
            place.update()

    def _px_per_mm(self, width: float) -> float:
        """Pixels to the right for a millimetre of position."""
        frame = laid_out(self._machine, self._scene, VARIABLES, spoken(), width, self._view)
        return frame.x_at(1000.0) / 1000.0 - frame.x_at(0.0) / 1000.0

    def _turned(self) -> None:
        self._view = "above" if self._view == "side" else "side"
        self._turn.set_text(text("web.seen_from_above" if self._view == "side" else "web.seen_from_the_side"))
        self.show(self._scene)

    def _touched(self, event: Any) -> None:
        support, position = event.args
        place = None if position is None else float(str(position).replace("\N{MINUS SIGN}", "-").replace(",", "."))
        self._on_open(support, place)


_TOUCH = "(event) => { const thing = nearestOnWay(event); if (thing) emit(thing[0], thing[1]); }"


def escaped(words: str) -> str:
    """Text for inside markup."""
    return html.escape(words)
