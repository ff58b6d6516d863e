"""Contributions as horizontal bars, the largest on top: what an uncertainty is made of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from waywright.drawing.lettering import plain_number, width_of
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.svg import Sheet, document, element, group, label, line
from waywright.errors import BadInput

SMALL, NORMAL, HEAD, ROW, FOOT = 11.0, 13.0, 34.0, 20.0, 26.0
MARGIN, GAP = 58.0, 12.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One contribution: its name, its size in the unit of the scene, and words on where it comes from."""

    name: str
    size: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class BarsScene:
    """Bars of one unit; ``total`` is what they come to together, drawn as the last bar with its name."""

    heading: str
    note: str
    description: str
    unit: str
    bars: tuple[Bar, ...]
    total: Bar | None = None


def bars(scene: BarsScene, *, palette: Palette = LIGHT, width: float = 760.0, ident: str = "bars") -> str:
    """The bars as SVG text. Raises BadInput where there is nothing to draw."""
    if not scene.bars:
        raise BadInput("drawing.no_series")
    ordered = sorted(scene.bars, key=lambda each: -each.size)
    rows = [*ordered, *([scene.total] if scene.total else [])]
    names = max(width_of(each.name, SMALL) for each in rows)
    left = min(MARGIN + names + GAP, 0.46 * width)
    longest = max(each.size for each in rows) or 1.0
    scale = (width - left - 150.0) / longest
    height = HEAD + ROW * len(rows) + (6 if scene.total else 0) + FOOT
    body = [label(MARGIN, 17, scene.heading, palette.ink, NORMAL)]
    body.append(label(MARGIN + width_of(scene.heading, NORMAL) + 12, 17, scene.note, palette.mute, SMALL))
    for index, each in enumerate(ordered):
        body.append(_bar(each, scene.unit, palette, left, HEAD + ROW * index, scale, False))
    if scene.total:
        y = HEAD + ROW * len(ordered) + 6
        body.append(line(MARGIN, y - 3, width - 16, y - 3, palette.hairline, 0.8))
        body.append(_bar(scene.total, scene.unit, palette, left, y, scale, True))
    body += _ground(palette, left, height)
    return document(Sheet(width, height, scene.heading, scene.description, ident), palette, body)


def _bar(each: Bar, unit: str, palette: Palette, left: float, y: float, scale: float, strong: bool) -> str:
    size = max(each.size * scale, 0.6)
    figure = f"{plain_number(each.size, 2)} {unit}"
    colour = palette.ink if strong else palette.mute
    return group(
        (
            label(left - GAP, y + 13, each.name, palette.ink, SMALL, "end", bold=strong),
            element("rect", x=left, y=y + 4, width=size, height=ROW - 9, fill=colour),
            label(left + size + 7, y + 13, figure, palette.ink, SMALL, bold=strong),
            label(left + size + 14 + width_of(figure, SMALL), y + 13, each.note, palette.mute, SMALL),
        ),
        class_="bar",
        data_name=each.name,
    )


def _ground(palette: Palette, left: float, height: float) -> Iterator[str]:
    yield line(left, HEAD, left, height - FOOT + 4, palette.ink, 1)
