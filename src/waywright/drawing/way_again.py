"""Stations to be taken again: a mark over the bed and the place in words, in the colour of what to do next."""

from __future__ import annotations

from collections.abc import Iterator

from waywright.drawing.scale import room_for
from waywright.drawing.svg import group, label, path
from waywright.drawing.way_frame import SMALL, WayFrame
from waywright.drawing.way_parts import in_place
from waywright.wording import text

_HIGH = 20.0  # of the mark above the bed


def again(frame: WayFrame, *, worded: bool) -> Iterator[str]:
    """An open triangle that points down at every station to be taken again; its place in words where there is room."""
    places, tip = frame.scene.again_mm, frame.y_bed - 2
    if not places:
        return
    now, panel = frame.palette.now, frame.palette.panel
    marks = [
        path(f"M{frame.x_at(place):.1f} {tip:.1f}l-9 {4 - _HIGH:.1f}h18Z", now, 2.4, panel) for place in sorted(places)
    ]
    said = [(frame.x_at(each), text("drawing.again", frame.language, place=in_place(frame, each))) for each in places]
    words = [label(x, tip - _HIGH - 2, each, now, SMALL, "middle", halo=panel) for x, each in room_for(said, SMALL)]
    yield group((*marks, *(words if worded else ())), class_="again")
