"""Watching a pass: what each reading says beside its neighbours and the other pass, and which station to take again.

The comparison with other passes (spike, persistent step, shift by a station) is
:func:`waywright.evaluate.anomalies.check_passes`. Here stands what one pass says alone, and closure and temperature.
A reading is compared with the straight line through its neighbours; what it is off contains the shape of the way, so
"off" is judged by what the other offsets of the pass are (Grubbs' test), and never by the scatter of one reading alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.anomalies import check_passes
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.passes import Traverse
from waywright.evaluate.results import Reason
from waywright.guard.rules import (
    CLOSURE_SHARE,
    CLOSURE_UNCERTAINTIES,
    STATION_APART,
    TEMPERATURE_K_PER_H,
)


class Remark(StrEnum):
    """What is wrong with a reading or a pass."""

    OUTLIER = "outlier"
    SCATTER = "scatter"
    MISSED = "missed-station"
    DOUBLED = "doubled-station"
    SPIKE = "spike"
    STEP = "step"
    SHIFT = "shift"
    CANNOT_TELL = "cannot-tell"
    CLOSURE = "closure"
    TEMPERATURE = "temperature"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was found. ``station`` (from 0, in the order of reading) is to be taken again, None: the pass."""

    remark: Remark
    why: Reason
    station: int | None = None
    position_mm: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class PassSoFar:
    """Readings of one pass in the order taken: position (n,), value (n,) in um (or um/m), standard deviation of the
    samples of each (n,) with their number. ``spacing_mm`` is the planned distance of stations, ``error`` (n,) the
    standard error of each value, where it is known.
    """

    position_mm: npt.ArrayLike
    value: npt.ArrayLike
    direction: str
    spacing_mm: float
    sample_sd: npt.ArrayLike | None = None
    samples: int = 0
    error: npt.ArrayLike | None = None

    def traverse(self) -> Traverse:
        """As evaluation takes it."""
        return Traverse(self.position_mm, self.value, self.direction, standard_deviation=self.error)


def screen_pass(
    taken: PassSoFar,
    others: Sequence[PassSoFar] = (),
    *,
    false_alarm: float = 0.01,
    usual_sd: float | None = None,
    effective_samples: float | None = None,
) -> tuple[Finding, ...]:
    """Everything that the readings of a pass say so far, alone and beside other passes.

    ``usual_sd`` is the scatter of samples at standstill (from the steadiness record) and ``effective_samples`` how many
    independent ones a reading has (averaging time over twice the correlation time). ``false_alarm`` is shared by the
    tests. Raises BadInput for arrays that do not belong together.
    """
    x, y = _arrays(taken)
    share = false_alarm / 2.0
    found = [*stations_amiss(x, taken.spacing_mm)]
    if usual_sd is not None and taken.sample_sd is not None:
        sd = np.asarray(taken.sample_sd, dtype=np.float64)
        found += scatter_too_high(x, sd, usual_sd, effective_samples or float(taken.samples), share)
    if others and min(x.size, *(np.size(other.position_mm) for other in others)) >= 3:
        found += beside_others(taken, others, share)
    else:
        found += beside_neighbours(x, y, share)
    return tuple(found)


def stations_amiss(position_mm: FloatArray, spacing_mm: float) -> list[Finding]:
    """Stations missed (a gap of nearly two spacings or more) and doubled (much nearer than one), in a pass (n,)."""
    if not spacing_mm > 0.0:
        raise BadInput("guard.not_positive", name="spacing_mm", value=spacing_mm)
    found = []
    for k, step in enumerate(np.abs(np.diff(position_mm))):
        ratio = float(step / spacing_mm)
        places = {"from_mm": float(position_mm[k]), "to_mm": float(position_mm[k + 1]), "spacing_mm": spacing_mm}
        if ratio > 2.0 - STATION_APART.value:
            why = Reason("guard.watch_missed", places | {"missed": round(ratio) - 1})
            found.append(Finding(Remark.MISSED, why, k + 1, float(position_mm[k : k + 2].mean())))
        elif ratio < STATION_APART.value:
            found.append(
                Finding(Remark.DOUBLED, Reason("guard.watch_doubled", places), k + 1, float(position_mm[k + 1]))
            )
    return found


