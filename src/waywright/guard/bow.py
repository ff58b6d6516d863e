"""The bow challenge: before anyone turns a support, what else could make this bow?

Everything is stated as a bow of readings about the same reference line, the end line: the middle of the line against
its ends, a hump positive. Warm top, bent beam, an angle that drifts, the detector's own nonlinearity and the curved
earth all make a parabola, and no fit can tell them from a bent bed; only their own measurements can.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from enum import StrEnum

from waywright.errors import BadInput
from waywright.evaluate.results import Reason
from waywright.guard.air import Air, bed_bow_um, earth_bow_um, pressure_bow_um, sensitivity
from waywright.guard.rules import BOW_SHARE, BOW_THIRD, Rule

STEEL_OR_IRON_PER_K = 11e-6


class Belief(StrEnum):
    """The plain recommendation."""

    BELIEVE = "believe"
    ANOTHER_HOUR = "another-hour"
    MIX_THE_AIR = "mix-the-air"
    SECOND_METHOD = "second-method"


class Cause(StrEnum):
    """What can imitate a bow of the bed."""

    HEAT = "heat"
    AIR = "air"
    PRESSURE = "pressure"
    ANGLE_DRIFT = "angle-drift"
    NONLINEARITY = "nonlinearity"
    EARTH = "earth"


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure with its standard uncertainty; ``measured`` or assumed."""

    value: float
    standard_uncertainty: float
    measured: bool = True


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What is known about the line; None is neither measured nor assumed, and then a usual doubt is assumed.

    ``top_minus_foot_k``: bed top less bed foot, ``height_m`` between them. ``gradient_k_per_m``: warmer upwards is
    positive. ``drift_um_per_m``: change of the angle during one pass, as readings show it, the pass running away from
    the source (0 for the mean of forward and backward passes that drift evenly). ``nonlinearity_um``: largest error of
    the detector over the excursion. ``method``: "beam" or "level". ``vertical``: height, or side.
    """

    method: str = "beam"
    vertical: bool = True
    height_m: float | None = None
    top_minus_foot_k: Figure | None = None
    gradient_k_per_m: Figure | None = None
    drift_um_per_m: Figure | None = None
    nonlinearity_um: Figure | None = None
    air: Air = field(default_factory=Air)
    expansion_per_k: float = STEEL_OR_IRON_PER_K


# What may be there when nothing was measured, as standard uncertainties; common practice, no published source.
ASSUMED_TOP_K = 0.5
ASSUMED_GRADIENT_K_PER_M = 0.3
ASSUMED_DRIFT_UM_PER_M = 0.5
ASSUMED_NONLINEARITY_UM = 1.0
ASSUMED_HEIGHT_OF_LENGTH = 0.15


@dataclass(frozen=True, slots=True)
class Imitation:
    """One cause: the bow that it makes in um with its standard uncertainty; ``measured`` or assumed."""

    cause: Cause
    bow_um: float
    standard_uncertainty_um: float
    measured: bool

    @property
    def reach_um(self) -> float:
        """How large it may well be: size and two standard uncertainties."""
        return abs(self.bow_um) + 2.0 * self.standard_uncertainty_um


@dataclass(frozen=True, slots=True)
class BowChallenge:
    """A bow beside everything that could imitate it, largest first; all in um about the end line, hump positive.

    ``explained_um`` is the sum of what is known, ``remaining_um`` the bow without it, with ``standard_uncertainty_um``.
    """

    bow_um: float
    length_m: float
    imitations: tuple[Imitation, ...]
    explained_um: float
    remaining_um: float
    standard_uncertainty_um: float
    belief: Belief
    why: Reason
    rules: tuple[Rule, ...] = (BOW_SHARE, BOW_THIRD)


def challenge_bow(
    bow_um: float, length_m: float, *, tolerance_um: float, error_um: float, circumstances: Circumstances
) -> BowChallenge:
    """Set a bow (about the end line, hump positive, with the standard error of its measurement) beside its imitations.

    It is believed if nothing that could imitate it reaches a tenth of the tolerance, or a third of the bow together;
    otherwise the largest imitation says what to do first. Raises BadInput for a length or tolerance not above zero, or
    an unknown method.
    """
    for name, value in (("length_m", length_m), ("tolerance_um", tolerance_um)):
        if not value > 0.0:
            raise BadInput("guard.not_positive", name=name, value=value)
    if circumstances.method not in ("beam", "level"):
        raise BadInput("guard.bow_method", method=circumstances.method)
    found = sorted(_imitations(length_m, circumstances), key=lambda one: one.reach_um, reverse=True)
    explained = math.fsum(one.bow_um for one in found)
    doubt = math.sqrt(math.fsum(one.standard_uncertainty_um**2 for one in found) + error_um**2)
    belief, why = _belief(bow_um, explained, doubt, found, tolerance_um)
    return BowChallenge(bow_um, length_m, tuple(found), explained, bow_um - explained, doubt, belief, why)


def _imitations(length_m: float, c: Circumstances) -> list[Imitation]:
    found = []
    if c.vertical:
        height = c.height_m or ASSUMED_HEIGHT_OF_LENGTH * length_m
        top = c.top_minus_foot_k or Figure(0.0, ASSUMED_TOP_K, measured=False)
        per_k = bed_bow_um(length_m, height, 1.0, c.expansion_per_k)
        found.append(_scaled(Cause.HEAT, top, per_k, known=c.height_m is not None))
    if c.method == "level":
        if c.vertical:
            found.append(Imitation(Cause.EARTH, earth_bow_um(length_m), 0.0, True))
        return found
    gradient = c.gradient_k_per_m or Figure(0.0, ASSUMED_GRADIENT_K_PER_M, measured=False)
    found.append(_scaled(Cause.AIR, gradient, sensitivity(c.air).per_k * length_m**2 / 8.0))
    drift = c.drift_um_per_m or Figure(0.0, ASSUMED_DRIFT_UM_PER_M, measured=False)
    found.append(_scaled(Cause.ANGLE_DRIFT, drift, -length_m / 4.0))
    bent = c.nonlinearity_um or Figure(0.0, ASSUMED_NONLINEARITY_UM, measured=False)
    # the sign of the detector's error along the line is not known: all of it is doubt
    size = math.hypot(bent.value / math.sqrt(3.0), bent.standard_uncertainty)
    found.append(Imitation(Cause.NONLINEARITY, 0.0, size, bent.measured))
    if c.vertical:
        found.append(Imitation(Cause.PRESSURE, pressure_bow_um(length_m, c.air), 0.0, True))
    return found


def _scaled(cause: Cause, figure: Figure, factor: float, *, known: bool = True) -> Imitation:
    one = Imitation(cause, factor * figure.value, abs(factor) * figure.standard_uncertainty, figure.measured)
    return one if known else replace(one, measured=False)


_ADVICE = {
    Cause.HEAT: Belief.ANOTHER_HOUR,
    Cause.AIR: Belief.MIX_THE_AIR,
    Cause.PRESSURE: Belief.SECOND_METHOD,
    Cause.ANGLE_DRIFT: Belief.ANOTHER_HOUR,
    Cause.NONLINEARITY: Belief.SECOND_METHOD,
    Cause.EARTH: Belief.SECOND_METHOD,
}


def _belief(
    bow: float, explained: float, doubt: float, found: list[Imitation], tolerance: float
) -> tuple[Belief, Reason]:  # fmt: skip
    together = abs(explained) + 2.0 * doubt
    worst = found[0]
    facts = {
        "bow_um": bow,
        "together_um": together,
        "remaining_um": bow - explained,
        "doubt_um": 2.0 * doubt,
        "reach_um": worst.reach_um,
        "limit_um": BOW_SHARE.value * tolerance,
    }
    if together <= BOW_SHARE.value * tolerance:
        return Belief.BELIEVE, Reason("guard.bow_small_doubt", facts)
    if together <= BOW_THIRD.value * abs(bow):
        return Belief.BELIEVE, Reason("guard.bow_believe", facts)
    return _ADVICE[worst.cause], Reason(f"guard.bow_{worst.cause.value}", facts)
