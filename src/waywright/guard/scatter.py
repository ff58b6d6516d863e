"""Whether the samples of a reading scatter too much: against the scatter at standstill, or beside other stations."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.results import Reason
from waywright.guard.deleted import deleted
from waywright.guard.findings import UNNAMED, Finding, PassSoFar, Remark

_LEFT_OVER = 5
_UNKNOWN_SAMPLES = 1000
_LEAST_SHARE = 1e-3  # of the median: a coarse channel may show no scatter at all


def scatter_too_high(
    position_mm: FloatArray, sample_sd: FloatArray, usual_sd: float, effective_samples: float, false_alarm: float
) -> list[Finding]:
    """Readings whose samples scatter more than at standstill: chi-squared, shared over the stations (Bonferroni)."""
    from scipy.stats import chi2

    freedom = max(1.0, effective_samples - 1.0)
    limit = usual_sd * math.sqrt(float(chi2.isf(false_alarm / max(1, sample_sd.size), freedom)) / freedom)
    return [
        _finding(position_mm, sample_sd, k, usual_sd, limit, UNNAMED)
        for k in map(int, np.flatnonzero(sample_sd > limit))
    ]


def scatter_beside(taken: PassSoFar, others: Sequence[PassSoFar], false_alarm: float) -> list[Finding]:
    """Readings whose samples scatter more than the other stations show, without knowing how many samples count.

    The logarithm of the scatter changes smoothly along the way (air grows with the distance): a parabola, or beside
    other passes what they show there and a straight line. A station beyond Student's t of its deleted residual, shared
    over the stations, is called out. The logarithm is never taken to be known better than independent samples would
    let it, 1 / sqrt(2 n). Needs five readings more than that curve has unknowns.
    """
    if taken.sample_sd is None:
        return []
    x, _ = taken.arrays()
    sd = np.asarray(taken.sample_sd, dtype=np.float64)
    known = [one for one in others if one.sample_sd is not None and np.size(one.position_mm) >= 2]
    degree = 1 if known else 2
    if x.size < degree + 1 + _LEFT_OVER or not sd.max() > 0.0:
        return []
    usual = np.mean([_logarithm_at(x, one) for one in known], axis=0) if known else np.zeros(x.size)
    logarithm = _logarithm(sd)
    expected, error = deleted(x, logarithm - usual, degree, 0.5 / (taken.samples or _UNKNOWN_SAMPLES))
    highest = usual + expected + _student(false_alarm / x.size, x.size - degree - 2) * error
    return [
        _finding(x, sd, k, float(np.exp(usual[k] + expected[k])), float(np.exp(highest[k])), taken.said)
        for k in map(int, np.flatnonzero(logarithm > highest))
    ]


def _finding(
    x: FloatArray, sd: FloatArray, k: int, usual: float, limit: float, said: dict[str, object]
) -> Finding:  # fmt: skip
    facts = {"position_mm": float(x[k]), "sd": float(sd[k]), "usual": usual, "limit": limit, **said}
    return Finding(Remark.SCATTER, Reason("guard_watch.scatter", facts), k, float(x[k]))


def _logarithm(sd: FloatArray) -> FloatArray:
    least = _LEAST_SHARE * float(np.median(sd[sd > 0.0])) if (sd > 0.0).any() else 1.0
    return np.asarray(np.log(np.maximum(sd, least)))


def _logarithm_at(x: FloatArray, other: PassSoFar) -> FloatArray:
    place, _ = other.arrays()
    order = np.argsort(place)
    return np.interp(x, place[order], _logarithm(np.asarray(other.sample_sd, dtype=np.float64))[order])


def _student(share: float, freedom: float) -> float:
    from scipy.stats import t as student

    return float(student.isf(share, freedom))
