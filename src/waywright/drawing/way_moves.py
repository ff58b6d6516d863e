"""Moves: arrows up or down in a lane beside a row of supports, in the colour of what is to be done next."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from waywright.drawing.lettering import signed, width_of
from waywright.drawing.svg import group, label, line, path
from waywright.drawing.way_frame import LANE, NORMAL, SMALL, WayFrame

BESIDE = 11.0  # from the arrow to the words beside it


def lane_of_moves(frame: WayFrame, row: str, y: float, shift: float = 0.0) -> Iterator[str]:
    """The moves of one row within one lane below ``y``: name and amount beside each arrow.

    Where these would touch, the amount alone stands below its arrow.
    """
    moves = frame.scene.moves_um
    places = sorted(
        (frame.x(s.bed_mm) + shift, s.name) for s in frame.bed.supports if s.row == row and moves.get(s.name)
    )
    roomy = all(b[0] - a[1] >= 6 for a, b in pairwise(_extent(frame, x, name) for x, name in places))
    for x, name in places:
        yield _with_words(frame, x, name, y) if roomy else _with_amount(frame, x, name, y)


def _words(frame: WayFrame, name: str) -> str:
    return f"{name}: {signed(frame.scene.moves_um[name], 0)} µm"


def _at_right(frame: WayFrame, x: float, name: str) -> bool:
    return x + BESIDE + width_of(_words(frame, name), NORMAL) <= frame.width - 2


def _extent(frame: WayFrame, x: float, name: str) -> tuple[float, float]:
    """From where to where an arrow with its words reaches."""
    reach = BESIDE + width_of(_words(frame, name), NORMAL)
    return (x - 8, x + reach) if _at_right(frame, x, name) else (x - reach, x + 8)


def _with_words(frame: WayFrame, x: float, name: str, y: float) -> str:
    side, anchor = (BESIDE, "start") if _at_right(frame, x, name) else (-BESIDE, "end")
    words = label(x + side, y + LANE / 2 + 3, _words(frame, name), frame.palette.now, NORMAL, anchor)
    return group((*_arrow(frame, x, name, y + 4, y + LANE - 8), words), class_="move", data_support=name)


def _with_amount(frame: WayFrame, x: float, name: str, y: float) -> str:
    amount = signed(frame.scene.moves_um[name], 0)
    words = label(x, y + LANE - 6, amount, frame.palette.now, SMALL, "middle")
    return group((*_arrow(frame, x, name, y + 2, y + LANE - 19), words), class_="move", data_support=name)


def _arrow(frame: WayFrame, x: float, name: str, top: float, low: float) -> tuple[str, str]:
    upwards, now = frame.scene.moves_um[name] > 0, frame.palette.now
    tip, end = (top, low) if upwards else (low, top)
    neck = tip + 10 if upwards else tip - 10
    return line(x, end, x, neck, now, 4), path(f"M{x - 7:.1f} {neck:.1f}h14L{x:.1f} {tip:.1f}Z", now, 0, now)
