"""From a lift in um to turns of one adjuster, as people say and see them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from waywright.machine import Support

EIGHTH = Fraction(1, 8)
NEAR_TURN = 0.02


@dataclass(frozen=True, slots=True)
class Turn:
    """``turns`` (>= 0), ``degrees`` and ``direction`` ("clockwise", "anticlockwise") of one move.

    ``words`` is "3/8", "1 1/2" where that is within a fiftieth of a turn, otherwise None: then the degrees say it.
    """

    turns: float
    degrees: float
    direction: str
    words: str | None


def turn_for(support: Support, move_um: float) -> Turn | None:
    """How to turn a support for a move; None where its lift per turn is not known or it is not turned (shims)."""
    if support.lift_um_per_turn is None or move_um == 0.0 or support.kind == "shim-pack":
        return None
    turns = abs(move_um) / support.lift_um_per_turn
    other = "anticlockwise" if support.raise_turn == "clockwise" else "clockwise"
    direction = support.raise_turn if move_um > 0.0 else other
    return Turn(turns, turns * 360.0, direction, eighths(turns))


def eighths(turns: float) -> str | None:
    """A number of turns in whole eighths, or None where it is none."""
    nearest = Fraction(round(turns * 8), 8)
    if nearest == 0 or abs(float(nearest) - turns) > NEAR_TURN:
        return None
    whole = math.floor(nearest)
    part = nearest - whole
    words = [str(whole)] if whole else []
    words += [f"{part.numerator}/{part.denominator}"] if part else []
    return " ".join(words)
