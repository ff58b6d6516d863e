"""Panels of curves over one axis of positions: passes and their reversal, twist, levels, segments, positioning."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from waywright.drawing.lettering import plain_number, signed, width_of
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scale import decimals_of, room_for, ticks
from waywright.drawing.svg import Sheet, document, element, group, label, line, path, polyline
from waywright.errors import BadInput
from waywright.wording import ENGLISH, text

SMALL, NORMAL = 11.0, 13.0
LEFT, RIGHT, TOP, GAP, BOTTOM = 58.0, 16.0, 34.0, 18.0, 42.0
_DASHES = ("5 3", "1.5 3", "9 3 1.5 3", "12 4")
_SHAPES = (
    "m-3 0a3 3 0 1 0 6 0a3 3 0 1 0 -6 0Z",
    "m-2.8 -2.8h5.6v5.6h-5.6Z",
    "m0 -3.6l3.6 6.4h-7.2Z",
    "m0 -3.8l3.8 3.8l-3.8 3.8l-3.8 -3.8Z",
)
_MOST_MARKERS = 60


@dataclass(frozen=True, slots=True)
class Trace:
    """One curve; ``main`` draws it in full. ``spread`` (same length) is a band of plus and minus around it."""

    name: str
    position_mm: tuple[float, ...]
    value: tuple[float, ...]
    main: bool = False
    spread: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """A stretch with words; ``sort`` is "now" (do something), "undecided" or "plain"."""

    from_mm: float
    to_mm: float
    words: str
    sort: str = "plain"


@dataclass(frozen=True, slots=True)
class Panel:
    """Curves of one unit. ``note`` stands beside the heading, small."""

    heading: str
    note: str
    unit: str
    traces: tuple[Trace, ...]
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class PanelsScene:
    """Panels one below the other over the same positions; ``description`` for those who do not see it."""

    title: str
    description: str
    panels: tuple[Panel, ...]
    grows_left: bool = False


def panels(
    scene: PanelsScene,
    *,
    palette: Palette = LIGHT,
    width: float = 760.0,
    panel_height: float = 190.0,
    language: str = ENGLISH,
    ident: str = "panels",
) -> str:
    """The panels as SVG text. Raises BadInput where there is nothing to draw or a curve is of uneven length."""
    _checked(scene)
    places = [place for panel in scene.panels for trace in panel.traces for place in trace.position_mm]
    span = max(max(places) - min(places), 1.0)
    x_range = (min(places) - 0.015 * span, max(places) + 0.015 * span)
    body: list[str] = []
    for index, panel in enumerate(scene.panels):
        top = index * (panel_height + GAP)
        body += _Drawn(panel, scene, palette, width, top, panel_height, x_range).parts()
    height = len(scene.panels) * (panel_height + GAP) - GAP + BOTTOM
    body += _positions(scene, palette, width, height, x_range, language)
    return document(Sheet(width, height, scene.title, scene.description, ident), palette, body)


def _checked(scene: PanelsScene) -> None:
    if not scene.panels or not all(panel.traces for panel in scene.panels):
        raise BadInput("drawing.no_series")
    for panel in scene.panels:
        for trace in panel.traces:
            if not trace.value or len(trace.position_mm) != len(trace.value):
                raise BadInput("drawing.lengths", positions=len(trace.position_mm), values=len(trace.value))


def _x(scene: PanelsScene, width: float, x_range: tuple[float, float], position_mm: float) -> float:
    share = (position_mm - x_range[0]) / (x_range[1] - x_range[0])
    return LEFT + (1 - share if scene.grows_left else share) * (width - LEFT - RIGHT)


@dataclass(frozen=True, slots=True)
class _Drawn:
    panel: Panel
    scene: PanelsScene
    palette: Palette
    width: float
    top: float
    height: float
    x_range: tuple[float, float]

    def parts(self) -> Iterator[str]:
        yield from self._heading()
        yield from self._marks()
        yield from self._axes()
        for index, trace in enumerate(self.panel.traces):
            yield from self._trace(trace, index)

    def x(self, position_mm: float) -> float:
        return _x(self.scene, self.width, self.x_range, position_mm)

    def y(self, value: float) -> float:
        low, high = self._range()
        return self.top + TOP + (high - value) / (high - low) * (self.height - TOP)

    def _range(self) -> tuple[float, float]:
        values = [0.0]
        for trace in self.panel.traces:
            spread = trace.spread or (0.0,) * len(trace.value)
            for value, more in zip(trace.value, spread, strict=True):
                values += [value - more, value + more]
        low, high = min(values), max(values)
        air = 0.08 * max(high - low, 1e-3)
        return low - air, high + air

    def _heading(self) -> Iterator[str]:
        ink, mute = self.palette.ink, self.palette.mute
        yield label(LEFT, self.top + 14, self.panel.heading, ink, NORMAL)
        x = LEFT + width_of(self.panel.heading, NORMAL) + 12
        yield label(x, self.top + 14, self.panel.note, mute, SMALL)
        x = self.width - RIGHT
        named = [(index, trace) for index, trace in enumerate(self.panel.traces) if trace.name]
        for index, trace in reversed(named):
            x -= width_of(trace.name, SMALL)
            yield label(x, self.top + 29, trace.name, ink, SMALL)
            yield line(x - 31, self.top + 25, x - 5, self.top + 25, ink, _weight(trace), _dash(trace, index))
            yield self._marker(trace, index, x - 18, self.top + 25)
            x -= 48

    def _axes(self) -> Iterator[str]:
        palette, right = self.palette, self.width - RIGHT
        levels = ticks(*self._range(), about=4)
        decimals = decimals_of(levels)
        yield group(line(LEFT, self.y(v), right, self.y(v), palette.hairline, 0.6) for v in levels)
        yield group(
            label(LEFT - 8, self.y(v) + 4, signed(v, decimals), palette.mute, SMALL, "end")
            for v in levels
            if self.y(v) > self.top + TOP + 6
        )
        bottom = self.top + self.height
        yield path(f"M{LEFT} {self.top + TOP:.1f}V{bottom:.1f}H{right}", palette.ink, 1)
        yield label(LEFT - 8, self.top + TOP - 7, self.panel.unit, palette.mute, SMALL, "end")
        yield line(LEFT, self.y(0), right, self.y(0), palette.mute, 1, "7 3")

    def _trace(self, trace: Trace, index: int) -> Iterator[str]:
        ink = self.palette.ink
        spread = trace.spread or (0.0,) * len(trace.value)
        rows = sorted(zip(trace.position_mm, trace.value, spread, strict=True))
        points = [(self.x(place), self.y(value)) for place, value, _ in rows]
        inside = []
        if trace.spread:
            upper = [(self.x(place), self.y(value + more)) for place, value, more in rows]
            lower = [(self.x(place), self.y(value - more)) for place, value, more in reversed(rows)]
            outline = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in upper + lower) + "Z"
            inside.append(element("path", d=outline, fill=ink, fill_opacity="0.09", class_="spread"))
        inside.append(polyline(points, ink, _weight(trace), _dash(trace, index)))
        if len(points) <= _MOST_MARKERS:
            inside += [self._marker(trace, index, x, y) for x, y in points]
        yield group(inside, class_="series", data_series=trace.name)

    def _marker(self, trace: Trace, index: int, x: float, y: float) -> str:
        if trace.main:
            return element("circle", cx=x, cy=y, r=2.6, fill=self.palette.ink)
        return path(f"M{x:.1f} {y:.1f}{_SHAPES[index % 4]}", self.palette.ink, 0.9, self.palette.panel)

    def _marks(self) -> Iterator[str]:
        palette = self.palette
        colours = {"now": palette.now, "undecided": palette.undecided, "plain": palette.mute}
        for number, mark in enumerate(self.panel.marks):
            colour = colours[mark.sort]
            ends = sorted((self.x(mark.from_mm), self.x(mark.to_mm)))
            x1, x2 = (ends[0], ends[1]) if ends[1] - ends[0] > 6 else (sum(ends) / 2 - 3, sum(ends) / 2 + 3)
            top, bottom = self.top + TOP, self.top + self.height
            shade = element("rect", x=x1, y=top, width=x2 - x1, height=bottom - top, fill=colour, fill_opacity="0.12")
            edge = line(x1, top, x2, top, colour, 3)
            half = width_of(mark.words, SMALL) / 2
            middle = min(max((x1 + x2) / 2, LEFT + half + 4), self.width - RIGHT - half)
            words = label(middle, top + 14 + 13 * (number % 3), mark.words, colour, SMALL, "middle", halo=palette.panel)
            yield group((shade, edge, words), class_=f"mark {mark.sort}")


def _positions(
    scene: PanelsScene,
    palette: Palette,
    width: float,
    height: float,
    x_range: tuple[float, float],
    language: str,
) -> Iterator[str]:
    bottom = height - BOTTOM
    places = [(_x(scene, width, x_range, v), plain_number(v)) for v in ticks(*x_range, about=10)]
    yield group(line(x, bottom, x, bottom + 5, palette.ink) for x, _ in places)
    yield group(label(x, bottom + 17, words, palette.mute, SMALL, "middle") for x, words in room_for(places, SMALL))
    key = "drawing.axis_grows_left" if scene.grows_left else "drawing.axis_grows_right"
    middle = (LEFT + width - RIGHT) / 2
    yield label(middle, height - 8, text(key, language, unit="mm"), palette.mute, SMALL, "middle")


def _weight(trace: Trace) -> float:
    return 1.9 if trace.main else 0.9


def _dash(trace: Trace, index: int) -> str | None:
    return None if trace.main else _DASHES[index % len(_DASHES)]
