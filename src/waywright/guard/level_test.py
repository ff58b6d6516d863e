"""A level's own zero and sign: both are needed, and neither gives the other.

Turned by 180 degrees on the same spot the level reads A, then B: its zero is (A + B) / 2, the true tilt (A - B) / 2,
whatever its sign. A known tilt, a shim under one end of the base, proves the sign and the size.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from waywright.errors import BadInput
from waywright.evaluate.results import Reason
from waywright.guard.direction import Outcome
from waywright.guard.rules import SCALE_SHARE, SEATING_UM, Rule


@dataclass(frozen=True, slots=True)
class Reversal:
    """Zero of a level and true tilt of the spot in um/m, each with the same standard uncertainty."""

    zero_um_per_m: float
    tilt_um_per_m: float
    standard_uncertainty_um_per_m: float


@dataclass(frozen=True, slots=True)
class LevelSign:
    """Sign and size of a level: ``scale`` is the change that it saw over the known tilt."""

    outcome: Outcome
    known_um_per_m: float
    seen_um_per_m: float
    scale: float
    scale_uncertainty: float
    why: Reason
    rules: tuple[Rule, ...] = (SCALE_SHARE, SEATING_UM)


def level_reversal(first_um_per_m: float, turned_um_per_m: float, error_um_per_m: float) -> Reversal:
    """From the readings before and after the turn, each with its standard error; the tilt in the level's own sign."""
    return Reversal(
        (first_um_per_m + turned_um_per_m) / 2.0,
        (first_um_per_m - turned_um_per_m) / 2.0,
        error_um_per_m / math.sqrt(2.0),
    )


def level_sign(
    before_um_per_m: float,
    after_um_per_m: float,
    *,
    lift_um: float,
    tolerance_um: float,
    base_mm: float,
    error_um_per_m: float,
    seating_um: float = SEATING_UM.value,
    coverage: float = 3.0,
) -> LevelSign:
    """The side that counts positive was lifted by a shim of ``lift_um`` (may be off by ``tolerance_um``).

    ``base_mm`` is the distance of the level's feet. Raises BadInput for a lift or a base that is not above zero.
    """
    for name, value in (("lift_um", lift_um), ("base_mm", base_mm)):
        if not value > 0.0:
            raise BadInput("guard.not_positive", name=name, value=value)
    per_um = 1e3 / base_mm
    known, seen = lift_um * per_um, after_um_per_m - before_um_per_m
    shim = math.hypot(tolerance_um / math.sqrt(3.0), seating_um) * per_um
    error = math.hypot(math.sqrt(2.0) * error_um_per_m, shim)
    scale = seen / known
    facts = {"known_um_per_m": known, "seen_um_per_m": seen, "error_um_per_m": error}
    if abs(seen) <= coverage * error:
        outcome, why = Outcome.NOT_RESOLVED, Reason("guard.level_not_resolved", facts)
    elif seen < 0.0:
        outcome, why = Outcome.FAILED, Reason("guard.level_wrong_sign", facts)
    elif abs(scale - 1.0) - coverage * error / known > SCALE_SHARE.value:
        outcome, why = Outcome.FAILED, Reason("guard.level_wrong_size", facts)
    else:
        outcome, why = Outcome.PASSED, Reason("guard.level_proved", facts)
    return LevelSign(outcome, known, seen, scale, error / known, why)
