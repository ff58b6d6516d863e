"""The direction test: a known shim upward, a known move sideways, and what both channels say to it.

It proves, for this set-up, which channel is which and in which physical direction it counts, and how well its size is
right, each with its own uncertainty; "not resolved" is an answer. The detector's roll is what both moves show alike:
crosstalk sin(roll) from one channel into the other.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.results import Reason
from waywright.guard.moves import SIDE, UP, Foot, KnownMove, one_foot
from waywright.guard.rules import ROLL_LIMIT_DEG, SCALE_SHARE, SEATING_UM, Rule
from waywright.quantities import Direction


class Outcome(StrEnum):
    """What a test says."""

    PASSED = "passed"
    NOT_RESOLVED = "not-resolved"
    FAILED = "failed"


class Mounting(StrEnum):
    """How the channels lie compared with their description."""

    AS_DESCRIBED = "as-described"
    MIRRORED = "mirrored"
    UPSIDE_DOWN = "upside-down"
    SWAPPED = "swapped"
    QUARTER_TURN = "quarter-turn"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Scale:
    """Size seen over size made, with its standard uncertainty. ``within`` is None where not resolved."""

    direction: Direction
    value: float
    standard_uncertainty: float
    within: bool | None


@dataclass(frozen=True, slots=True)
class DirectionTest:
    """What the moves prove. ``channels`` are the physical directions in which the channels really count.

    ``roll_deg`` positive: the detector's up leans away from the operator, so that it sees part of an upward move as one
    towards the operator. ``crosstalk`` is its sine. None where the moves do not say it. ``foot`` is where a shim lay
    that was not under all feet. ``why`` are sentences, the most important first.
    """

    outcome: Outcome
    mounting: Mounting
    described: tuple[Direction, Direction]
    channels: tuple[Direction, Direction] | None
    scales: tuple[Scale, ...]
    roll_deg: float | None
    roll_uncertainty_deg: float | None
    crosstalk: float | None
    foot: Foot | None
    why: tuple[Reason, ...]
    rules: tuple[Rule, ...] = (SCALE_SHARE, ROLL_LIMIT_DEG, SEATING_UM)


def direction_test(
    moves: Sequence[KnownMove], channels: tuple[Direction, Direction], *, coverage: float = 3.0
) -> DirectionTest:
    """Judge one upward and, better, one sideways move.

    ``channels`` are the positive directions of both channels as described. ``coverage`` is how many standard
    uncertainties something must be off to count as wrong, or clear to count as resolved. Raises BadInput unless one
    channel is vertical and one sideways, and there are one or two moves in different directions.
    """
    _check(moves, channels)
    seen = [move.seen_um(channels) for move in moves]
    for move, response in zip(moves, seen, strict=True):
        foot = one_foot(move, response, coverage)
        if foot is not None:
            return _tilted(move, response, channels, foot)
    if not all(_resolved(move, response, coverage) for move, response in zip(moves, seen, strict=True)):
        return _not_resolved(moves, seen, channels)
    turned = _signed_axes(moves, seen)
    if abs(float(np.linalg.det(turned))) < 0.5:
        return _not_resolved(moves, seen, channels)
    upright = [turned.T @ response for response in seen]
    scales = tuple(_scale(move, response, coverage) for move, response in zip(moves, upright, strict=True))
    roll, roll_error = _roll_deg(moves, upright)
    mounting = _mounting(turned, len(moves))
    why = _reasons(mounting, scales, roll, roll_error, coverage, len(moves))
    return DirectionTest(
        outcome=_outcome(mounting, why, len(moves)),
        mounting=mounting,
        described=channels,
        channels=_really(channels, turned),
        scales=scales,
        roll_deg=roll,
        roll_uncertainty_deg=roll_error,
        crosstalk=math.sin(math.radians(roll)),
        foot=None,
        why=why,
    )


def _check(moves: Sequence[KnownMove], channels: tuple[Direction, Direction]) -> None:
    vertical = [way in (Direction.UP, Direction.DOWN) for way in channels]
    sideways = [way in (Direction.TOWARDS, Direction.AWAY) for way in channels]
    if sorted([vertical[0], vertical[1]]) != [False, True] or sideways == vertical or any(
        not (v or s) for v, s in zip(vertical, sideways, strict=True)
    ):  # fmt: skip
        raise BadInput("guard.channels_not_crossed", first=channels[0].value, second=channels[1].value)
    axes = [int(np.argmax(np.abs(move.true_um))) for move in moves]
    if not 1 <= len(axes) <= 2 or len(set(axes)) != len(axes):
        raise BadInput("guard.which_moves", moves=len(axes))


def _resolved(move: KnownMove, seen: FloatArray, coverage: float) -> bool:
    """Whether the response lies clearly on one side of the diagonals between the channels."""
    large, small = sorted(np.abs(seen), reverse=True)
    return bool((large - small) / math.sqrt(2.0) > coverage * math.hypot(move.reading_error_um, move.move_error_um))


def _signed_axes(moves: Sequence[KnownMove], seen: Sequence[FloatArray]) -> FloatArray:
    """Matrix of -1, 0, 1 from true (up, towards) to seen; a direction that was not tried is taken as kept upright."""
    turned = np.zeros((2, 2))
    for move, response in zip(moves, seen, strict=True):
        axis = int(np.argmax(np.abs(move.true_um)))
        row = int(np.argmax(np.abs(response)))
        turned[row, axis] = np.sign(response[row]) * np.sign(move.true_um[axis])
    if len(moves) == 1:
        axis = int(np.flatnonzero(np.abs(turned).sum(axis=0) == 0.0)[0])
        row = int(np.flatnonzero(np.abs(turned).sum(axis=1) == 0.0)[0])
        turned[row, axis] = 1.0
    return turned


def _scale(move: KnownMove, upright: FloatArray, coverage: float) -> Scale:
    axis = int(np.argmax(np.abs(move.true_um)))
    value = float(upright[axis] / move.true_um[axis])
    error = math.hypot(move.reading_error_um, move.move_error_um * value) / move.size_um
    off, doubt = abs(value - 1.0), coverage * error
    within = True if off + doubt <= SCALE_SHARE.value else False if off - doubt > SCALE_SHARE.value else None
    return Scale(move.direction, value, error, within)


def _roll_deg(moves: Sequence[KnownMove], upright: Sequence[FloatArray]) -> tuple[float, float]:
    """Roll and its standard uncertainty from how much each move shows in the other channel."""
    sine = cosine = variance = 0.0
    for move, response in zip(moves, upright, strict=True):
        axis = int(np.argmax(np.abs(move.true_um)))
        across = response[SIDE] if axis == UP else -response[UP]
        sign = np.sign(move.true_um[axis])
        sine += float(across * sign) / move.size_um
        cosine += float(response[axis] * sign) / move.size_um
        variance += (move.reading_error_um / move.size_um) ** 2
    roll = math.atan2(sine, cosine)
    return math.degrees(roll), math.degrees(math.sqrt(variance) / math.hypot(sine, cosine))


def _mounting(turned: FloatArray, moves: int) -> Mounting:
    if turned[UP, UP] != 0.0:
        if (turned == np.eye(2)).all():
            return Mounting.AS_DESCRIBED
        return Mounting.UPSIDE_DOWN if np.linalg.det(turned) > 0.0 else Mounting.MIRRORED
    return Mounting.QUARTER_TURN if moves == 2 and np.linalg.det(turned) > 0.0 else Mounting.SWAPPED


def _really(channels: tuple[Direction, Direction], turned: FloatArray) -> tuple[Direction, Direction]:
    """The physical direction in which each channel counts: the true direction that its described one answers to."""
    ways = ((Direction.UP, Direction.DOWN), (Direction.TOWARDS, Direction.AWAY))
    found = []
    for described in channels:
        row = UP if described in ways[UP] else SIDE
        axis = int(np.argmax(np.abs(turned[row])))
        sign = turned[row, axis] * (1.0 if described is ways[row][0] else -1.0)
        found.append(ways[axis][0] if sign > 0.0 else ways[axis][1])
    return found[0], found[1]


def _reasons(
    mounting: Mounting, scales: Sequence[Scale], roll: float, roll_error: float, coverage: float, moves: int
) -> tuple[Reason, ...]:
    why = []
    if mounting is not Mounting.AS_DESCRIBED:
        why.append(Reason(f"guard.direction_{mounting.value}", {}))
    if abs(roll) - coverage * roll_error > ROLL_LIMIT_DEG.value:
        share = 100.0 * abs(math.sin(math.radians(roll)))
        why.append(Reason("guard.direction_rolled", {"roll_deg": roll, "error_deg": roll_error, "percent": share}))
    for scale in scales:
        facts = {"direction": scale.direction.value, "percent": 100.0 * (scale.value - 1.0),
                 "error_percent": 100.0 * scale.standard_uncertainty}  # fmt: skip
        if scale.within is False:
            why.append(Reason("guard.direction_scale_off", facts))
        elif scale.within is None:
            why.append(Reason("guard.direction_scale_open", facts))
    if moves == 1:
        why.append(Reason("guard.direction_one_move", {}))
    elif mounting is Mounting.AS_DESCRIBED:
        why.append(Reason("guard.direction_proved", {}))
    return tuple(why)


_WRONG = ("guard.direction_rolled", "guard.direction_scale_off")


def _outcome(mounting: Mounting, why: tuple[Reason, ...], moves: int) -> Outcome:
    """Failed where something is wrong; passed only where both directions were moved; an open scale does not matter."""
    if mounting is not Mounting.AS_DESCRIBED or any(reason.key in _WRONG for reason in why):
        return Outcome.FAILED
    return Outcome.PASSED if moves == 2 else Outcome.NOT_RESOLVED


def _tilted(
    move: KnownMove, seen: FloatArray, channels: tuple[Direction, Direction], foot: Foot
) -> DirectionTest:  # fmt: skip
    facts = {"seen_um": float(seen[UP]), "side_um": float(seen[SIDE]), "size_um": move.size_um, "foot": foot.value}
    why = (Reason("guard.direction_one_foot", facts),)
    return DirectionTest(Outcome.FAILED, Mounting.UNKNOWN, channels, None, (), None, None, None, foot, why)


def _not_resolved(
    moves: Sequence[KnownMove], seen: Sequence[FloatArray], channels: tuple[Direction, Direction]
) -> DirectionTest:
    weakest = int(
        np.argmin([np.abs(response).max() / move.size_um for move, response in zip(moves, seen, strict=True)])
    )
    move, response = moves[weakest], seen[weakest]
    facts = {"direction": move.direction.value, "size_um": move.size_um, "up_um": float(response[UP]),
             "side_um": float(response[SIDE]),
             "error_um": math.hypot(move.reading_error_um, move.move_error_um)}  # fmt: skip
    why = (Reason("guard.direction_not_resolved", facts),)
    return DirectionTest(Outcome.NOT_RESOLVED, Mounting.UNKNOWN, channels, None, (), None, None, None, None, why)
