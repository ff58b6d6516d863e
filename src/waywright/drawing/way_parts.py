"""Parts of the way drawing that both views share: captions, deviations, stations, arrows."""

from __future__ import annotations

import math
from collections.abc import Iterator

from waywright.drawing.band import Band
from waywright.drawing.lettering import plain_number, width_of
from waywright.drawing.scale import room_for, round_down
from waywright.drawing.svg import box, element, group, label, line, path, polyline
from waywright.drawing.way_frame import CAPTION, NORMAL, SMALL, STRIP, Strip, WayFrame
from waywright.quantities import Code, Kind, plain_name, screen_direction
from waywright.wording import text


def in_place(frame: WayFrame, position_mm: float) -> str:
    """A position as the reader wants it, without its unit."""
    unit = frame.scene.units.place
    return plain_number(position_mm * unit.per, unit.decimals)


def caption(frame: WayFrame) -> Iterator[str]:
    """What is drawn, in words: the quantity, where positive is, the reference line; at the right the exaggeration."""
    if frame.strip is None or frame.scene.quantity is None:
        return
    head, tail = caption_words(frame)
    x = frame.x0 + width_of(head, NORMAL) + 12
    yield label(frame.x0, 18, head, frame.palette.ink, NORMAL)
    if x + width_of(tail, SMALL) <= frame.width - 4:
        yield label(x, 18, tail, frame.palette.mute, SMALL)
    if _room_in_caption(frame):
        yield label(frame.right, 18, _exaggeration(frame), frame.palette.mute, SMALL, "end")


def _exaggeration(frame: WayFrame) -> str:
    quantity, strip = frame.scene.quantity, frame.strip
    if quantity is None or strip is None:
        return ""
    key = "drawing.exaggerated" if quantity.kind is Kind.DISPLACEMENT else "drawing.not_to_scale"
    return text(key, frame.language, factor=f"{strip.factor:,.0f}".replace(",", "\N{NO-BREAK SPACE}"))


def _room_in_caption(frame: WayFrame) -> bool:
    head, tail = caption_words(frame)
    words = width_of(head, NORMAL) + 12 + width_of(tail, SMALL) + 16 + width_of(_exaggeration(frame), SMALL)
    return words < frame.right - frame.x0


def caption_words(frame: WayFrame) -> tuple[str, str]:
    """Head (word, code) and tail (direction of positive, reference line) of the caption."""
    quantity = frame.scene.quantity
    if quantity is None:
        return "", ""
    tail = text("drawing.positive", frame.language, direction=_direction(frame, quantity))
    if frame.strip is not None and frame.strip.px < 0:
        tail += " ↓"
    if frame.scene.reference:
        tail += " · " + text(f"drawing.about.{frame.scene.reference}", frame.language)
    return f"{word_of(frame, quantity)} ({quantity.text})", tail


def word_of(frame: WayFrame, quantity: Code) -> str:
    """The plain word of a quantity."""
    name = plain_name(quantity, frame.machine.axes)
    return text(name.key, frame.language, **name.facts)


def _direction(frame: WayFrame, quantity: Code) -> str:
    return text(f"quantities.{screen_direction(quantity, frame.machine.axes).value}", frame.language)


def foot(frame: WayFrame, y: float) -> Iterator[str]:
    """Where positions are counted from; the exaggeration too, where the caption has no room for it."""
    mute, free = frame.palette.mute, frame.right - frame.x0
    if not _room_in_caption(frame):
        yield label(frame.right, y, _exaggeration(frame), mute, SMALL, "end")
        free -= width_of(_exaggeration(frame), SMALL) + 12
    zero = frame.scene.zero
    if zero is None or not frame.scene.position_mm:
        return
    long = "drawing.positions_grow_left" if zero.sense < 0 else "drawing.positions_grow_right"
    for key in (long, "drawing.positions_from"):
        words = text(key, frame.language, mark=zero.mark, unit=frame.scene.units.place.word)
        if width_of(words, SMALL) <= free:
            yield label(frame.x0, y, words, mute, SMALL)
            return


def deviations(frame: WayFrame) -> Iterator[str]:
    """Reference line, band, stems, curve and points of every station that is taken."""
    strip = frame.strip
    if strip is None:
        return
    values = [(p, v) for p, v in zip(frame.scene.position_mm, frame.scene.deviation, strict=True) if v is not None]
    outside = strip.band.outside if strip.band else (False,) * len(values)
    taken = sorted((frame.x_at(p), v, p, out) for (p, v), out in zip(values, outside, strict=True))
    left, right = taken[0][0], taken[-1][0]
    yield from _band(frame, strip, left, right)
    yield line(left - 8, strip.at(0), right + 8, strip.at(0), frame.palette.mute, 0.75, "6 3")
    yield group(line(x, strip.at(0), x, strip.at(v), frame.palette.hairline, 0.75) for x, v, *_ in taken)
    yield polyline([(x, strip.at(v)) for x, v, *_ in taken], frame.palette.ink, 1.4)
    yield group((_point(frame, x, strip.at(v), p, out) for x, v, p, out in taken), class_="deviations")
    yield from _scale_bar(frame, strip, left, right)


