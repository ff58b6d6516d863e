"""What a round has taught of a bed, in words: how stiff it is believed to be and how well that is known."""

from __future__ import annotations

import math

import numpy as np

from waywright.visit.adjustment import BedBelief
from waywright.wording import text


def belief_words(before: BedBelief, now: BedBelief) -> list[str]:
    """Sentences; a doubt is the factor within which the value lies with 95 % (two standard deviations of its log)."""
    said = [text("rounds.belief_rests", rounds=now.rounds)]
    for at, name in ((0, "bending"), (1, "torsion")):
        times = math.exp(now.mean[at] - before.mean[at])
        said.append(text(f"rounds.belief_{name}", times=times, now=_factor(now, at), before=_factor(before, at)))
    said.append(text("rounds.belief_seats", now=_seats(now), before=_seats(before)))
    return said


def _factor(kept: BedBelief, at: int) -> float:
    return math.exp(2.0 * math.sqrt(max(kept.covariance[at][at], 0.0)))


def _seats(kept: BedBelief) -> float:
    """The middle one of the supports' doubts."""
    return float(np.median([_factor(kept, 2 + at) for at in range(len(kept.supports))]))
