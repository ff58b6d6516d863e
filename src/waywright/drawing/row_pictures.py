"""Small pictures of ordinary tests: what stands where, and which way the indicator or level looks."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.svg import Sheet, document, element, group, line, path
from waywright.drawing.svg import box as frame

WIDTH, HEIGHT = 132.0, 78.0
Picture = Callable[[Palette], Iterator[str]]


def row_picture(name: str, title: str, *, palette: Palette = LIGHT, width: float = WIDTH, ident: str = "row") -> str:
    """The picture of a test as SVG text; an indicator alone for a name that has none. ``title`` is read aloud."""
    picture = PICTURES.get(name, _indicator_alone)
    return document(Sheet(WIDTH, HEIGHT, title, title, ident), palette, picture(palette)).replace(
        f'width="{WIDTH:g}" height="{HEIGHT:g}"', f'width="{width:g}" height="{width * HEIGHT / WIDTH:g}"', 1
    )


def _indicator(p: Palette, x: float, y: float, turn: float = 0.0) -> str:
    """A dial with its plunger's tip at (x, y), looking down; ``turn`` in degrees clockwise."""
    parts = (
        line(x, y, x, y - 9, p.ink, 1.4),
        element("circle", cx=x, cy=y - 17, r=8, fill=p.panel, stroke=p.ink, stroke_width=1.2),
        line(x, y - 17, x + 4, y - 22, p.now, 1.4),
    )
    return group(parts, transform=f"rotate({turn:g} {x:g} {y:g})")


def _way(p: Palette, y: float, x1: float = 8, x2: float = 124) -> str:
    hatch = "".join(f"M{x:g} {y + 6:g}l5 -6" for x in range(int(x1), int(x2) - 4, 9))
    return line(x1, y, x2, y, p.ink, 1.8) + path(hatch, p.hairline, 0.9)


def _level(p: Palette, x: float, y: float, length: float = 40, turn: float = 0.0) -> str:
    """A level standing on y, its middle at x."""
    half = length / 2
    parts = (
        frame(x - half, y - 11, x + half, y - 2, p.ink, 1.3, p.panel),
        line(x - half + 3, y, x - half + 3, y - 2, p.ink, 1.6), line(x + half - 3, y, x + half - 3, y - 2, p.ink, 1.6),
        frame(x - 8, y - 9, x + 8, y - 5, p.ink, 0.9, p.panel),
        element("circle", cx=x + 2, cy=y - 7, r=1.6, fill=p.now),
    )  # fmt: skip
    return group(parts, transform=f"rotate({turn:g} {x:g} {y:g})")


def _head(p: Palette, x: float, y: float, side: int = 1) -> str:
    """A headstock or tailstock whose nose looks to the right (side 1) or left (-1), its centre line at y."""
    return frame(x - 12, y - 16, x + 12, y + 18, p.ink, 1.4, p.panel) + frame(
        x + side * 12, y - 6, x + side * 19, y + 6, p.ink, 1.2, p.panel
    )


def _bar(p: Palette, x1: float, x2: float, y: float, half: float = 4.0) -> str:
    centre = line(x1 - 4, y, x2 + 6, y, p.mute, 0.7, "7 2 1 2")
    return frame(x1, y - half, x2, y + half, p.ink, 1.2, p.panel) + centre


def _turning(p: Palette, x: float, y: float) -> str:
    return path(f"M{x - 7:g} {y:g}a7 4 0 0 1 14 0", p.now, 1.3) + path(
        f"M{x + 4:g} {y - 3:g}l3.4 3.4l1 -4.6", p.now, 1.3
    )


def _indicator_alone(p: Palette) -> Iterator[str]:
    yield _way(p, 60)
    yield _indicator(p, 66, 60)


def _two_places(p: Palette) -> Iterator[str]:
    yield path("M10 62h46v-10h66", p.ink, 1.8)
    yield _indicator(p, 34, 62)
    yield _indicator(p, 92, 52)


def _half_turn(p: Palette) -> Iterator[str]:
    yield _head(p, 22, 40)
    yield _bar(p, 76, 112, 40, 9)
    yield path("M41 40h18v-26h19", p.ink, 1.2)
    yield _indicator(p, 86, 31)
    yield _turning(p, 54, 62)


def _level_along(p: Palette) -> Iterator[str]:
    yield _way(p, 58)
    yield _level(p, 44, 58)
    yield line(78, 50, 100, 50, p.now, 1.2) + path("M96 47l5 3l-5 3", p.now, 1.2)


def _level_across(p: Palette) -> Iterator[str]:
    yield path("M20 66h24v-14h-24zM88 66h24v-14h-24z", p.ink, 1.5)
    yield frame(22, 44, 110, 52, p.ink, 1.3, p.panel)
    yield _level(p, 66, 44, 52)
    yield _turning(p, 66, 24)


def _mandrel(p: Palette) -> Iterator[str]:
    yield _head(p, 18, 44)
    yield _bar(p, 37, 118, 44)
    yield _indicator(p, 48, 40)
    yield _indicator(p, 108, 40)
    yield _turning(p, 78, 66)


def _run_out(p: Palette) -> Iterator[str]:
    yield _head(p, 18, 46)
    yield _bar(p, 37, 104, 46, 6)
    yield _indicator(p, 60, 40)
    yield _turning(p, 88, 68)


