"""Values that stand out of a sample: Grubbs' test for one, the generalized ESD test for several.

F. E. Grubbs, Technometrics 11 (1969) 1; B. Rosner, Technometrics 25 (1983) 165; both in the NIST/SEMATECH e-Handbook
of Statistical Methods, 1.3.5.17.1 and 1.3.5.17.3. Both hold for independent normal values of one mean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Outliers:
    """``found`` (k,) are the places of the outliers, the farthest first; ``statistic``, ``limit`` (most,) of each."""

    found: npt.NDArray[np.intp]
    statistic: FloatArray
    limit: FloatArray


def grubbs_limit(count: int, false_alarm: float = 0.05, *, one_sided: bool = False) -> float:
    """Limit for the largest distance from the mean over the standard deviation of ``count`` values.

    ``one_sided`` where only the largest (or only the smallest) is looked at. Raises BadInput for fewer than 3 values.
    """
    if count < 3:
        raise BadInput("guard.too_few_for_outliers", values=count)
    return _limit(count, false_alarm / (count if one_sided else 2 * count))


def grubbs(values: npt.ArrayLike, false_alarm: float = 0.05) -> Outliers:
    """Test the one value (n,) farthest from the mean, on either side."""
    return generalized_esd(values, most=1, false_alarm=false_alarm)


def generalized_esd(values: npt.ArrayLike, most: int, false_alarm: float = 0.05) -> Outliers:
    """Up to ``most`` outliers among values (n,), whatever number hides another (masking).

    The number is the last step whose statistic is beyond its limit. Raises BadInput for values that are not finite, or
    too few of them: two more than outliers must remain.
    """
    y = np.asarray(values, dtype=np.float64)
    if y.ndim != 1 or y.size < most + 2 or most < 1 or not np.isfinite(y).all():
        raise BadInput("guard.too_few_for_outliers", values=y.size)
    left = np.arange(y.size)
    taken, statistic, limit = [], np.zeros(most), np.zeros(most)
    for step in range(most):
        rest = y[left]
        spread = float(rest.std(ddof=1))
        distance = np.abs(rest - rest.mean())
        farthest = int(distance.argmax())
        statistic[step] = distance[farthest] / spread if spread > 0.0 else 0.0
        limit[step] = grubbs_limit(left.size, false_alarm)
        taken.append(int(left[farthest]))
        left = np.delete(left, farthest)
    beyond = np.flatnonzero(statistic > limit)
    number = int(beyond[-1]) + 1 if beyond.size else 0
    return Outliers(np.array(taken[:number], dtype=np.intp), statistic, limit)


def _limit(count: int, tail: float) -> float:
    from scipy.stats import t as student

    t = float(student.isf(tail, count - 2))
    return (count - 1) * t / math.sqrt((count - 2 + t**2) * count)
