"""The way drawing in side view: what stands on the bed, the bed, what stands under it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from waywright.drawing.lettering import width_of
from waywright.drawing.svg import box, element, group, label, line, path
from waywright.drawing.way_frame import LANE, NAMES, SMALL, SUPPORT, WayFrame, label_room, lanes
from waywright.drawing.way_moves import lane_of_moves
from waywright.drawing.way_parts import frame_box, hatched, stations
from waywright.machine import Support
from waywright.wording import text

RAIL = 5.0
BEAM = 38.0  # height of the beam above the guideway
REAR_SHIFT = (9.0, -3.0)  # the rear row is seen behind the front row


def side(frame: WayFrame) -> Iterator[str]:
    """Everything but the deviations, from the back to the front."""
    yield from _headstock(frame)
    yield from _supports(frame)
    yield from _bed(frame)
    yield from stations(frame, frame.y_bed + RAIL, frame.y_bed + RAIL + 19)
    yield from _source(frame)
    yield from _carriage(frame)
    yield from _moves(frame)


def travel_of(frame: WayFrame) -> tuple[float, float] | None:
    """The stretch of the bed that the carriage reaches, in bed coordinates."""
    axis = frame.scene.quantity.axis if frame.scene.quantity else None
    found = next((t for t in frame.machine.travels if axis in (None, t.axis)), None)
    return (min(found.from_mm, found.to_mm), max(found.from_mm, found.to_mm)) if found else None


def _bed(frame: WayFrame) -> Iterator[str]:
    x1, x2, y = frame.x0, frame.right, frame.y_bed
    yield frame_box(frame, x1, y, x2, frame.y_under)
    yield line(x1, y + RAIL, x2, y + RAIL, frame.palette.ink, 0.75)
    for joint in frame.bed.joints:
        x = frame.x(joint.bed_mm)
        yield path(f"M{x - 1.5:.1f} {y + RAIL:.1f}V{frame.y_under:.1f}m3 0V{y + RAIL:.1f}", frame.palette.ink, 0.75)
    yield from beyond(frame, y, RAIL)


def beyond(frame: WayFrame, y: float, depth: float) -> Iterator[str]:
    """The ends of a rail that the carriage cannot reach: hatched, and said where there is room."""
    travel = travel_of(frame)
    if travel is None:
        return
    for from_mm, to_mm in ((0.0, travel[0]), (travel[1], frame.bed.length_mm)):
        yield hatched(frame, frame.x(from_mm), frame.x(to_mm), y, depth)


def _headstock(frame: WayFrame) -> Iterator[str]:
    if frame.bed.headstock_mm is None:
        return
    x1, x2 = sorted(frame.x(place) for place in frame.bed.headstock_mm)
    top, nose = frame.y_bed - 58, 12.0
    to_right = x1 + x2 < frame.x0 + frame.right
    edge = x2 if to_right else x1 - nose
    yield group(
        (frame_box(frame, x1, top, x2, frame.y_bed, pale=True),
         frame_box(frame, edge, top + 12, edge + nose, top + 32, pale=True)),
        class_="headstock",
    )  # fmt: skip
    words = text("drawing.headstock", frame.language)
    if label_room(words, x2 - x1):
        yield label((x1 + x2) / 2, top + 26, words, frame.palette.mute, SMALL, "middle")


def _supports(frame: WayFrame) -> Iterator[str]:
    rear = [support for support in frame.bed.supports if support.row != "front"]
    front = [support for support in frame.bed.supports if support.row == "front"]
    if frame.bed.supports:
        y = frame.y_under + SUPPORT
        yield line(max(frame.x0 - 22, 2), y, min(frame.right + 22, frame.width - 2), y, frame.palette.hairline)
    yield from (_support(frame, support, behind=bool(front)) for support in rear)
    yield from (_support(frame, support, behind=False) for support in front)
    yield from names(frame, frame.bed.supports, frame.y_names)


def _support(frame: WayFrame, support: Support, behind: bool) -> str:
    dx, dy = REAR_SHIFT if behind else (0.0, 0.0)
    x, top, floor = frame.x(support.bed_mm) + dx, frame.y_under, frame.y_under + SUPPORT + dy
    colour = frame.palette.hairline if behind else frame.palette.ink
    if support.kind == "anchor":
        shape = path(f"M{x:.1f} {top - 6:.1f}V{floor:.1f}m-5 0h10M{x - 5:.1f} {top - 6:.1f}h10", colour, 1.6)
    else:
        outline = f"M{x - 13:.1f} {floor:.1f}h26l-5 {top - floor:.1f}h-16Z"
        shape = path(outline, colour, 1.2 if behind else 1.6, frame.palette.panel)
    return group((shape,), class_=f"support {support.row}", data_support=support.name)


def names(frame: WayFrame, supports: Iterable[Support], y: float) -> Iterator[str]:
    """Painted names: front in ink under its support, the other rows pale beside it, or moved on if there is no room."""
    taken_until = -1e9
    for support in sorted(supports, key=lambda s: (s.bed_mm, s.row != "front")):
        front = support.row == "front"
        size = 13.0 if front else SMALL
        half = width_of(support.name, size) / 2
        x = max(frame.x(support.bed_mm), taken_until + half + 5)
        taken_until = x + half
        colour = frame.palette.ink if front else frame.palette.mute
        yield element("g", label(x, y, support.name, colour, size, "middle"), class_=f"support-name {support.row}",
                      data_support=support.name)  # fmt: skip


def _source(frame: WayFrame) -> Iterator[str]:
    source = frame.scene.source
    if source is None:
        return
    x, y = source_x(frame), frame.y_bed - BEAM
    ink = frame.palette.ink
    ground = frame.y_bed if source.on == "bed" else frame.y_under + SUPPORT
    yield line(x, y + 9, x, ground, ink, 1.6)
    yield from beam(frame, x, y)
    yield group((box(x - 9, y - 9, x + 9, y + 9, ink, 1.6, frame.palette.panel),), class_="source")


def beam(frame: WayFrame, x: float, y: float) -> Iterator[str]:
    """The beam from the source to the detector, or as far as was measured."""
    if frame.scene.carriage_mm is not None:
        end = frame.x_at(frame.scene.carriage_mm)
        colour = frame.palette.now if frame.scene.live else frame.palette.mute
    elif frame.scene.position_mm:
        end = max((frame.x_at(place) for place in frame.scene.position_mm), key=lambda place: abs(place - x))
        colour = frame.palette.mute
    else:
        return
    yield line(x, y, end, y, colour, 1.2, "1.5 4.5")


def source_x(frame: WayFrame) -> float:
    """Where the source stands: on the bed where it is known, otherwise beyond the end far from the headstock."""
    source = frame.scene.source
    if source is not None and source.bed_mm is not None:
        return min(max(frame.x(source.bed_mm), 12.0), frame.width - 12.0)
    stock = frame.bed.headstock_mm
    at_right = stock is not None and sum(stock) / 2 < frame.bed.length_mm / 2
    return frame.right + 16 if at_right else frame.x0 - 16


def carriage_half(frame: WayFrame) -> float:
    """Half the length of the carriage on the sheet."""
    carriage = frame.bed.carriage
    return max(carriage.pad_spacing_mm * frame.px_per_mm, 40.0) / 2 if carriage else 34.0


def _carriage(frame: WayFrame) -> Iterator[str]:
    if frame.scene.carriage_mm is None:
        return
    x, y, half = frame.x_at(frame.scene.carriage_mm), frame.y_bed, carriage_half(frame)
    colour = frame.palette.now if frame.scene.live else frame.palette.ink
    shape = f"M{x - half:.1f} {y:.1f}v-15H{x - half * 0.45:.1f}v-13H{x + half * 0.45:.1f}v13H{x + half:.1f}v15Z"
    yield group(
        (path(shape, colour, 1.8, frame.palette.panel),
         box(x - 6, y - BEAM - 8, x + 6, y - 28, colour, 1.8, frame.palette.panel)),
        class_="carriage live" if frame.scene.live else "carriage",
    )  # fmt: skip


def _moves(frame: WayFrame) -> Iterator[str]:
    for index, row in enumerate(lanes(frame.bed, frame.scene, "side")):
        shift = 0.0 if row == "front" else REAR_SHIFT[0]
        yield from lane_of_moves(frame, row, frame.y_names + NAMES - 12 + index * LANE, shift)