def _axial_slip(p: Palette) -> Iterator[str]:
    yield _head(p, 26, 42)
    yield element("circle", cx=49, cy=42, r=4, fill=p.panel, stroke=p.ink, stroke_width=1.2)
    yield _indicator(p, 54, 42, 90)
    yield _turning(p, 30, 68)


def _face(p: Palette) -> Iterator[str]:
    yield _head(p, 26, 42)
    yield frame(45, 16, 53, 68, p.ink, 1.3, p.panel)
    yield _indicator(p, 53, 24, 90)
    yield _turning(p, 98, 56)


def _test_bar(p: Palette) -> Iterator[str]:
    yield _head(p, 16, 44)
    yield _head(p, 116, 44, -1)
    yield _bar(p, 36, 96, 44)
    yield _indicator(p, 44, 40)
    yield _indicator(p, 88, 40)


def _square(p: Palette) -> Iterator[str]:
    yield _way(p, 68)
    yield path("M30 66v-54h12v42h44v12z", p.ink, 1.4, p.panel)
    yield _indicator(p, 42, 20, 90)
    yield _indicator(p, 42, 44, 90)


def _disc(p: Palette) -> Iterator[str]:
    yield _head(p, 24, 42)
    yield frame(43, 12, 52, 72, p.ink, 1.4, p.panel)
    yield _indicator(p, 52, 20, 90)
    yield _indicator(p, 52, 42, 90)
    yield _turning(p, 100, 66)


def _sweep(p: Palette) -> Iterator[str]:
    yield frame(58, 4, 74, 26, p.ink, 1.4, p.panel)
    yield line(66, 26, 66, 34, p.ink, 1.4) + line(34, 34, 98, 34, p.mute, 1.0, "4 3") + line(34, 34, 66, 34, p.ink, 1.4)
    yield _indicator(p, 34, 66)
    yield line(34, 40, 34, 34, p.ink, 1.2)
    yield _turning(p, 84, 22)
    yield _way(p, 66)


def _column(p: Palette) -> Iterator[str]:
    yield _way(p, 66)
    yield frame(82, 8, 106, 66, p.ink, 1.5, p.panel)
    yield _level(p, 38, 66)
    yield _level(p, 82, 34, 40, 270)


def _ram(p: Palette) -> Iterator[str]:
    yield frame(8, 12, 40, 68, p.ink, 1.5, p.panel)
    yield frame(40, 28, 112, 44, p.ink, 1.4, p.panel)
    yield _indicator(p, 104, 28)
    yield line(52, 56, 100, 56, p.now, 1.2) + path("M96 53l5 3l-5 3", p.now, 1.2)


def _two_lines(p: Palette) -> Iterator[str]:
    for x in (36, 88):
        yield line(x, 8, x, 72, p.ink, 1.6)
        yield _indicator(p, x, 40, 90)
    yield line(36, 74, 88, 74, p.mute, 0.8, "3 2")


def _joint(p: Palette) -> Iterator[str]:
    yield path("M8 54h58v14M66 68v-18h58", p.ink, 1.6)
    for x, y in ((20, 54), (40, 54), (58, 54), (74, 50), (92, 50), (112, 50)):
        yield element("circle", cx=x, cy=y, r=2.2, fill=p.panel, stroke=p.ink, stroke_width=1.1)
    yield _indicator(p, 74, 50)


def _feeler(p: Palette) -> Iterator[str]:
    yield frame(10, 30, 122, 44, p.ink, 1.4, p.panel) + frame(10, 48, 122, 64, p.ink, 1.4, p.panel)
    yield line(92, 46, 130, 38, p.now, 2.0)


def _straightedge(p: Palette) -> Iterator[str]:
    yield frame(10, 52, 122, 62, p.ink, 1.4, p.panel)
    yield path("M24 62l-6 10h12zM108 62l-6 10h12z", p.ink, 1.1, p.panel)
    yield _indicator(p, 46, 52)
    yield line(66, 44, 92, 44, p.now, 1.2) + path("M88 41l5 3l-5 3", p.now, 1.2)


def _plate(p: Palette) -> Iterator[str]:
    yield path("M12 60l28 -34h80l-24 34z", p.ink, 1.4, p.panel)
    for row in range(3):
        for column in range(3):
            yield element("circle", cx=28 + column * 30 + row * 9, cy=53 - row * 10, r=1.8, fill=p.ink)
    yield _indicator(p, 58, 53)


def _result(p: Palette) -> Iterator[str]:
    yield line(10, 62, 122, 62, p.mute, 0.9) + line(10, 22, 122, 22, p.mute, 0.9, "4 3")
    yield path("M10 58C34 20 52 26 66 42S104 66 122 34", p.ink, 1.5)


PICTURES: Mapping[str, Picture] = {
    "indicator": _indicator_alone, "two-places": _two_places, "half-turn": _half_turn, "level": _level_along,
    "level-across": _level_across, "mandrel": _mandrel, "run-out": _run_out, "axial-slip": _axial_slip, "face": _face,
    "test-bar": _test_bar, "square": _square, "disc": _disc, "sweep": _sweep, "column": _column, "ram": _ram,
    "two-lines": _two_lines, "joint": _joint, "feeler": _feeler, "straightedge": _straightedge, "plate": _plate,
    "result": _result,
}  # fmt: skip
