"""The beam beside the axis: where it lies near and far, seen from the side or from above, exaggerated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from waywright.drawing.lettering import plain_number, signed
from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.scale import round_down
from waywright.drawing.svg import Sheet, box, document, element, label, line
from waywright.wording import text

SMALL, NORMAL = 12.0, 14.0
_LEFT, _RIGHT, _MIDDLE, _HEIGHT, _SPREAD = 40.0, 70.0, 124.0, 232.0, 66.0


@dataclass(frozen=True, slots=True)
class BeamScene:
    """Readings at distances from the source, positive as ``positive_word`` says, and the line through them."""

    heading: str
    positive_word: str
    distance_m: tuple[float, ...]
    reading_um: tuple[float, ...]
    shift_um: float
    tilt_um_per_m: float


def beam(scene: BeamScene, *, palette: Palette = LIGHT, width: float = 680.0, ident: str = "beam") -> str:
    """The beam as SVG text. A detector that reads + stands on the + side of the beam: so the beam lies on the other."""
    view = _View.of(scene, width)
    body = [*_axis(scene, view, palette), *_ray(scene, view, palette), *_readings(scene, view, palette)]
    pairs = ", ".join(f"{signed(r)} µm ({d:.1f} m)" for d, r in zip(scene.distance_m, scene.reading_um, strict=True))
    return document(Sheet(width, _HEIGHT, scene.heading, pairs, ident), palette, body)


@dataclass(frozen=True, slots=True)
class _View:
    width: float
    far_m: float
    factor: float
    px_per_um: float

    @classmethod
    def of(cls, scene: BeamScene, width: float) -> _View:
        far = max(scene.distance_m) * 1.04 or 1.0
        lies = (scene.shift_um, scene.shift_um + scene.tilt_um_per_m * far, *scene.reading_um)
        largest = max(1.0, *map(abs, lies))
        px_per_m = (width - _LEFT - _RIGHT) / far
        factor = round_down(_SPREAD / largest / (px_per_m / 1e6))
        return cls(width, far, factor, factor * px_per_m / 1e6)

    def x(self, distance_m: float) -> float:
        return _LEFT + distance_m / self.far_m * (self.width - _LEFT - _RIGHT)

    def y(self, reading_um: float) -> float:
        """Of the beam for a reading: below the axis for a positive one."""
        return _MIDDLE + reading_um * self.px_per_um


def _axis(scene: BeamScene, view: _View, palette: Palette) -> Iterator[str]:
    yield label(6, 18, scene.heading, palette.ink, NORMAL)
    yield label(view.width - 6, 18, text("drawing.positive", direction=scene.positive_word), palette.mute, SMALL, "end")
    yield line(_LEFT, _MIDDLE, view.x(view.far_m), _MIDDLE, palette.mute, 1.0, "7 4")
    words = text("drawing.exaggerated", factor=f"{view.factor:,.0f}".replace(",", "\N{NO-BREAK SPACE}"))
    yield label(view.width - 6, 36, words, palette.mute, SMALL, "end")


def _ray(scene: BeamScene, view: _View, palette: Palette) -> Iterator[str]:
    start = view.y(scene.shift_um)
    end = view.y(scene.shift_um + scene.tilt_um_per_m * view.far_m)
    yield line(_LEFT, start, view.x(view.far_m), end, palette.now, 2.6)
    yield box(_LEFT - 18, start - 11, _LEFT, start + 11, palette.ink, 1.8, palette.panel)


def _readings(scene: BeamScene, view: _View, palette: Palette) -> Iterator[str]:
    for distance, reading in zip(scene.distance_m, scene.reading_um, strict=True):
        x = view.x(distance)
        yield line(x, _MIDDLE, x, view.y(reading), palette.ink, 1.2)
        yield element("circle", cx=x, cy=_MIDDLE, r=6.5, fill=palette.panel, stroke=palette.ink, stroke_width=2.0)
        above = -1 if reading > 0 else 1
        yield label(x, _MIDDLE + above * 16 + (0 if above < 0 else 8), f"{signed(reading)} µm", palette.ink, NORMAL,
                    "middle", bold=True, halo=palette.panel)  # fmt: skip
        yield label(x, _HEIGHT - 8, f"{plain_number(distance, 2)} m", palette.mute, SMALL, "middle")
