"""Accuracy and repeatability of positioning, in the definitions of ISO 230-2:2014 (formulas and rules from memory).

Five runs each way up to 2 m of travel; above that one run each way and no repeatability is evaluated.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions
from waywright.evaluate.results import Reason

LONGEST_REPEATED_MM = 2000.0
RUNS = 5


@dataclass(frozen=True, slots=True, eq=False)
class Positioning:
    """Figures of an axis in um; "up" is the approach in the positive direction, "down" in the negative.

    A figure that needs repeatability is None with a single run each way, and above 2 m of travel with any number of
    runs; with two to four runs it is there, but not by the standard: ``reason`` says so. Figures are floats, or
    (draws,) for many draws; ``mean_up_um``, ``mean_down_um``, ``reversal_at_um`` (up minus down) (targets,) or
    (targets, draws).
    """

    reversal_um: PerDraw
    mean_reversal_um: PerDraw
    repeatability_up_um: PerDraw | None
    repeatability_down_um: PerDraw | None
    repeatability_um: PerDraw | None
    systematic_um: PerDraw
    systematic_up_um: PerDraw
    systematic_down_um: PerDraw
    mean_deviation_um: PerDraw
    accuracy_up_um: PerDraw | None
    accuracy_down_um: PerDraw | None
    accuracy_um: PerDraw | None
    target_mm: FloatArray
    mean_up_um: FloatArray
    mean_down_um: FloatArray
    reversal_at_um: FloatArray
    runs: int
    reason: Reason | None = None


def positioning(target_mm: npt.ArrayLike, up_um: npt.ArrayLike, down_um: npt.ArrayLike) -> Positioning:
    """Bidirectional positioning from deviations (actual minus target) of either approach.

    Deviations (targets, runs), or (targets, runs, draws); positions (targets,), at least three; the same number of runs
    up and down. Raises BadInput for shapes that differ, NaN, or fewer than three targets.
    """
    target = positions(target_mm)
    up, down = _runs(up_um, target, "up"), _runs(down_um, target, "down")
    if up.shape != down.shape:
        raise BadInput("evaluate.runs_differ", up=up.shape[1], down=down.shape[1])
    mean_up, mean_down = up.mean(axis=1), down.mean(axis=1)
    reversal = mean_up - mean_down
    both = np.concatenate([mean_up, mean_down])
    r_up = r_down = r = a_up = a_down = a = None
    if up.shape[1] > 1 and np.ptp(target) <= LONGEST_REPEATED_MM:
        s_up, s_down = up.std(axis=1, ddof=1), down.std(axis=1, ddof=1)
        r_up, r_down = 4.0 * s_up.max(axis=0), 4.0 * s_down.max(axis=0)
        each = (2.0 * s_up + 2.0 * s_down + np.abs(reversal)).max(axis=0)
        r = np.maximum(np.maximum(r_up, r_down), each)
        high_up, low_up = (mean_up + 2.0 * s_up).max(axis=0), (mean_up - 2.0 * s_up).min(axis=0)
        high_down, low_down = (mean_down + 2.0 * s_down).max(axis=0), (mean_down - 2.0 * s_down).min(axis=0)
        a_up, a_down = high_up - low_up, high_down - low_down
        a = np.maximum(high_up, high_down) - np.minimum(low_up, low_down)
    return Positioning(
        reversal_um=_figure(np.abs(reversal).max(axis=0)),
        mean_reversal_um=_figure(reversal.mean(axis=0)),
        repeatability_up_um=_figure(r_up),
        repeatability_down_um=_figure(r_down),
        repeatability_um=_figure(r),
        systematic_um=_figure(np.ptp(both, axis=0)),
        systematic_up_um=_figure(np.ptp(mean_up, axis=0)),
        systematic_down_um=_figure(np.ptp(mean_down, axis=0)),
        mean_deviation_um=_figure(np.ptp((mean_up + mean_down) / 2.0, axis=0)),
        accuracy_up_um=_figure(a_up),
        accuracy_down_um=_figure(a_down),
        accuracy_um=_figure(a),
        target_mm=target,
        mean_up_um=mean_up,
        mean_down_um=mean_down,
        reversal_at_um=reversal,
        runs=up.shape[1],
        reason=_reason(up.shape[1], float(np.ptp(target))),
    )


def _figure(value: PerDraw | None) -> PerDraw | None:
    """A float for one set, the array for many."""
    return float(value) if value is not None and np.ndim(value) == 0 else value


def _reason(runs: int, length_mm: float) -> Reason | None:
    """What the number of runs leaves out of the standard's figures."""
    facts = {"runs": runs, "length_mm": length_mm, "needed": RUNS, "longest_mm": LONGEST_REPEATED_MM}
    if length_mm > LONGEST_REPEATED_MM:
        return Reason("evaluate.no_repeatability_so_long", facts)
    if runs == 1:
        return Reason("evaluate.one_run", facts)
    return Reason("evaluate.fewer_runs", facts) if runs < RUNS else None


def _runs(value: npt.ArrayLike, target: FloatArray, name: str) -> FloatArray:
    runs = np.array(value, dtype=np.float64)
    if runs.ndim == 1:
        runs = runs[:, None]
    if runs.ndim not in (2, 3) or runs.shape[0] != target.size or 0 in runs.shape:
        raise BadInput("evaluate.values_shape", name=name, shape=runs.shape)
    if not np.isfinite(runs).all():
        station = int(np.argwhere(~np.isfinite(runs))[0][0])
        raise BadInput("evaluate.not_a_number", name=name, station=station + 1, position_mm=float(target[station]))
    return runs
