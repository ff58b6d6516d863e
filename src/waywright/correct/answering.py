"""Whether a support answered: the change of a parked reading while it alone was turned, against what was expected.

One support turned under a detector that stays where it is tells more of that support than a whole round does: source
and detector stand, and nothing else moves. Each cause foretells the change with its own spread; Bayes' rule weighs
them.
"""

from __future__ import annotations

import math

from waywright.correct.learning import TurningError
from waywright.correct.planning import DEFAULT_TURNING
from waywright.correct.surprise import AS_ASKED, NOT_CARRYING, SLIPPED, WRONG_AMOUNT, WRONG_DIRECTION, Cause

CREEP_PART = 0.12
"""So much of the answer may come in later."""

LEAST_CLEAR = 3.0
"""The expected answer must be so many times the noise of a change to tell anything."""

SLIP_UM = 60.0
_BEFOREHAND = {AS_ASKED: 0.90, NOT_CARRYING: 0.05, WRONG_DIRECTION: 0.02, WRONG_AMOUNT: 0.02, SLIPPED: 0.01}
_LEAST_NAMED = 0.02


def answer_causes(
    support: str,
    move_um: float,
    expected_um: float,
    read_um: float,
    noise_um: float,
    doubt_um: float,
    turning: TurningError = DEFAULT_TURNING,
) -> tuple[Cause, ...]:
    """What may have happened at a support, likeliest first; nothing where the reading could not tell.

    ``expected_um`` and ``read_um`` are the changes of the parked reading, ``noise_um`` the standard deviation of one
    reading, ``doubt_um`` that of the expected change for what is not known of the bed.
    """
    noise = math.sqrt(2.0) * noise_um
    if abs(expected_um) < LEAST_CLEAR * noise or move_um == 0.0:
        return ()
    turned = expected_um * float(turning.standard_deviation_um([move_um])[0]) / abs(move_um)
    usual = math.hypot(noise, turned, doubt_um, CREEP_PART * expected_um)
    foretold = {
        AS_ASKED: (expected_um, usual),
        NOT_CARRYING: (0.0, math.hypot(noise, 0.05 * expected_um)),
        WRONG_DIRECTION: (-expected_um, usual),
        WRONG_AMOUNT: (expected_um, math.hypot(noise, expected_um)),
        SLIPPED: (expected_um, math.hypot(noise, SLIP_UM)),
    }
    weight = {
        kind: _BEFOREHAND[kind] / spread * math.exp(-0.5 * ((read_um - middle) / spread) ** 2)
        for kind, (middle, spread) in foretold.items()
    }
    whole = sum(weight.values())
    named = [Cause(kind, support, each / whole) for kind, each in weight.items() if each / whole >= _LEAST_NAMED]
    return tuple(sorted(named, key=lambda cause: -cause.probability))
