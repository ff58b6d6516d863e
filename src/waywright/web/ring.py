"""The turn still to make as an arc with an arrow: exactly as far, exactly that way round."""

from __future__ import annotations

import math
from html import escape

from waywright.correct.turning import Turn

_SIZE, _RADIUS, _WIDTH = 220.0, 82.0, 26.0
_FULL = 0.9995


def turn_ring(turn: Turn, words: str) -> str:
    """SVG text. Whole turns stand in the words; the arc is what is left of them, a whole ring for whole turns."""
    part = turn.turns % 1.0
    share = _FULL if turn.turns > 0 and part < 1e-3 else part
    sense = 1.0 if turn.direction == "clockwise" else -1.0
    middle = _SIZE / 2
    end = _point(middle, sense * share)
    large = 1 if share > 0.5 else 0
    sweep = 1 if sense > 0 else 0
    arc = f"M{middle:.1f} {middle - _RADIUS:.1f}A{_RADIUS} {_RADIUS} 0 {large} {sweep} {end[0]:.1f} {end[1]:.1f}"
    ring = f'cx="{middle}" cy="{middle}" r="{_RADIUS}" fill="none" stroke-width="{_WIDTH}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_SIZE:.0f} {_SIZE:.0f}" role="img" '
        f'aria-label="{escape(words)}"><circle {ring} stroke="var(--hairline)"/>'
        f'<path d="{arc}" fill="none" stroke="var(--now)" stroke-width="{_WIDTH}"/>{_arrow(middle, sense, share)}</svg>'
    )


def _point(middle: float, turned: float, radius: float = _RADIUS) -> tuple[float, float]:
    """Where a part of a turn from the top ends, clockwise positive."""
    angle = 2 * math.pi * turned
    return middle + radius * math.sin(angle), middle - radius * math.cos(angle)


def _arrow(middle: float, sense: float, share: float) -> str:
    """The tip lies ahead of the end of the arc."""
    tip = _point(middle, sense * (share + 0.055))
    sides = [_point(middle, sense * share, radius) for radius in (_RADIUS - _WIDTH, _RADIUS + _WIDTH)]
    points = " ".join(f"{x:.1f},{y:.1f}" for x, y in (tip, *sides))
    return f'<polygon points="{points}" fill="var(--now)"/>'
