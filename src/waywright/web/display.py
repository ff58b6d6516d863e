"""How one person reads: language and units. It belongs to the browser that asks, and lasts as long as a request."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import wraps
from http.cookies import CookieError, SimpleCookie
from typing import Any

from waywright.drawing import Shown, Units, plain_number, signed
from waywright.quantities import Code, Kind, unit
from waywright.wording import ENGLISH, LANGUAGES, Measure, counting, speaking

COOKIE = "waywright-display"


@dataclass(frozen=True, slots=True)
class Unit:
    """``per`` of it make one inside unit; shown with ``decimals``."""

    word: str
    per: float
    decimals: int


def _shown(kind: Kind, name: str, word: str, decimals: int) -> Unit:
    return Unit(word, unit(kind, name).outside(1.0), decimals)


LENGTHS = {
    "um": _shown(Kind.DISPLACEMENT, "um", "µm", 1),
    "mm": _shown(Kind.DISPLACEMENT, "mm", "mm", 4),
    "inch": _shown(Kind.DISPLACEMENT, "inch", "in", 5),
}
ANGLES = {
    "um_per_m": _shown(Kind.ANGLE, "um/m", "µm/m", 1),
    "mm_per_m": _shown(Kind.ANGLE, "mm/m", "mm/m", 4),
    "arcsec": _shown(Kind.ANGLE, "arcsec", "″", 2),
}
PLACES = {"mm": _shown(Kind.POSITION, "mm", "mm", 0), "inch": _shown(Kind.POSITION, "inch", "in", 2)}


@dataclass(frozen=True, slots=True)
class Display:
    """A person's choice by name: language, deviations, angles, positions."""

    language: str = ENGLISH
    length: str = "um"
    angle: str = "um_per_m"
    place: str = "mm"

    @property
    def cookie(self) -> str:
        """As the browser keeps it."""
        return ".".join((self.language, self.length, self.angle, self.place))


_display: ContextVar[Display] = ContextVar("display", default=Display())  # noqa: B039 - frozen


def display() -> Display:
    """The choice of whoever is asking."""
    return _display.get()


def display_of(cookies: str) -> Display:
    """The choice in a cookie header; what is not known there is as usual."""
    kept: SimpleCookie = SimpleCookie()
    try:
        kept.load(cookies)
    except CookieError:
        return Display()
    said = kept[COOKIE].value.split(".") if COOKIE in kept else []
    if len(said) != len(Display.__slots__):
        return Display()
    known = (LANGUAGES, LENGTHS, ANGLES, PLACES)
    usual = (getattr(Display(), name) for name in Display.__slots__)
    return Display(*(item if item in some else other for item, some, other in zip(said, known, usual, strict=True)))


@contextmanager
def shown_as(chosen: Display) -> Iterator[None]:
    """Speak and count as somebody has chosen."""
    before = _display.set(chosen)
    try:
        with speaking(chosen.language), counting(_measures(chosen)):
            yield
    finally:
        _display.reset(before)


def _measures(chosen: Display) -> list[Measure]:
    """What sentences say otherwise than they are written."""
    usual = Display()
    found = []
    for name, written, suffix, known in (
        ("length", "µm", "_um", LENGTHS), ("angle", "µm/m", "_um_per_m", ANGLES), ("place", "mm", "_mm", PLACES),
    ):  # fmt: skip
        now, before = known[getattr(chosen, name)], known[getattr(usual, name)]
        if now is not before:
            found.append(Measure(written, suffix, now.word, now.per, now.decimals - before.decimals))
    return found


def as_now(call: Callable[..., Any]) -> Callable[..., Any]:
    """A call that will speak and count as now, whoever makes it: for what is told to an open page later."""
    chosen = display()

    @wraps(call)
    def later(*given: Any, **named: Any) -> Any:
        with shown_as(chosen):
            return call(*given, **named)

    return later


def unit_for(code: Code) -> Unit:
    """The unit that values of a quantity are shown in."""
    return ANGLES[display().angle] if code.is_rotation else LENGTHS[display().length]


def length(value_um: float, finer: int = 0, *, sign: bool = False) -> str:
    """A lift, a height, a width with its unit: from um, whole um or finer by so many decimals."""
    unit = LENGTHS[display().length]
    figure = (signed if sign else plain_number)(value_um * unit.per, unit.decimals - LENGTHS["um"].decimals + finer)
    return f"{figure} {unit.word}"


def length_as_shown() -> Unit:
    """The unit of deviations, lifts and heights."""
    return LENGTHS[display().length]


def bare_length(value_um: float, finer: int = 1, *, sign: bool = False) -> str:
    """A length without its unit, for a table whose head says it."""
    return length(value_um, finer, sign=sign).rpartition(" ")[0]


def drawn_units() -> Units:
    """For the words on drawings."""
    now = display()
    length, angle, place = LENGTHS[now.length], ANGLES[now.angle], PLACES[now.place]
    return Units(*(Shown(each.word, each.per, each.decimals) for each in (length, angle, place)))


def deviation(code: Code, value: float) -> str:
    """A deviation of a quantity, from um or um/m, with its sign."""
    unit = unit_for(code)
    return signed(value * unit.per, unit.decimals)


def amount(code: Code, value: float) -> str:
    """A value without a sign: a width, a scatter."""
    unit = unit_for(code)
    return plain_number(value * unit.per, unit.decimals)


def place(position_mm: float, finer: int = 0) -> str:
    """A position, without its unit."""
    unit = PLACES[display().place]
    return plain_number(position_mm * unit.per, unit.decimals + finer)


def place_unit() -> str:
    """The unit of positions."""
    return PLACES[display().place].word
