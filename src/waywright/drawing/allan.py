"""Scatter of averages over averaging time, both logarithmic, with the wish and the time that reaches it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from waywright.drawing.lettering import plain_number
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.svg import Sheet, document, element, label, line, polyline, short
from waywright.errors import BadInput
from waywright.wording import text

SMALL, NORMAL = 12.0, 14.0
_LEFT, _RIGHT, _TOP, _FOOT, _HEIGHT = 58.0, 20.0, 40.0, 44.0, 300.0
_ROUND = (1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class AllanCurve:
    """One place: its name, averaging times (k,) in s, Allan deviation in um with its upper limit."""

    name: str
    averaging_s: tuple[float, ...]
    deviation_um: tuple[float, ...]
    upper_um: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class AllanScene:
    """Curves of both places, the scatter wished for, the averaging time that reaches it (None: none does)."""

    heading: str
    curves: tuple[AllanCurve, ...]
    wished_um: float
    averaging_s: float | None


def allan(scene: AllanScene, *, palette: Palette = LIGHT, width: float = 680.0, ident: str = "allan") -> str:
    """The curves as SVG text. Raises BadInput where there is nothing to draw."""
    view = _View.of(scene, width)
    body = [
        label(6, 18, scene.heading, palette.ink, NORMAL),
        *_grid(view, palette),
        *_wish(scene, view, palette),
        *_curves(scene, view, palette),
    ]
    return document(Sheet(width, _HEIGHT, scene.heading, _in_words(scene), ident), palette, body)


@dataclass(frozen=True, slots=True)
class _View:
    width: float
    time_s: tuple[float, float]
    value_um: tuple[float, float]

    @classmethod
    def of(cls, scene: AllanScene, width: float) -> _View:
        times = [t for curve in scene.curves for t in curve.averaging_s]
        values = [v for curve in scene.curves for v in (*curve.deviation_um, *curve.upper_um) if v > 0]
        if not times or not values:
            raise BadInput("drawing.lengths", positions=len(times), values=len(values))
        low, high = min([*values, scene.wished_um]), max([*values, scene.wished_um])
        return cls(width, (min(times), max(*times, 2 * min(times))), (low / 1.3, high * 1.3))

    def x(self, time_s: float) -> float:
        share = math.log(time_s / self.time_s[0]) / math.log(self.time_s[1] / self.time_s[0])
        return _LEFT + share * (self.width - _LEFT - _RIGHT)

    def y(self, value_um: float) -> float:
        share = math.log(value_um / self.value_um[0]) / math.log(self.value_um[1] / self.value_um[0])
        return _HEIGHT - _FOOT - share * (_HEIGHT - _FOOT - _TOP)


def _round_values(low: float, high: float) -> list[float]:
    decades = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    return [step * 10.0**power for power in decades for step in _ROUND if low <= step * 10.0**power <= high]


def _grid(view: _View, palette: Palette) -> Iterator[str]:
    bottom = _HEIGHT - _FOOT
    for value in _round_values(*view.value_um):
        yield line(_LEFT, view.y(value), view.width - _RIGHT, view.y(value), palette.hairline, 0.7)
        yield label(_LEFT - 8, view.y(value) + 4, f"{_figure(value)} µm", palette.mute, SMALL, "end")
    for value in _round_values(*view.time_s):
        yield line(view.x(value), _TOP, view.x(value), bottom, palette.hairline, 0.7)
        yield label(view.x(value), bottom + 17, f"{_figure(value)} s", palette.mute, SMALL, "middle")
    middle = (_LEFT + view.width - _RIGHT) / 2
    yield label(middle, _HEIGHT - 6, text("drawing.averaging_time"), palette.mute, SMALL, "middle")


def _figure(value: float) -> str:
    return plain_number(value, max(0, -math.floor(math.log10(value) + 1e-9)))


def _wish(scene: AllanScene, view: _View, palette: Palette) -> Iterator[str]:
    y = view.y(scene.wished_um)
    yield line(_LEFT, y, view.width - _RIGHT, y, palette.inside, 1.4, "7 4")
    words = text("drawing.wished", wished=_figure(scene.wished_um))
    yield label(view.width - _RIGHT, y - 6, words, palette.inside, SMALL, "end", halo=palette.panel)
    if scene.averaging_s is not None and view.time_s[0] <= scene.averaging_s <= view.time_s[1]:
        x = view.x(scene.averaging_s)
        yield line(x, y, x, _HEIGHT - _FOOT, palette.now, 2.0)
        words = f"{plain_number(scene.averaging_s, 1)} s"
        yield label(x + 7, _HEIGHT - _FOOT - 8, words, palette.now, NORMAL, bold=True, halo=palette.panel)


def _curves(scene: AllanScene, view: _View, palette: Palette) -> Iterator[str]:
    for curve, colour in zip(scene.curves, (palette.ink, palette.mute), strict=False):
        points = _places(view, curve.averaging_s, curve.deviation_um)
        yield polyline(points, colour, 2.0, None if colour == palette.ink else "5 3")
        for (x, y), (_, top) in zip(points, _places(view, curve.averaging_s, curve.upper_um), strict=True):
            yield line(x, y, x, top, colour, 0.9)
            yield element("circle", cx=x, cy=y, r=2.6, fill=colour)
        if points:
            x, y = points[-1]
            yield label(x - 4, y - 10, curve.name, colour, SMALL, "end", halo=palette.panel)


def _places(view: _View, times: Sequence[float], values: Sequence[float]) -> list[tuple[float, float]]:
    return [(view.x(t), view.y(v)) for t, v in zip(times, values, strict=True) if v > 0 and math.isfinite(v)]


def _in_words(scene: AllanScene) -> str:
    least = [f"{curve.name}: {short(min(curve.deviation_um))} µm" for curve in scene.curves]
    return "; ".join(least)
