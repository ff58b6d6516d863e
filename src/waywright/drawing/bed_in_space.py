"""The bed in three dimensions: both guideways in oblique view, heights exaggerated by a stated factor.

The operator stands in front. Height and roll together say how high the front and the rear guideway are; without roll
both are as high as the middle.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from waywright.drawing.lettering import plain_number, signed, width_of
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scale import round_down
from waywright.drawing.svg import Sheet, document, element, group, label, line, path, polyline
from waywright.errors import BadInput
from waywright.machine import Bed, Support
from waywright.wording import text

SMALL, NORMAL, MARGIN, HEAD = 11.0, 13.0, 44.0, 46.0
_SLANT, _DEPTH_SHARE, _RELIEF = math.radians(38.0), 0.20, 62.0
_BODY, _FOOT = 30.0, 16.0
_FEWEST_DEEP = 46.0


@dataclass(frozen=True, slots=True)
class BedShape:
    """Heights (um, up positive) of both guideways at bed coordinates (n,), in the order along the bed."""

    name: str
    bed_mm: tuple[float, ...]
    front_um: tuple[float, ...]
    rear_um: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BedInSpace:
    """A bed and its shape; ``behind`` is another shape in pale, as the one as found behind the one as left."""

    heading: str
    note: str
    description: str
    bed: Bed
    shape: BedShape
    behind: BedShape | None = None


def bed_in_space(scene: BedInSpace, *, palette: Palette = LIGHT, width: float = 760.0, ident: str = "bed") -> str:
    """The bed as SVG text. Raises BadInput where a shape has fewer than two places or is of uneven length."""
    shapes = [scene.shape, *([scene.behind] if scene.behind else [])]
    for shape in shapes:
        sizes = {len(shape.bed_mm), len(shape.front_um), len(shape.rear_um)}
        if len(sizes) != 1 or len(shape.bed_mm) < 2:
            raise BadInput("drawing.lengths", positions=len(shape.bed_mm), values=len(shape.front_um))
    view = _View.of(scene, shapes, palette, width)
    body = [*_heading(view), *_bed(view), *_supports(view, "rear"), *_plane(view)]
    if scene.behind is not None:
        body += _shape(view, scene.behind, pale=True)
    body += [*_shape(view, scene.shape, pale=False), *_supports(view, "front"), *_foot(view)]
    return document(Sheet(width, view.height, scene.heading, scene.description, ident), palette, body)


@dataclass(frozen=True, slots=True)
class _View:
    scene: BedInSpace
    palette: Palette
    width: float
    px_per_mm: float
    deep: tuple[float, float]
    factor: float
    middle_um: float
    ground: float

    @classmethod
    def of(cls, scene: BedInSpace, shapes: list[BedShape], palette: Palette, width: float) -> _View:
        bed = scene.bed
        gauge_mm = bed.gauge_mm or bed.row_distance_mm or 0.1 * bed.length_mm
        px = (width - 2 * MARGIN) / (bed.length_mm + gauge_mm * _DEPTH_SHARE)
        reach = max(gauge_mm * px, _FEWEST_DEEP)
        deep = (reach * math.cos(_SLANT), reach * math.sin(_SLANT))
        px = (width - 2 * MARGIN - deep[0]) / bed.length_mm
        heights = [value for shape in shapes for value in (*shape.front_um, *shape.rear_um)]
        span = max(max(heights) - min(heights), 1e-3)
        factor = round_down(_RELIEF / span / px * 1e3)
        middle = (max(heights) + min(heights)) / 2
        return cls(scene, palette, width, px, deep, factor, middle, HEAD + deep[1] + _RELIEF / 2 + 14)

    @property
    def height(self) -> float:
        """Of the whole drawing."""
        return self.ground + _RELIEF / 2 + 12 + _BODY + _FOOT + 46

    def at(self, bed_mm: float, rear: float, height_um: float | None = None) -> tuple[float, float]:
        """Where a place stands: ``rear`` 0 is the front guideway, 1 the rear; without height on the bed itself."""
        x = MARGIN + bed_mm * self.px_per_mm + rear * self.deep[0]
        y = self.ground - rear * self.deep[1]
        if height_um is None:
            return x, y + _RELIEF / 2 + 12
        return x, y - (height_um - self.middle_um) * self.factor * self.px_per_mm / 1e3


def _heading(view: _View) -> Iterator[str]:
    scene, palette = view.scene, view.palette
    yield label(MARGIN, 17, scene.heading, palette.ink, NORMAL)
    yield label(MARGIN + width_of(scene.heading, NORMAL) + 12, 17, scene.note, palette.mute, SMALL)
    if scene.behind is not None:
        x = MARGIN
        for shape, colour, weight in ((scene.shape, palette.ink, 1.7), (scene.behind, palette.mute, 0.9)):
            yield line(x, 31, x + 26, 31, colour, weight, None if colour == palette.ink else "5 3")
            yield label(x + 33, 35, shape.name, palette.ink, SMALL)
            x += 33 + width_of(shape.name, SMALL) + 22


def _bed(view: _View) -> Iterator[str]:
    """The bed as a block, as thin as ink allows."""
    length, palette = view.scene.bed.length_mm, view.palette
    corners = [view.at(0.0, 0.0), view.at(length, 0.0), view.at(length, 1.0), view.at(0.0, 1.0)]
    (x1, y1), (x2, _), (x3, y3), (x4, _) = corners
    hair = palette.mute
    yield path(f"M{x1:.1f} {y1:.1f}H{x2:.1f}L{x3:.1f} {y3:.1f}H{x4:.1f}Z", hair, 0.8, palette.panel)
    yield path(f"M{x1:.1f} {y1:.1f}v{_BODY}H{x2:.1f}v{-_BODY}", hair, 0.8, palette.panel)
    yield path(f"M{x2:.1f} {y1 + _BODY:.1f}L{x3:.1f} {y3 + _BODY:.1f}v{-_BODY}", hair, 0.8, palette.panel)
    covered = view.scene.bed.headstock_mm
    if covered is not None:
        a, b = (view.at(place, 0.0) for place in sorted(covered))
        c = view.at(max(covered), 1.0)
        d = view.at(min(covered), 1.0)
        outline = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in (a, b, c, d)) + "Z"
        yield element("path", d=outline, fill=palette.hairline, fill_opacity="0.45", class_="headstock")


def _supports(view: _View, row: str) -> Iterator[str]:
    for support in view.scene.bed.supports:
        if (support.row == "rear") == (row == "rear"):
            yield _support(view, support)


def _support(view: _View, support: Support) -> str:
    rear = {"rear": 1.0, "middle": 0.5}.get(support.row, 0.0)
    x, y = view.at(support.bed_mm, rear)
    y += _BODY
    ink = view.palette.hairline if rear == 1.0 else view.palette.ink
    words = view.palette.mute if rear else view.palette.ink
    foot = path(f"M{x - 6:.1f} {y + 9:.1f}h12l-3 -9h-6Z", ink, 0.9, view.palette.panel)
    if rear == 1.0:
        return group((foot,), class_="support rear", data_support=support.name)
    name = label(x, y + 23, support.name, words, SMALL, "middle")
    return group((foot, name), class_="support", data_support=support.name)


def _plane(view: _View) -> Iterator[str]:
    """The plane that heights are counted from, over what was measured."""
    shape = view.scene.shape
    low, high = min(shape.bed_mm), max(shape.bed_mm)
    corners = [view.at(p, r, 0.0) for p, r in ((low, 0.0), (high, 0.0), (high, 1.0), (low, 1.0))]
    outline = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in corners) + "Z"
    yield path(outline, view.palette.mute, 0.8, "none", "7 3")


def _shape(view: _View, shape: BedShape, *, pale: bool) -> Iterator[str]:
    colour = view.palette.mute if pale else view.palette.ink
    dash = "5 3" if pale else None
    front = [view.at(p, 0.0, h) for p, h in zip(shape.bed_mm, shape.front_um, strict=True)]
    rear = [view.at(p, 1.0, h) for p, h in zip(shape.bed_mm, shape.rear_um, strict=True)]
    parts = []
    if not pale:
        outline = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in front + rear[::-1]) + "Z"
        parts.append(element("path", d=outline, fill=view.palette.ink, fill_opacity="0.06"))
        parts += [line(*a, *b, colour, 0.45) for a, b in zip(front, rear, strict=True)]
    parts += [polyline(rear, colour, 0.8 if pale else 1.1, dash), polyline(front, colour, 0.9 if pale else 1.7, dash)]
    yield group(parts, class_="shape pale" if pale else "shape", data_name=shape.name)
    if not pale:
        yield from _extremes(view, shape)


def _extremes(view: _View, shape: BedShape) -> Iterator[str]:
    """The highest and the lowest place named where they stand."""
    places = [
        (height, place, rear)
        for rear, heights in ((0.0, shape.front_um), (1.0, shape.rear_um))
        for place, height in zip(shape.bed_mm, heights, strict=True)
    ]
    for (height, place, rear), rise in ((max(places), -8.0), (min(places), 16.0)):
        x, y = view.at(place, rear, height)
        words = f"{signed(height)} µm"
        half = width_of(words, SMALL) / 2
        x_words = min(max(x, MARGIN + half), view.width - half - 4)
        yield element("circle", cx=x, cy=y, r=2.6, fill=view.palette.ink)
        yield label(x_words, y + rise, words, view.palette.ink, SMALL, "middle", bold=True, halo=view.palette.panel)


def _foot(view: _View) -> Iterator[str]:
    y, mute = view.height - 8, view.palette.mute
    yield label(MARGIN, y, text("drawing.operator_side"), mute, SMALL)
    words = text("drawing.exaggerated", factor=plain_number(view.factor))
    yield label(view.width - MARGIN, y, words, mute, SMALL, "end")
