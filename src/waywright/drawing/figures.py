"""Two plain figures: a line seen along its axis in its cylinder, and the angle between two lines."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from waywright.drawing.lettering import plain_number
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scale import round_down
from waywright.drawing.svg import Sheet, document, element, label, line, path, polyline
from waywright.errors import BadInput
from waywright.wording import ENGLISH, text

SMALL, NORMAL, HERO, MARGIN = 11.0, 13.0, 30.0, 44.0


@dataclass(frozen=True, slots=True)
class CylinderScene:
    """Deviations of both planes from the axis of the cylinder, in the order of the stations."""

    heading: str
    note: str
    description: str
    across_word: str
    up_word: str
    across_um: tuple[float, ...]
    up_um: tuple[float, ...]
    position_mm: tuple[float, ...]
    diameter_um: float


@dataclass(frozen=True, slots=True)
class AngleScene:
    """Two directions: ``square`` draws them at right angles, otherwise side by side; ``angle_um_per_m`` is the error.

    ``value`` and ``unit`` are the figure printed large, ``note`` says what it means.
    """

    heading: str
    note: str
    description: str
    first_word: str
    second_word: str
    angle_um_per_m: float
    square: bool
    value: str
    unit: str


def cylinder(
    scene: CylinderScene,
    *,
    palette: Palette = LIGHT,
    width: float = 760.0,
    ident: str = "cylinder",
) -> str:
    """The line seen along its axis as SVG text. Raises BadInput where lengths differ or nothing is there."""
    if not scene.across_um or len(scene.across_um) != len(scene.up_um):
        raise BadInput("drawing.lengths", positions=len(scene.across_um), values=len(scene.up_um))
    height, radius = 400.0, 150.0
    centre = (MARGIN + 60 + radius, 62 + radius + 6)
    scale = radius / (scene.diameter_um / 2 or 1.0)
    points = [(centre[0] + a * scale, centre[1] - b * scale) for a, b in zip(scene.across_um, scene.up_um, strict=True)]
    body = [*_cylinder_frame(scene, palette, centre, radius), polyline(points, palette.ink, 1.1)]
    body += [element("circle", cx=x, cy=y, r=2.4, fill=palette.ink) for x, y in points[1:-1]]
    body += _cylinder_ends(scene, palette, points)
    x = centre[0] + radius + 90
    body.append(label(x, centre[1], plain_number(scene.diameter_um, 1), palette.ink, HERO))
    body.append(label(x, centre[1] + 20, "µm ⌀", palette.mute, NORMAL))
    return document(Sheet(width, height, scene.heading, scene.description, ident), palette, body)


def _cylinder_frame(
    scene: CylinderScene, palette: Palette, centre: tuple[float, float], radius: float
) -> Iterator[str]:
    x, y = centre
    yield label(MARGIN, 17, scene.heading, palette.ink, NORMAL)
    yield label(MARGIN, 33, scene.note, palette.mute, SMALL)
    yield line(x - radius - 14, y, x + radius + 14, y, palette.hairline, 0.7)
    yield line(x, y - radius - 14, x, y + radius + 14, palette.hairline, 0.7)
    yield element(
        "circle", cx=x, cy=y, r=radius, fill="none", stroke=palette.mute, stroke_width=1, stroke_dasharray="7 3"
    )
    yield label(x + radius + 18, y + 4, f"{scene.across_word} +", palette.mute, SMALL)
    yield label(x, y - radius - 18, f"{scene.up_word} +", palette.mute, SMALL, "middle")


def _cylinder_ends(scene: CylinderScene, palette: Palette, points: list[tuple[float, float]]) -> Iterator[str]:
    """First and last station named, hollow; one name where they fall together, as they often do."""
    names = [plain_number(scene.position_mm[index]) for index in (0, -1)]
    together = math.dist(points[0], points[-1]) < 30.0
    for index, name in ((0, ", ".join(names) if together else names[0]), (-1, "" if together else names[1])):
        x, y = points[index]
        yield element("circle", cx=x, cy=y, r=3.2, fill=palette.panel, stroke=palette.ink, stroke_width=1.1)
        if name:
            yield label(x + 7, y - 6, f"{name} mm", palette.ink, SMALL, halo=palette.panel)


def angle(
    scene: AngleScene,
    *,
    palette: Palette = LIGHT,
    width: float = 760.0,
    language: str = ENGLISH,
    ident: str = "angle",
) -> str:
    """The angle between two lines as SVG text, exaggerated by a stated factor."""
    height = 300.0
    size = abs(scene.angle_um_per_m) * 1e-6
    factor = round_down(0.14 / size) if size > 0 else 1.0
    turn = scene.angle_um_per_m * 1e-6 * factor
    body = [
        label(MARGIN, 17, scene.heading, palette.ink, NORMAL),
        label(MARGIN, 33, scene.note, palette.mute, SMALL),
        *(_square(scene, palette, turn) if scene.square else _beside(scene, palette, turn)),
        label(470, 158, scene.value, palette.ink, HERO),
        label(470, 178, scene.unit, palette.mute, NORMAL),
    ]
    if size > 0:
        words = text("drawing.angle_exaggerated", language, factor=plain_number(factor))
        body.append(label(width - MARGIN, height - 10, words, palette.mute, SMALL, "end"))
    return document(Sheet(width, height, scene.heading, scene.description, ident), palette, body)


def _square(scene: AngleScene, palette: Palette, turn: float) -> Iterator[str]:
    """First axis to the right, second up; a larger angle leans the second to the left."""
    x, y, length = MARGIN + 90, 262.0, 190.0
    tip = (x - length * math.sin(turn), y - length * math.cos(turn))
    yield path(f"M{x} {y - 22}h22v22", palette.hairline, 0.9)
    yield line(x, y, x, y - length, palette.mute, 1, "7 3")
    yield line(x, y, x + 250, y, palette.ink, 1.9)
    yield line(x, y, *tip, palette.ink, 1.9)
    yield label(x + 250, y + 17, f"+{scene.first_word} →", palette.ink, SMALL, "end")
    yield label(tip[0], tip[1] - 9, f"+{scene.second_word}", palette.ink, SMALL, "middle")


def _beside(scene: AngleScene, palette: Palette, turn: float) -> Iterator[str]:
    """First line level, second above it, leaning."""
    x, length = MARGIN + 20, 340.0
    low, high = 236.0, 130.0
    rise = length * math.tan(turn)
    yield line(x, low, x + length, low, palette.ink, 1.9)
    yield line(x, high + rise / 2, x + length, high + rise / 2, palette.mute, 1, "7 3")
    yield line(x, high + rise / 2, x + length, high - rise / 2, palette.ink, 1.9)
    yield label(x, low + 18, scene.first_word, palette.ink, SMALL)
    yield label(x, min(high + rise / 2, high - rise / 2) - 12, scene.second_word, palette.ink, SMALL)
