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


def move_words(frame: WayFrame, move_um: float) -> str:
    """An amount with its unit."""
    unit = frame.scene.units.length
    return f"{signed(move_um * unit.per, unit.decimals - 1)} {unit.word}"


def _words(frame: WayFrame, name: str) -> str:
    return f"{name}: {move_words(frame, frame.scene.moves_um[name])}"


def _width(frame: WayFrame, name: str) -> float:
    """Of the words beside an arrow: the amount, below it the turns."""
    return max(width_of(_words(frame, name), NORMAL), width_of(frame.scene.turns.get(name, ""), SMALL))


def _at_right(frame: WayFrame, x: float, name: str) -> bool:
    return x + BESIDE + _width(frame, name) <= frame.width - 2


def _extent(frame: WayFrame, x: float, name: str) -> tuple[float, float]:
    """From where to where an arrow with its words reaches."""
    reach = BESIDE + _width(frame, name)
    return (x - 8, x + reach) if _at_right(frame, x, name) else (x - reach, x + 8)


def _with_words(frame: WayFrame, x: float, name: str, y: float) -> str:
    side, anchor = (BESIDE, "start") if _at_right(frame, x, name) else (-BESIDE, "end")
    turns = frame.scene.turns.get(name)
    level = y + LANE / 2 + (-4 if turns else 3)
    words = [label(x + side, level, _words(frame, name), frame.palette.now, NORMAL, anchor)]
    if turns:
        words.append(label(x + side, level + 15, turns, frame.palette.now, SMALL, anchor))
    return group((*_arrow(frame, x, name, y + 4, y + LANE - 8), *words), class_="move", data_support=name)


def _with_amount(frame: WayFrame, x: float, name: str, y: float) -> str:
    unit = frame.scene.units.length
    amount = signed(frame.scene.moves_um[name] * unit.per, unit.decimals - 1)
    words = label(x, y + LANE - 6, amount, frame.palette.now, SMALL, "middle")
    return group((*_arrow(frame, x, name, y + 2, y + LANE - 19), words), class_="move", data_support=name)


def _arrow(frame: WayFrame, x: float, name: str, top: float, low: float) -> tuple[str, str]:
    upwards, now = frame.scene.moves_um[name] > 0, frame.palette.now
    tip, end = (top, low) if upwards else (low, top)
    neck = tip + 10 if upwards else tip - 10
    return line(x, end, x, neck, now, 4), path(f"M{x - 7:.1f} {neck:.1f}h14L{x:.1f} {tip:.1f}Z", now, 0, now)
