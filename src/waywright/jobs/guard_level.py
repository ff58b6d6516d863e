"""A level's zero and sign, judged and kept."""

from __future__ import annotations

from dataclasses import dataclass

from waywright.guard import LevelSign, Outcome, Reversal, level_reversal, level_sign
from waywright.jobs.evidence import Judged, Keep, keep


@dataclass(frozen=True, slots=True)
class LevelTest:
    """The sign by a known tilt, and the zero by turning (None: not turned)."""

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
    """Readings before and after the shim; ``turn`` are those before and after turning the level by 180 degrees."""
    before, after = readings_um_per_m
    sign = level_sign(
        before, after, lift_um=lift_um, tolerance_um=tolerance_um, base_mm=base_mm, error_um_per_m=error_um_per_m
    )
    found = LevelTest(sign, None if turn is None else level_reversal(*turn, error_um_per_m))
    inputs = {"readings_um_per_m": readings_um_per_m, "lift_um": lift_um, "base_mm": base_mm, "turn_um_per_m": turn}
    good = sign.outcome is Outcome.PASSED
    if where is not None:
        keep(Judged("level", sign.outcome.value, good, (sign.why,), inputs, found), where)
    return found
