"""A surface in oblique view: points over their reference plane, heights exaggerated by a stated factor."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from waywright.drawing.lettering import plain_number, signed
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scale import round_down
from waywright.drawing.svg import Sheet, document, element, group, label, line, polyline
from waywright.errors import BadInput
from waywright.wording import ENGLISH, text

SMALL, NORMAL, MARGIN, HEAD = 11.0, 13.0, 44.0, 54.0
_SLANT = math.radians(32.0)
_DEPTH = 0.55


@dataclass(frozen=True, slots=True)
class SurfaceScene:
    """Points (n,) with deviations from the reference plane; ``lines`` are chains of point indices to be joined."""

    heading: str
    note: str
    description: str
    x_mm: tuple[float, ...]
    y_mm: tuple[float, ...]
    deviation_um: tuple[float, ...]
    lines: tuple[tuple[int, ...], ...] = ()


def surface(
    scene: SurfaceScene,
    *,
    palette: Palette = LIGHT,
    width: float = 760.0,
    language: str = ENGLISH,
    ident: str = "surface",
) -> str:
    """The surface as SVG text. Raises BadInput where lengths differ or there are fewer than three points."""
    sizes = {len(scene.x_mm), len(scene.y_mm), len(scene.deviation_um)}
    if len(sizes) != 1 or len(scene.x_mm) < 3:
        raise BadInput("drawing.lengths", positions=len(scene.x_mm), values=len(scene.deviation_um))
    view = _View.of(scene, palette, width, language)
    body = [*_heading(view), *_plane(view), *_net(view), *_stems(view), *_extremes(view)]
    return document(Sheet(width, view.height, scene.heading, scene.description, ident), palette, body)


def grid_lines(x_mm: Sequence[float], y_mm: Sequence[float]) -> tuple[tuple[int, ...], ...]:
    """Rows and columns of points that share a coordinate: what to join where the points are a grid."""
    found: list[tuple[int, ...]] = []
    for own, other in ((y_mm, x_mm), (x_mm, y_mm)):
        span = max(own) - min(own) or 1.0
        chains: dict[int, list[int]] = {}
        for index, value in enumerate(own):
            chains.setdefault(round((value - min(own)) / span * 1e4), []).append(index)
        found += [tuple(sorted(chain, key=lambda k: other[k])) for chain in chains.values() if len(chain) > 1]
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _View:
    scene: SurfaceScene
    palette: Palette
    language: str
    width: float
    height: float
    scale: float
    left: float
    ground: float
    rise_px_per_um: float
    factor: float

    @classmethod
    def of(cls, scene: SurfaceScene, palette: Palette, width: float, language: str) -> _View:
        span_x = max(scene.x_mm) - min(scene.x_mm) or 1.0
        span_y = max(scene.y_mm) - min(scene.y_mm) or 1.0
        wide = span_x + span_y * _DEPTH * math.cos(_SLANT)
        deep = span_y * _DEPTH * math.sin(_SLANT)
        scale = min((width - 2 * MARGIN) / wide, 300.0 / deep if deep else 1e9)
        largest = max((abs(value) for value in scene.deviation_um), default=0.0) or 1.0
        factor = round_down(46.0 / (largest / 1000.0 * scale))
        rise = factor * scale / 1000.0
        left = (width - wide * scale) / 2
        ground = HEAD + largest * rise + 20 + deep * scale
        return cls(scene, palette, language, width, ground + largest * rise + 48, scale, left, ground, rise, factor)

    def place(self, x_mm: float, y_mm: float, value_um: float = 0.0) -> tuple[float, float]:
        """Where a point stands on the sheet: x to the right, y away from the viewer, heights up."""
        x, y = x_mm - min(self.scene.x_mm), y_mm - min(self.scene.y_mm)
        right = self.left + (x + y * _DEPTH * math.cos(_SLANT)) * self.scale
        return right, self.ground - y * _DEPTH * math.sin(_SLANT) * self.scale - value_um * self.rise_px_per_um

    def point(self, index: int, *, on_plane: bool = False) -> tuple[float, float]:
        """A point of the surface, or its foot on the plane."""
        value = 0.0 if on_plane else self.scene.deviation_um[index]
        return self.place(self.scene.x_mm[index], self.scene.y_mm[index], value)


def _heading(view: _View) -> Iterator[str]:
    yield label(MARGIN, 17, view.scene.heading, view.palette.ink, NORMAL)
    yield label(MARGIN, 33, view.scene.note, view.palette.mute, SMALL)
    words = text("drawing.exaggerated", view.language, factor=plain_number(view.factor))
    yield label(view.width - MARGIN, view.height - 10, words, view.palette.mute, SMALL, "end")
    x_mm, y_mm = view.scene.x_mm, view.scene.y_mm
    ends = {"x1": min(x_mm), "x2": max(x_mm), "y1": min(y_mm), "y2": max(y_mm)}
    places = text("drawing.surface_axes", view.language, **{key: plain_number(value) for key, value in ends.items()})
    yield label(MARGIN, view.height - 10, places, view.palette.mute, SMALL)


def _plane(view: _View) -> Iterator[str]:
    scene = view.scene
    ends = [(min, min), (max, min), (max, max), (min, max)]
    corners = [view.place(first(scene.x_mm), second(scene.y_mm)) for first, second in ends]
    yield polyline([*corners, corners[0]], view.palette.mute, 0.9, "7 3")


def _net(view: _View) -> Iterator[str]:
    for chain in view.scene.lines:
        flat = [view.point(index, on_plane=True) for index in chain]
        yield group(line(*a, *b, view.palette.hairline, 0.6) for a, b in pairwise(flat))
    for chain in view.scene.lines:
        yield polyline([view.point(index) for index in chain], view.palette.ink, 1.3)


def _stems(view: _View) -> Iterator[str]:
    """Farther points first; filled above the plane, hollow below."""
    ink, panel = view.palette.ink, view.palette.panel
    for index in sorted(range(len(view.scene.x_mm)), key=lambda k: -view.scene.y_mm[k]):
        (x, y), (_, foot) = view.point(index), view.point(index, on_plane=True)
        fill = ink if view.scene.deviation_um[index] >= 0 else panel
        dot = element("circle", cx=x, cy=y, r=2.8, fill=fill, stroke=ink, stroke_width=0.9)
        yield group((line(x, foot, x, y, view.palette.mute, 0.7), dot), class_="point")


def _extremes(view: _View) -> Iterator[str]:
    values = view.scene.deviation_um
    for pick, shift in ((max, -9.0), (min, 17.0)):
        index = values.index(pick(values))
        x, y = view.point(index)
        words = f"{signed(values[index])} µm"
        yield label(x, y + shift, words, view.palette.ink, SMALL, "middle", bold=True, halo=view.palette.panel)
