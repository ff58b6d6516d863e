"""An old belief about a bed, used again with caution.

The stiffness of iron does not change; what stands under it does: wedges, grout, bolts. So the stiffness is doubted
anew by a little, the seats by more and by more the older the belief is, and the settings of the supports are not taken
over at all: the next measured line places them.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from waywright.correct.belief import UNKNOWN_SEAT, UNKNOWN_SETTING_UM, Belief, belief_of, prior
from waywright.correct.notes import Note, note
from waywright.correct.response import BedModel

STIFFNESS_AGAIN, SEAT_AGAIN, SEAT_PER_YEAR = 0.15, 0.25, 0.15
"""Standard deviations of the logarithms that are added."""


def reused(belief: Belief, model: BedModel, age_days: float) -> tuple[Belief | None, Note]:
    """The belief to begin a new visit with, and what to say about it; None where it is about other supports."""
    names = tuple(support.name for support in model.supports)
    if set(belief.supports) != set(names):
        return None, note("adjust.belief_not_reused", age_days=age_days, believed=", ".join(belief.supports))
    count, mean = len(names), np.array(belief.mean)
    covariance = np.array(belief.covariance)
    order = [belief.supports.index(name) for name in names]
    kept = np.concatenate([[0, 1], 2 + np.array(order)])
    seat_doubt = SEAT_AGAIN**2 + SEAT_PER_YEAR**2 * age_days / 365.0
    doubted = np.zeros((2 + 2 * count, 2 + 2 * count))
    doubted[: 2 + count, : 2 + count] = covariance[np.ix_(kept, kept)]
    doubted[:2, :2] += STIFFNESS_AGAIN**2 * np.eye(2)
    seats = doubted[2 : 2 + count, 2 : 2 + count]
    seats += seat_doubt * np.eye(count)
    _no_wider_than_unknown(seats)
    doubted[2 + count :, 2 + count :] = UNKNOWN_SETTING_UM**2 * np.eye(count)
    begun = belief_of(names, np.concatenate([mean[kept], np.zeros(count)]), doubted, placed=False, rounds=belief.rounds)
    doubt = float(np.sqrt(doubted[0, 0]))
    stated = float(np.sqrt(np.array(prior(model).covariance)[0, 0]))
    return replace(begun), note(
        "adjust.belief_reused",
        age_days=age_days,
        rounds=belief.rounds,
        bending_n_m2=begun.stiffness.bending_n_m2,
        doubt=doubt,
        doubt_without=stated,
    )


def _no_wider_than_unknown(seats: np.ndarray) -> None:
    """An old seat is never known worse than one nobody ever measured."""
    spread = np.sqrt(np.diag(seats))
    shrink = np.minimum(1.0, UNKNOWN_SEAT / spread)
    seats *= np.outer(shrink, shrink)
