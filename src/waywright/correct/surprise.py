"""Naming a surprise: what may have happened when a round changed the line otherwise than it should.

Each cause is the round with other moves than asked for: the same fit, the same contact model, and its probability
from how well it explains the change (likelihood by the fit's remaining cost, prior as stated here).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.belief import Belief
from waywright.correct.learning import Fitted
from waywright.correct.observing import Line, RoundSeen, learnt_supposing
from waywright.correct.response import BedModel

SUSPECT_SIGMAS, IMPROBABLE_SIGMAS = 1.0, 5.0
"""Standard deviations of the squared distance above what is expected: other causes are tried, or it is one anyway."""

LEAST_AS_ASKED = 0.2
"""Below this probability of everything having gone as asked, the round is a surprise."""

NOT_CARRYING = "not-carrying"
WRONG_SUPPORT = "wrong-support"
WRONG_DIRECTION = "wrong-direction"
WRONG_AMOUNT = "wrong-amount"
SLIPPED = "slipped"
AS_ASKED = "as-asked"
_BEFOREHAND = {
    AS_ASKED: 0.9,
    NOT_CARRYING: 0.04,
    WRONG_AMOUNT: 0.02,
    WRONG_DIRECTION: 0.015,
    WRONG_SUPPORT: 0.015,
    SLIPPED: 0.01,
}
_LEAST_NAMED = 0.02
_LEAST_MOVE_UM = 10.0
_SLIP_UM = 60.0


@dataclass(frozen=True, slots=True)
class Cause:
    """``kind`` is one of the names above; ``support`` the one concerned, ``other`` the one turned in its place."""

    kind: str
    support: str
    probability: float
    other: str | None = None


def suspect(found: Fitted) -> bool:
    """Whether the change lies far enough from what was expected to look for other causes, or a support hung."""
    return _above(found) > SUSPECT_SIGMAS or bool(found.hanging)


def surprising(found: Fitted, named: tuple[Cause, ...]) -> bool:
    """Whether the round went otherwise than asked, by its causes or by sheer distance."""
    as_asked = sum(cause.probability for cause in named if cause.kind == AS_ASKED)
    return as_asked < LEAST_AS_ASKED or _above(found) > IMPROBABLE_SIGMAS


def _above(found: Fitted) -> float:
    return float((found.distance - found.freedom) / np.sqrt(2.0 * found.freedom))


def causes(
    belief: Belief, model: BedModel, line: Line, seen: RoundSeen, usual: Belief
) -> tuple[tuple[Cause, ...], Belief]:
    """Possible causes with probabilities, likeliest first, and the belief under the likeliest."""
    told = [
        (kind, support, other, learnt_supposing(belief, model, line, round_))
        for kind, support, other, round_ in _rounds(model, seen)
    ]
    weight = np.array([_log_weight(kind, told, found) for kind, _, _, (_, found) in told])
    probability = np.exp(weight - weight.max())
    probability /= probability.sum()
    named = sorted(
        (
            Cause(kind, support, float(p), other)
            for (kind, support, other, _), p in zip(told, probability, strict=True)
            if p >= _LEAST_NAMED
        ),
        key=lambda cause: -cause.probability,
    )
    likeliest = told[int(weight.argmax())][3][0] if told else usual
    return tuple(named), likeliest


Told = list[tuple[str, str, str | None, tuple[Belief, Fitted]]]


def _log_weight(kind: str, told: Told, found: Fitted) -> float:
    alike = sum(1 for other, _, _, _ in told if other == kind)
    return float(np.log(_BEFOREHAND[kind] / alike) - found.cost / 2.0 - found.occam)


def _rounds(model: BedModel, seen: RoundSeen) -> Iterator[tuple[str, str, str | None, RoundSeen]]:
    """The round as asked for, and with each thing that may have gone wrong."""
    names = [support.name for support in model.supports]
    turned = np.flatnonzero(np.abs(seen.moves_um) >= _LEAST_MOVE_UM)
    yield AS_ASKED, "", None, seen
    for i in (int(index) for index in turned):
        asked = seen.moves_um[i]
        if model.anchored[i]:
            yield NOT_CARRYING, names[i], None, _with(seen, {i: 0.0})
        yield WRONG_DIRECTION, names[i], None, _with(seen, {i: -asked})
        yield WRONG_AMOUNT, names[i], None, _doubted(seen, i, abs(asked))
        for j in _neighbours(model, i):
            yield WRONG_SUPPORT, names[i], names[j], _with(seen, {i: 0.0, j: seen.moves_um[j] + asked})
    for i, name in enumerate(names):
        if not model.anchored[i] and i not in seen.hanging:
            yield NOT_CARRYING, name, None, replace(seen, hanging=(*seen.hanging, i))
        yield SLIPPED, name, None, _doubted(seen, i, _SLIP_UM)


def _with(seen: RoundSeen, changed: dict[int, float]) -> RoundSeen:
    moves: FloatArray = seen.moves_um.copy()
    for i, move in changed.items():
        moves[i] = move
    return replace(seen, moves_um=moves)


def _doubted(seen: RoundSeen, i: int, by_um: float) -> RoundSeen:
    extra = np.zeros(seen.moves_um.size)
    extra[i] = by_um
    return replace(seen, extra_um=extra)


def _neighbours(model: BedModel, i: int) -> list[int]:
    """Supports that could be mistaken for this one: the next ones in its row, and the one across."""
    here = model.supports[i]
    apart = [
        (abs(support.bed_mm - here.bed_mm), j)
        for j, support in enumerate(model.supports)
        if j != i and support.row == here.row
    ]
    across = [
        j
        for j, support in enumerate(model.supports)
        if support.row != here.row and abs(support.bed_mm - here.bed_mm) < 100.0
    ]
    return [j for _, j in sorted(apart)[:2]] + across[:1]
