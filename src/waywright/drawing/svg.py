"""A small builder of well-formed SVG: every text escaped, every number short."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from waywright.drawing.fonts import FAMILY
from waywright.drawing.palette import Palette

Attribute = str | float
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def short(value: Attribute) -> str:
    """A number with at most two decimals and no idle zeros; text as it is."""
    if isinstance(value, str):
        return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", value)
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def element(name: str, /, *children: str, **attributes: Attribute | None) -> str:
    """One element; ``stroke_width`` becomes ``stroke-width``, ``class_`` becomes ``class``, None is left out.

    Children are markup made here, never text from outside: that goes through :func:`words`.
    """
    pairs = "".join(
        f" {key.rstrip('_').replace('_', '-')}={quoteattr(short(value))}"
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{pairs}>{''.join(children)}</{name}>" if children else f"<{name}{pairs}/>"


def words(text: str) -> str:
    """Text for the inside of an element."""
    return escape(short(text))


def group(children: Iterable[str], /, **attributes: Attribute | None) -> str:
    """Elements that belong together; nothing for no elements."""
    inside = "".join(children)
    return element("g", inside, **attributes) if inside else ""


def line(x1: float, y1: float, x2: float, y2: float, stroke: str, width: float = 1.0, dash: str | None = None) -> str:
    """A straight line."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=stroke, stroke_width=width, stroke_dasharray=dash)


def path(d: str, stroke: str, width: float = 1.0, fill: str = "none", dash: str | None = None) -> str:
    """A path, square at its corners."""
    return element("path", d=d, stroke=stroke, stroke_width=width, fill=fill, stroke_dasharray=dash)


def box(x1: float, y1: float, x2: float, y2: float, stroke: str, width: float = 1.0, fill: str = "none") -> str:
    """A rectangle by two corners, in any order."""
    return element(
        "rect", x=min(x1, x2), y=min(y1, y2), width=abs(x2 - x1), height=abs(y2 - y1),
        stroke=stroke, stroke_width=width, fill=fill,
    )  # fmt: skip


def polyline(points: Iterable[tuple[float, float]], stroke: str, width: float = 1.5, dash: str | None = None) -> str:
    """Points joined by straight lines."""
    text = " ".join(f"{short(x)},{short(y)}" for x, y in points)
    return element("polyline", points=text, fill="none", stroke=stroke, stroke_width=width, stroke_dasharray=dash,
                   stroke_linejoin="round")  # fmt: skip


def label(
    x: float,
    y: float,
    text: str,
    fill: str,
    size: float = 12.0,
    anchor: str = "start",
    *,
    bold: bool = False,
    halo: str | None = None,
) -> str:
    """Words at a place; ``y`` is the base line. A ``halo`` in the sheet's colour interrupts lines behind the words."""
    return element(
        "text", words(text), x=x, y=y, fill=fill, font_size=size,
        text_anchor=None if anchor == "start" else anchor, font_weight="bold" if bold else None,
        stroke=halo, stroke_width=4 if halo else None, stroke_linejoin="round" if halo else None,
        paint_order="stroke" if halo else None,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sheet:
    """What frames a drawing: its size, its words for those who do not see it, its id on the page."""

    width: float
    height: float
    title: str
    description: str
    ident: str


def document(sheet: Sheet, palette: Palette, body: Iterable[str]) -> str:
    """A whole SVG that scales to its place and says what it shows."""
    title_id, description_id = f"{sheet.ident}-title", f"{sheet.ident}-desc"
    return element(
        "svg",
        element("title", words(sheet.title), id=title_id),
        element("desc", words(sheet.description), id=description_id),
        *body,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {short(sheet.width)} {short(sheet.height)}",
        width=sheet.width,
        height=sheet.height,
        role="img",
        aria_labelledby=f"{title_id} {description_id}",
        font_family=f"{FAMILY}, sans-serif",
        fill=palette.ink,
        class_="waywright-drawing",
    )
