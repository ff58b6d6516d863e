"""The way drawing seen from above: the operator stands at the lower edge."""

from __future__ import annotations

from collections.abc import Iterator

from waywright.drawing.lettering import width_of
from waywright.drawing.svg import box, element, group, label, line
from waywright.drawing.way_frame import LANE, NAMES, NORMAL, SMALL, WayFrame, label_room, lanes
from waywright.drawing.way_moves import lane_of_moves
from waywright.drawing.way_parts import frame_box, stations
from waywright.drawing.way_side import beam, beyond, carriage_half, source_x
from waywright.machine import Support
from waywright.wording import text

RAIL = 8.0
INSET = 14.0  # from the edge of the bed to its rail


def above(frame: WayFrame) -> Iterator[str]:
    """Everything but the deviations."""
    yield from (_support(frame, support) for support in frame.bed.supports)
    yield from lane_of_moves(frame, "rear", frame.y_bed - 32 - LANE)
    for index, row in enumerate(lanes(frame.bed, frame.scene, "above")):
        yield from lane_of_moves(frame, row, frame.y_names + NAMES + index * LANE)
    yield frame_box(frame, frame.x0, frame.y_bed, frame.right, frame.y_under)
    yield from _joints(frame)
    for y in _rails(frame):
        yield box(frame.x0, y, frame.right, y + RAIL, frame.palette.ink, 0.75)
        yield from beyond(frame, y, RAIL)
    yield from _headstock(frame)
    yield from _source(frame)
    yield from _carriage(frame)
    yield from stations(frame, _rails(frame)[-1] + RAIL, frame.y_bed + frame.bed_depth / 2 + 9)
    words = text("drawing.operator_side", frame.language)
    yield label((frame.x0 + frame.right) / 2, frame.y_names + 14, words, frame.palette.mute, SMALL, "middle")


def _rails(frame: WayFrame) -> tuple[float, float]:
    return frame.y_bed + INSET, frame.y_under - INSET - RAIL


def _joints(frame: WayFrame) -> Iterator[str]:
    for joint in frame.bed.joints:
        x = frame.x(joint.bed_mm)
        yield line(x, frame.y_bed, x, frame.y_under, frame.palette.ink, 0.75)


def _support(frame: WayFrame, support: Support) -> str:
    """A foot that looks out from under the bed, its name beside it, its move beyond the name."""
    x, half = frame.x(support.bed_mm), width_of(support.name, NORMAL) / 2
    rear, middle = support.row == "rear", support.row == "middle"
    colour = frame.palette.mute if rear else frame.palette.ink
    edge = frame.y_bed if rear else frame.y_under
    out = -9.0 if rear else 9.0
    y_name = edge - 16 if rear else frame.y_names
    shift = half + 14 if middle else 0.0
    foot = frame.palette.hairline if rear else frame.palette.ink
    parts = [
        box(x - 12, edge, x + 12, edge + out, foot, 1.4, frame.palette.panel),
        label(x + shift, y_name, support.name, colour, NORMAL, "middle"),
    ]
    return group(parts, class_=f"support {support.row}", data_support=support.name)


def _headstock(frame: WayFrame) -> Iterator[str]:
    if frame.bed.headstock_mm is None:
        return
    x1, x2 = sorted(frame.x(place) for place in frame.bed.headstock_mm)
    middle = frame.y_bed + frame.bed_depth / 2
    to_right = x1 + x2 < frame.x0 + frame.right
    edge = x2 if to_right else x1 - 12
    yield group(
        (frame_box(frame, x1, frame.y_bed + 5, x2, frame.y_under - 5, pale=True),
         frame_box(frame, edge, middle - 12, edge + 12, middle + 12, pale=True)),
        class_="headstock",
    )  # fmt: skip
    words = text("drawing.headstock", frame.language)
    if label_room(words, x2 - x1):
        yield label((x1 + x2) / 2, middle + 4, words, frame.palette.mute, SMALL, "middle")


def _source(frame: WayFrame) -> Iterator[str]:
    if frame.scene.source is None:
        return
    x, y = source_x(frame), _beam_level(frame)
    yield from beam(frame, x, y)
    yield element("g", box(x - 9, y - 7, x + 9, y + 7, frame.palette.ink, 1.6, frame.palette.panel), class_="source")


def _beam_level(frame: WayFrame) -> float:
    """The beam runs between the rails, clear of the positions."""
    return frame.y_bed + frame.bed_depth / 2 - 15


def _carriage(frame: WayFrame) -> Iterator[str]:
    if frame.scene.carriage_mm is None:
        return
    x, half = frame.x_at(frame.scene.carriage_mm), carriage_half(frame)
    colour = frame.palette.now if frame.scene.live else frame.palette.ink
    y = _beam_level(frame)
    yield group(
        (box(x - half, frame.y_bed + 6, x + half, frame.y_under - 6, colour, 1.8),
         box(x - 6, y - 7, x + 6, y + 7, colour, 1.8, frame.palette.panel)),
        class_="carriage live" if frame.scene.live else "carriage",
    )  # fmt: skip
