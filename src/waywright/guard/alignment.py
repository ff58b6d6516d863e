"""Beam parallel to the axis: how far to shift and tilt the source, and what excursion remains.

At distance d from the source the detector reads r = c0 + c1 d against the beam. Shifting the source by c0 and tilting
it by c1, both in the physical direction in which readings count, brings the readings to zero near and far.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.least_squares import fit
from waywright.evaluate.results import Reason
from waywright.guard.linearity import Linearity
from waywright.guard.rules import EXCURSION_OF_RANGE, EXCURSION_OF_SMALLEST, NONLINEARITY_SHARE, Rule


@dataclass(frozen=True, slots=True)
class Adjuster:
    """What one turn of the source's own screws does in this direction, clockwise; negative where it goes the other way.

    ``slack_turns`` is how far a screw turns before anything moves after a change of direction.
    """

    shift_um_per_turn: float | None = None
    tilt_um_per_m_per_turn: float | None = None
    slack_turns: float = 0.0


@dataclass(frozen=True, slots=True)
class Detector:
    """``range_um`` is the usable range (lowest, highest reading), ``linearity`` its table where there is one."""

    range_um: tuple[float, float]
    linearity: Linearity | None = None


class Ready(StrEnum):
    """Whether the beam lies well enough."""

    GOOD_ENOUGH = "good-enough"
    ALIGN = "align"


@dataclass(frozen=True, slots=True)
class Alignment:
    """One direction (height or side) of the alignment; positive as the readings count, in physical directions.

    ``shift_um`` and ``tilt_um_per_m`` are what the source must do, with standard uncertainties; turns clockwise are
    positive. ``near_um`` and ``far_um`` is the beam's lie now at both ends of the line, ``excursion_um`` the spread of
    readings along it. ``predicted_um`` is the largest reading that remains afterwards (from what the line leaves of the
    readings, the doubt of the fit and the slack of the screws). ``error_um`` is what nonlinearity adds to straightness
    over the present excursion and ``limit_um`` what it may be; with a table. ``limit_excursion_um`` is the limit of
    the rule without one.
    """

    shift_um: float
    shift_error_um: float
    tilt_um_per_m: float
    tilt_error_um_per_m: float
    shift_turns: float | None
    tilt_turns: float | None
    near_um: float
    far_um: float
    excursion_um: float
    predicted_um: float
    error_um: float | None
    limit_um: float | None
    limit_excursion_um: float | None
    ready: Ready
    why: Reason
    rules: tuple[Rule, ...]


def alignment(
    distance_m: npt.ArrayLike,
    reading_um: npt.ArrayLike,
    *,
    detector: Detector,
    tolerance_um: float,
    smallest_um: float | None = None,
    error_um: float = 0.0,
    adjuster: Adjuster | None = None,
) -> Alignment:
    """From readings (n,) at two or more distances (n,) from the source, counted in a physical direction.

    ``smallest_um`` is the smallest deviation sought (a tenth of the tolerance, if not told) and ``error_um`` the
    standard error of a reading. Raises BadInput for fewer than two distances, readings beyond the detector's range, or
    figures that are not positive.
    """
    d, r = _checked(distance_m, reading_um, detector, tolerance_um)
    line = fit(np.column_stack([np.ones(d.size), d]), r)
    spread = error_um * np.sqrt(np.diag(line.cofactor))
    near, far = (float(line.coefficient @ [1.0, place]) for place in (d.min(), d.max()))
    lowest, highest = float(min(r.min(), near, far)), float(max(r.max(), near, far))
    smallest = smallest_um or NONLINEARITY_SHARE.value * tolerance_um
    screw = adjuster or Adjuster()
    error, limit, longest, ready, why, rules = _judged(lowest, highest, detector, tolerance_um, smallest)
    return Alignment(
        shift_um=float(line.coefficient[0]),
        shift_error_um=float(spread[0]),
        tilt_um_per_m=float(line.coefficient[1]),
        tilt_error_um_per_m=float(spread[1]),
        shift_turns=_turns(float(line.coefficient[0]), screw.shift_um_per_turn),
        tilt_turns=_turns(float(line.coefficient[1]), screw.tilt_um_per_m_per_turn),
        near_um=near,
        far_um=far,
        excursion_um=highest - lowest,
        predicted_um=_predicted(d, line.residual, line.cofactor, error_um, screw),
        error_um=error,
        limit_um=limit,
        limit_excursion_um=longest,
        ready=ready,
        why=why,
        rules=rules,
    )


def steering_step(
    distance_m: Sequence[float], reading_um: Sequence[float], largest_um_per_m: float
) -> float:  # fmt: skip
    """The next tilt of a source that can be steered, in um/m, never more than ``largest_um_per_m`` at a time."""
    d, r = np.asarray(distance_m, dtype=np.float64), np.asarray(reading_um, dtype=np.float64)
    if d.size < 2 or not np.ptp(d) > 0.0:
        raise BadInput("guard.two_distances", distances=int(np.unique(d).size))
    slope = float(fit(np.column_stack([np.ones(d.size), d]), r).coefficient[1])
    return float(np.clip(slope, -largest_um_per_m, largest_um_per_m))


def _checked(
    distance_m: npt.ArrayLike, reading_um: npt.ArrayLike, detector: Detector, tolerance_um: float
) -> tuple[FloatArray, FloatArray]:
    d, r = np.asarray(distance_m, dtype=np.float64), np.asarray(reading_um, dtype=np.float64)
    if d.shape != r.shape or d.ndim != 1 or d.size < 2 or not np.ptp(d) > 0.0:
        raise BadInput("guard.two_distances", distances=int(np.unique(d).size))
    if not tolerance_um > 0.0:
        raise BadInput("guard.not_positive", name="tolerance_um", value=tolerance_um)
    low, high = detector.range_um
    outside = r[(r < low) | (r > high) | ~np.isfinite(r)]
    if outside.size:
        raise BadInput("guard.beyond_range", reading_um=float(outside[0]), low_um=low, high_um=high)
    return d, r


def _judged(
    lowest: float, highest: float, detector: Detector, tolerance_um: float, smallest_um: float
) -> tuple[float | None, float | None, float | None, Ready, Reason, tuple[Rule, ...]]:
    excursion = highest - lowest
    if detector.linearity is not None:
        error = detector.linearity.straightness_um(lowest, highest)
        limit = NONLINEARITY_SHARE.value * tolerance_um
        ready = Ready.GOOD_ENOUGH if error < limit else Ready.ALIGN
        facts = {"error_um": error, "limit_um": limit, "excursion_um": excursion}
        return error, limit, None, ready, Reason(f"guard.align_{ready.value}", facts), (NONLINEARITY_SHARE,)
    width = detector.range_um[1] - detector.range_um[0]
    longest = min(EXCURSION_OF_SMALLEST.value * smallest_um, EXCURSION_OF_RANGE.value * width)
    ready = Ready.GOOD_ENOUGH if excursion <= longest else Ready.ALIGN
    facts = {"excursion_um": excursion, "longest_um": longest}
    why = Reason(f"guard.align_by_rule_{ready.value}", facts)
    return None, None, longest, ready, why, (EXCURSION_OF_SMALLEST, EXCURSION_OF_RANGE)


def _turns(amount: float, per_turn: float | None) -> float | None:
    return amount / per_turn if per_turn else None


def _predicted(d: FloatArray, residual: FloatArray, cofactor: FloatArray, error_um: float, screw: Adjuster) -> float:
    """Largest reading afterwards: what no line takes away, twice the doubt of the line at either end, and slack."""
    ends = np.array([[1.0, d.min()], [1.0, d.max()]])
    doubt = 2.0 * error_um * np.sqrt(np.einsum("ij,jk,ik->i", ends, cofactor, ends))
    slack = screw.slack_turns * abs(screw.shift_um_per_turn or 0.0)
    slack += screw.slack_turns * abs(screw.tilt_um_per_m_per_turn or 0.0) * float(d.max())
    return float(np.abs(residual).max() + doubt.max() + slack)
