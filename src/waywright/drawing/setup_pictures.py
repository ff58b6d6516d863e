"""Drawings of set-ups for procedures: what stands where, what moves, which way the instrument looks, in few words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from waywright.drawing.palette import LIGHT, Palette
from waywright.drawing.svg import Sheet, box, document, element, group, label, line, path
from waywright.wording import text

WIDTH, HEIGHT = 360.0, 170.0
FLOOR, WAY = 132.0, 96.0
Drawn = Callable[["Bench"], Iterator[str]]


class Bench:
    """What drawings are made of: ink, and words in a language."""

    def __init__(self, palette: Palette, language: str) -> None:
        self.p = palette
        self._language = language

    def word(self, x: float, y: float, name: str, anchor: str = "middle") -> str:
        """A word of the reader's language."""
        return label(x, y, text(f"setup_words.{name}", self._language), self.p.mute, 11, anchor)

    def block(self, x1: float, y1: float, x2: float, y2: float, width: float = 1.5) -> str:
        """A solid part by two corners."""
        return box(x1, y1, x2, y2, self.p.ink, width, self.p.panel)

    def bed(self, x1: float = 24, x2: float = 336) -> str:
        """A bed on three supports."""
        feet = "".join(f"M{x - 9:g} {FLOOR:g}h18l-4 -10h-10Z" for x in (x1 + 26, (x1 + x2) / 2, x2 - 26))
        ground = line(x1 - 12, FLOOR, x2 + 12, FLOOR, self.p.hairline)
        return ground + path(feet, self.p.ink, 1.2, self.p.panel) + self.block(x1, WAY, x2, FLOOR - 10)

    def carriage(self, x: float, y: float = WAY, half: float = 30) -> str:
        """A carriage that stands on y."""
        return self.block(x - half, y - 16, x + half, y)

    def moves(self, x: float, y: float, length: float = 46) -> str:
        """Both ways along x: what moves."""
        half = length / 2
        heads = f"M{x - half + 6:g} {y - 4:g}l-6 4l6 4M{x + half - 6:g} {y - 4:g}l6 4l-6 4"
        return line(x - half, y, x + half, y, self.p.now, 1.4) + path(heads, self.p.now, 1.4)

    def upright(self, x: float, y: float, length: float = 46) -> str:
        """Up and down: what moves."""
        return group((self.moves(x, y, length),), transform=f"rotate(90 {x:g} {y:g})")

    def dial(self, x: float, y: float, turn: float = 0.0) -> str:
        """An indicator with its tip at (x, y), looking down; ``turn`` in degrees clockwise."""
        parts = (
            line(x, y, x, y - 11, self.p.ink, 1.5),
            element("circle", cx=x, cy=y - 20, r=9, fill=self.p.panel, stroke=self.p.ink, stroke_width=1.3),
            line(x, y - 20, x + 4, y - 26, self.p.now, 1.5),
        )
        return group(parts, transform=f"rotate({turn:g} {x:g} {y:g})")

    def level(self, x: float, y: float, length: float = 56) -> str:
        """A level whose feet stand on y."""
        half = length / 2
        feet = line(x - half + 3, y, x - half + 3, y - 4, self.p.ink, 2) + line(
            x + half - 3, y, x + half - 3, y - 4, self.p.ink, 2
        )
        bubble = element("ellipse", cx=x + 3, cy=y - 10, rx=5, ry=2.4, fill=self.p.now)
        return (
            feet
            + self.block(x - half, y - 16, x + half, y - 4)
            + self.block(x - 13, y - 13, x + 13, y - 7, 0.9)
            + bubble
        )

    def beam(self, x1: float, x2: float, y: float) -> str:
        """A line of sight."""
        return line(x1, y, x2, y, self.p.now, 1.3, "1.5 4.5")

    def turning(self, x: float, y: float) -> str:
        """Something that is turned."""
        return path(f"M{x - 10:g} {y:g}a10 6 0 0 1 20 0m-6 -4l6 5l1 -7", self.p.now, 1.4)

    def head(self, x: float, y: float, side: int = 1) -> str:
        """A headstock whose nose looks right (1) or left (-1), its axis at y."""
        return self.block(x - 20, y - 26, x + 20, WAY) + self.block(x + side * 20, y - 9, x + side * 30, y + 9)

    def bar(self, x1: float, x2: float, y: float, half: float = 6) -> str:
        """A bar with its axis at y."""
        return self.block(x1, y - half, x2, y + half) + line(x1 - 6, y, x2 + 8, y, self.p.mute, 0.7, "8 2 1 2")


