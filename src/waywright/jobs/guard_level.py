"""A level's zero and sign, judged and kept."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.evaluate.results import Reason
from waywright.guard import LevelSign, Outcome, Reversal, level_reversal, level_sign
from waywright.jobs.evidence import Judged, Keep, keep


@dataclass(frozen=True, slots=True)
class LevelTest:
    """The sign by a known tilt, and the zero by turning (None: not turned); ``outcome`` passed only with both."""

    outcome: Outcome
    why: tuple[Reason, ...]
    sign: LevelSign
    turned: Reversal | None


def level(
    readings_um_per_m: tuple[float, float],
    lift_um: float,
    base_mm: float,
    *,
    turn: tuple[float, float] | None = None,
    tolerance_um: float = 5.0,
    error_um_per_m: float = 1.0,
    where: Keep | None = None,
) -> LevelTest:
    """Readings before and after the shim; ``turn`` are those before and after turning the level by 180 degrees.

    Without the turn a right sign is not resolved: the zero is missing.
    """
    before, after = readings_um_per_m
    sign = level_sign(
        before, after, lift_um=lift_um, tolerance_um=tolerance_um, base_mm=base_mm, error_um_per_m=error_um_per_m
    )
    found = _judged(sign, None if turn is None else level_reversal(*turn, error_um_per_m))
    inputs = {"readings_um_per_m": readings_um_per_m, "lift_um": lift_um, "base_mm": base_mm, "turn_um_per_m": turn}
    good = found.outcome is Outcome.PASSED
    if where is not None:
        keep(Judged("level", found.outcome.value, good, found.why, inputs, found), where)
    return found


def _judged(sign: LevelSign, turned: Reversal | None) -> LevelTest:
    if turned is not None:
        return LevelTest(sign.outcome, (sign.why,), sign, turned)
    outcome = Outcome.NOT_RESOLVED if sign.outcome is Outcome.PASSED else sign.outcome
    return LevelTest(outcome, (sign.why, Reason("guard.level_not_turned", {})), sign, turned)
