"""Language and units, for whoever reads in this browser; everything is kept and reported in the same units as ever."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from nicegui import ui

from waywright.web.display import ANGLES, COOKIE, LENGTHS, PLACES, Display, Unit, display
from waywright.web.elements import Words, box, choice
from waywright.web.frame import head
from waywright.wording import LANGUAGES, text

_YEAR_S = 31_536_000


def register() -> None:
    """The page at ``/display``."""

    @ui.page("/display")
    def shown() -> None:
        head(text("display.title"), here="display")
        with box("page one"):
            Words(text("display.title"), tag="h1")
            with box("sheet form", "section"):
                Words(text("display.words"), "mute", "p")
                _choices(display())


def _choices(now: Display) -> None:
    for name, options in (
        ("language", [(language, text(f"display.language.{language}")) for language in LANGUAGES]),
        ("length", _units(LENGTHS)),
        ("angle", _units(ANGLES)),
        ("place", _units(PLACES)),
    ):
        Words(text(f"display.{name}"), tag="h3")
        choice(options, getattr(now, name), partial(_keep, now, name), text(f"display.{name}"))


def _units(units: dict[str, Unit]) -> list[tuple[str, str]]:
    return [(name, unit.word) for name, unit in units.items()]


def _keep(now: Display, name: str, to: str) -> None:
    chosen = replace(now, **{name: to})
    cookie = f"{COOKIE}={chosen.cookie}; path=/; max-age={_YEAR_S}; samesite=strict"
    ui.run_javascript(f"document.cookie = {cookie!r}; location.reload();")