def setup_picture(
    name: str, title: str, *, palette: Palette = LIGHT, language: str = "en", ident: str = "setup"
) -> str | None:
    """The drawing of a set-up as SVG text, None for a name that has none. ``title`` is read aloud."""
    drawn = PICTURES.get(name)
    if drawn is None:
        return None
    return document(Sheet(WIDTH, HEIGHT, title, title, ident), palette, drawn(Bench(palette, language)))


def _straightness_beam(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield b.beam(62, 220, 58)
    yield b.block(44, 48, 64, 68) + line(54, 68, 54, WAY, b.p.ink, 1.5)
    yield b.carriage(240) + b.block(222, 48, 240, 68) + line(231, 68, 231, WAY - 16, b.p.ink, 1.5)
    yield b.word(54, 40, "source") + b.word(232, 40, "detector") + b.word(142, 50, "beam") + b.moves(300, 80)


def _straightness_level(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield b.level(110, WAY)
    yield from (line(x, WAY - 4, x, WAY + 4, b.p.mute, 1) for x in (85, 135, 185, 235, 285))
    yield b.word(110, 70, "level") + b.word(185, 116, "step_is_base") + b.moves(190, 88)


def _level_along(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield b.level(70, WAY) + b.level(180, WAY) + b.level(290, WAY)
    yield b.word(180, 70, "level")


def _across(b: Bench) -> Iterator[str]:
    yield line(70, FLOOR, 290, FLOOR, b.p.hairline)
    yield b.block(96, WAY, 126, FLOOR - 6) + b.block(234, WAY, 264, FLOOR - 6)
    yield path(f"M104 {FLOOR:g}h14l-3 -6h-8ZM242 {FLOOR:g}h14l-3 -6h-8Z", b.p.ink, 1.2, b.p.panel)
    yield b.block(90, WAY - 12, 270, WAY)


def _twist_level(b: Bench) -> Iterator[str]:
    yield from _across(b)
    yield b.level(180, WAY - 12, 90)
    yield b.word(180, 56, "level_across") + b.word(111, 150, "rear") + b.word(249, 150, "front")


def _two_rails(b: Bench) -> Iterator[str]:
    yield from _across(b)
    yield b.level(180, WAY - 12, 90) + b.dial(234, WAY + 14, 90)
    yield b.word(180, 56, "bridge") + b.word(111, 150, "master_rail") + b.word(249, 150, "other_rail")


def _angle_level(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield b.carriage(200, half=44) + b.level(200, WAY - 16) + b.level(66, WAY)
    yield b.word(200, 54, "level") + b.word(66, 68, "second_level") + b.moves(290, 80)


def _angle_reflector(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield b.block(40, 50, 78, 70) + line(58, 70, 58, WAY, b.p.ink, 1.5) + b.beam(78, 236, 60)
    yield b.carriage(250) + line(238, 44, 238, 76, b.p.ink, 3.5) + line(238, 76, 238, WAY - 16, b.p.ink, 1.5)
    yield b.word(60, 40, "angle_instrument") + b.word(248, 38, "reflector") + b.moves(310, 80)


def _joint_indicator(b: Bench) -> Iterator[str]:
    yield b.block(30, WAY, 182, FLOOR - 6) + b.block(183, WAY - 5, 334, FLOOR - 6)
    yield b.block(92, WAY - 12, 150, WAY) + line(140, WAY - 12, 140, WAY - 40, b.p.ink, 2)
    yield line(140, WAY - 36, 206, WAY - 36, b.p.ink, 2) + b.dial(206, WAY - 5)
    yield b.word(183, 148, "joint") + b.moves(270, 60)


def _squareness_square(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield path(f"M120 {WAY:g}v-82h14v68h92v14Z", b.p.ink, 1.5, b.p.panel)
    yield b.dial(134, 34, 90) + b.upright(190, 44) + b.moves(270, 84)
    yield b.word(112, 52, "square", "end")


def _squareness_level(b: Bench) -> Iterator[str]:
    yield b.bed()
    yield b.block(200, 14, 236, WAY) + b.level(100, WAY)
    yield group((b.level(186, 56),), transform="rotate(-90 186 56) translate(0 14)")
    yield b.word(100, 70, "level") + b.word(262, 30, "column", "start") + b.upright(270, 66)


def _facing(b: Bench) -> Iterator[str]:
    yield b.bed() + b.head(70, 58)
    yield b.block(100, 22, 112, 94) + b.dial(112, 40, 90) + b.turning(70, 22)
    yield b.upright(190, 56) + b.word(106, 14, "disc", "start") + b.word(206, 60, "cross_slide", "start")


def _spindle_bar(b: Bench) -> Iterator[str]:
    yield b.bed() + b.head(60, 62)
    yield b.bar(90, 262, 62) + b.dial(108, 56) + b.dial(246, 56)
    yield b.turning(60, 24) + b.moves(178, 40) + b.word(178, 84, "test_bar")


def _centres_bar(b: Bench) -> Iterator[str]:
    yield b.bed() + b.head(56, 62) + b.head(304, 62, -1)
    yield b.bar(92, 268, 62) + b.dial(116, 56) + b.dial(244, 56)
    yield b.moves(180, 40) + b.word(180, 84, "test_bar")


def _run_out(b: Bench) -> Iterator[str]:
    yield b.bed() + b.head(90, 62)
    yield b.bar(120, 190, 62, 8) + b.dial(140, 54) + b.dial(190, 62, 90)
    yield b.turning(90, 22) + b.word(206, 44, "slip", "start") + b.word(140, 20, "run_out")


def _table_indicator(b: Bench) -> Iterator[str]:
    yield b.bed() + b.block(80, WAY - 14, 280, WAY)
    yield b.block(170, 10, 200, 34) + line(186, 34, 186, 52, b.p.ink, 2) + b.dial(186, WAY - 14)
    yield b.moves(110, 66) + b.word(244, 74, "table")


def _tramming(b: Bench) -> Iterator[str]:
    yield b.bed() + b.block(80, WAY - 12, 280, WAY)
    yield b.block(166, 6, 194, 34) + line(180, 34, 180, 46, b.p.ink, 3) + path("M180 46H118V56", b.p.ink, 2)
    yield b.dial(118, WAY - 12) + b.turning(180, 62) + b.word(238, 74, "table")


def _flatness_grid(b: Bench) -> Iterator[str]:
    yield path("M70 120L130 40H310L250 120Z", b.p.ink, 1.6, b.p.panel)
    yield path("M70 120L310 40M130 40L250 120M100 80H280M190 40L160 120M160 120L220 40", b.p.mute, 0.9)
    yield path("M70 120L130 40M130 40H310M310 40L250 120M250 120H70", b.p.now, 1.2, dash="5 3")
    yield b.word(190, 146, "grid")


PICTURES: Mapping[str, Drawn] = {
    name.removeprefix("_"): drawn
    for name, drawn in globals().items()
    if name.startswith("_") and callable(drawn) and getattr(drawn, "__module__", "") == __name__ and name != "_across"
}