def scatter_too_high(
    position_mm: FloatArray, sample_sd: FloatArray, usual_sd: float, effective_samples: float, false_alarm: float
) -> list[Finding]:
    """Readings whose samples scatter more than at standstill: chi-squared, shared over the stations (Bonferroni)."""
    from scipy.stats import chi2

    freedom = max(1.0, effective_samples - 1.0)
    longest = usual_sd * math.sqrt(float(chi2.isf(false_alarm / max(1, sample_sd.size), freedom)) / freedom)
    return [
        Finding(
            Remark.SCATTER,
            Reason("guard.watch_scatter", {"position_mm": float(position_mm[k]), "sd": float(sample_sd[k]),
                                           "usual": usual_sd, "limit": longest}),
            int(k),
            float(position_mm[k]),
        )
        for k in np.flatnonzero(sample_sd > longest)
    ]  # fmt: skip


def beside_neighbours(position_mm: FloatArray, value: FloatArray, false_alarm: float) -> list[Finding]:
    """The one reading (n,) that is farthest off the line through its neighbours, where Grubbs' test calls it out.

    Needs seven readings. The shape of the way counts as scatter, so a rough way hides more; two passes see more.
    """
    order = np.argsort(position_mm)
    x, y = position_mm[order], value[order]
    if x.size < 7 or not (np.diff(x) > 0.0).all():
        return []
    share = (x[1:-1] - x[:-2]) / (x[2:] - x[:-2])
    off = y[1:-1] - (y[:-2] * (1.0 - share) + y[2:] * share)
    # neighbours of a spike are off by half of it, so that every third offset stands for a sample of its own
    farthest = int(np.abs(off - np.median(off)).argmax())
    rest = np.delete(off, [k for k in (farthest - 1, farthest, farthest + 1) if 0 <= k < off.size])
    if rest.size < 4:
        return []
    spread = float(rest.std(ddof=1))
    distance = abs(float(off[farthest] - rest.mean()))
    if spread <= 0.0 or distance <= _deleted_limit(off.size, rest.size, false_alarm) * spread:
        return []
    place = int(order[farthest + 1])
    facts = {"position_mm": float(x[farthest + 1]), "off": float(off[farthest] - rest.mean()), "spread": spread}
    return [Finding(Remark.OUTLIER, Reason("guard.watch_outlier", facts), place, float(x[farthest + 1]))]


def beside_others(taken: PassSoFar, others: Sequence[PassSoFar], false_alarm: float) -> list[Finding]:
    """Spikes, steps and shifts of this pass beside the others; what lies in another pass only is not repeated here."""
    passes = [one.traverse() for one in (*others, taken)]
    mine = len(passes)
    x = np.asarray(taken.position_mm, dtype=np.float64)
    found = []
    for anomaly in check_passes(passes, false_alarm=false_alarm).found:
        if mine in anomaly.passes:
            station = int(np.abs(x - anomaly.from_mm).argmin()) if anomaly.kind == "spike" else None
            found.append(Finding(Remark(anomaly.kind), anomaly.reason, station, anomaly.from_mm))
    return found


def closure(
    first: float, again: float, error_of_difference: float, tolerance: float, coverage: float | None = None
) -> Finding | None:
    """A place read at the beginning and again at the end: None while the difference stays within the limit.

    The limit is the larger of a tenth of the tolerance and ``coverage`` (2) times the standard uncertainty of a
    difference of two readings.
    """
    times = CLOSURE_UNCERTAINTIES.value if coverage is None else coverage
    limit = max(times * error_of_difference, CLOSURE_SHARE.value * tolerance)
    change = again - first
    if abs(change) <= limit:
        return None
    return Finding(Remark.CLOSURE, Reason("guard.watch_closure", {"change": change, "limit": limit}))


def temperature_change(before_degc: float, after_degc: float, hours: float) -> Finding | None:
    """Whether a temperature changed faster than 1 K per hour; a pass shorter than an hour may change by its share."""
    change = after_degc - before_degc
    if abs(change) <= TEMPERATURE_K_PER_H.value * hours:
        return None
    facts = {"change_k": change, "minutes": 60.0 * hours, "limit_k_per_h": TEMPERATURE_K_PER_H.value}
    return Finding(Remark.TEMPERATURE, Reason("guard.watch_temperature", facts))


def _deleted_limit(tried: int, rest: int, false_alarm: float) -> float:
    """Limit for the largest of ``tried`` offsets, over the spread of the ``rest`` (Student's t, Bonferroni)."""
    from scipy.stats import t as student

    return float(student.isf(false_alarm / (2 * tried), rest - 1)) * math.sqrt(1.0 + 1.0 / rest)


def _arrays(taken: PassSoFar) -> tuple[FloatArray, FloatArray]:
    x, y = np.asarray(taken.position_mm, dtype=np.float64), np.asarray(taken.value, dtype=np.float64)
    if x.ndim != 1 or x.shape != y.shape or not (np.isfinite(x).all() and np.isfinite(y).all()):
        raise BadInput("guard.pass_arrays", positions=x.size, values=y.size)
    return x, y