def _point(frame: WayFrame, x: float, y: float, position_mm: float, outside: bool) -> str:
    return element(
        "circle", cx=x, cy=y, r=3.2 if frame.width < 1000 else 4.5,
        fill=frame.palette.panel if outside else frame.palette.ink,
        stroke=frame.palette.outside if outside else frame.palette.ink,
        stroke_width=2.2 if outside else 1.0,
        class_="point outside" if outside else "point",
        data_position_mm=plain_number(position_mm, 1),
    )  # fmt: skip


def _band(frame: WayFrame, strip: Strip, left: float, right: float) -> Iterator[str]:
    """The band with both edges drawn, so that it is seen without colour, and its width in words."""
    band = strip.band
    if band is None or frame.scene.quantity is None:
        return
    colour = frame.palette.inside
    edges = (strip.at(band.high), strip.at(band.low))
    yield element(
        "rect", x=left - 8, y=min(edges), width=right - left + 16, height=abs(edges[1] - edges[0]),
        fill=colour, fill_opacity="0.11", class_="band",
    )  # fmt: skip
    yield from (line(left - 8, y, right + 8, y, colour, 0.75) for y in edges)
    words_colour = colour if band.holds_all else frame.palette.outside
    yield label(right + 8, CAPTION + STRIP + 20, _band_words(frame, band), words_colour, SMALL, "end")


def _band_words(frame: WayFrame, band: Band) -> str:
    """How wide the band is and whether all stations are inside; only the latter where there is little room."""
    width, quantity = frame.scene.tolerance or 0.0, frame.scene.quantity
    key = "drawing.all_inside" if band.holds_all else "drawing.outside"
    verdict = text(key, frame.language, outside=sum(band.outside))
    unit = frame.scene.units.of(quantity) if quantity else frame.scene.units.length
    tolerance = plain_number(width * unit.per, unit.decimals - (1 if width % 1 == 0 else 0))
    both = f"{text('drawing.band', frame.language, tolerance=tolerance, unit=unit.word)} · {verdict}"
    return both if width_of(both, SMALL) < 0.75 * (frame.right - frame.x0) else f"{tolerance} {unit.word} · {verdict}"


def _scale_bar(frame: WayFrame, strip: Strip, left: float, right: float) -> Iterator[str]:
    """A bar of a round value beside the curve, on the side with more room."""
    if frame.scene.quantity is None:
        return
    unit = frame.scene.units.of(frame.scene.quantity)
    shown = round_down(0.42 * STRIP / abs(strip.px) * unit.per)
    value, decimals = shown / unit.per, 0 if shown >= 1 else 1 - math.floor(math.log10(shown))
    words = f"{plain_number(shown, decimals)} {unit.word}"
    at_left = left - frame.x0 > frame.right - right
    room = left - frame.x0 if at_left else frame.right - right
    if room < width_of(words, SMALL) + 26:
        return
    x = frame.x0 + 5 if at_left else frame.right - 5
    low, high = strip.y + value * abs(strip.px) / 2, strip.y - value * abs(strip.px) / 2
    mute = frame.palette.mute
    yield path(f"M{x - 4:.1f} {high:.1f}h8m-4 0V{low:.1f}m-4 0h8", mute)
    yield label(x + (9 if at_left else -9), strip.y + 4, words, mute, SMALL, "start" if at_left else "end")


def stations(frame: WayFrame, y: float, y_words: float) -> Iterator[str]:
    """A tick a station, hollow above it where nothing is taken yet, and as many positions as there is room for."""
    places = [(frame.x_at(position), position) for position in frame.scene.position_mm]
    pairs = zip(places, frame.scene.deviation, strict=True)
    yield group(
        (
            element("line", x1=x, x2=x, y1=y, y2=y + (7 if value is not None else 4), stroke=frame.palette.ink,
                    stroke_width=1.2 if value is not None else 0.75, class_="station",
                    data_position_mm=plain_number(position, 1))
            for (x, position), value in pairs
        ),
        class_="stations",
    )  # fmt: skip
    labels = room_for(((x, in_place(frame, position)) for x, position in places), SMALL)
    mute, halo = frame.palette.mute, frame.palette.panel
    yield group(label(x, y_words, words, mute, SMALL, "middle", halo=halo) for x, words in labels)


def hatched(frame: WayFrame, x1: float, x2: float, y: float, depth: float) -> str:
    """Slanted hairlines over a stretch: where the carriage cannot stand."""
    step, colour = 6.0, frame.palette.mute
    count = int(max(x2 - x1 - depth, 0) / step) + 1 if x2 - x1 > depth else 0
    d = "".join(f"M{x1 + i * step:.1f} {y + depth:.1f}l{depth:.1f} {-depth:.1f}" for i in range(count))
    return path(d, colour, 0.6) if d else ""


def frame_box(frame: WayFrame, x1: float, y1: float, x2: float, y2: float, pale: bool = False) -> str:
    """An outline filled with the sheet's colour."""
    colour = frame.palette.hairline if pale else frame.palette.ink
    return box(x1, y1, x2, y2, colour, 1.2 if pale else 1.6, frame.palette.panel)
