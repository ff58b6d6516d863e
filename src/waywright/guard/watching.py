"""Watching a pass: what each reading says beside its neighbours and the other pass, and which station to take again.

The comparison with other passes (spike, persistent step, shift by a station) is
:func:`waywright.evaluate.anomalies.check_passes`. Here stands what one pass says alone, and temperature; closures
stand in :mod:`waywright.guard.closing`.
A reading is compared with the straight line through its neighbours; what it is off contains the shape of the way, so
"off" is judged by what the other offsets of the pass are (Grubbs' test), and never by the scatter of one reading alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.anomalies import CANNOT_TELL, Anomaly, PassesCheck, check_passes
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.results import Reason
from waywright.guard.deleted import deleted
from waywright.guard.findings import UNNAMED, Finding, PassSoFar, Remark
from waywright.guard.rules import TEMPERATURE_K_PER_H
from waywright.guard.scatter import scatter_beside, scatter_too_high
from waywright.guard.stations import stations_amiss, stations_beside_plan

_FEWEST = 3
_FEWEST_QUICK = 6
_UNUSUAL = 2.5


def screen_pass(
    taken: PassSoFar,
    others: Sequence[PassSoFar] = (),
    *,
    false_alarm: float = 0.01,
    usual_sd: float | None = None,
    effective_samples: float | None = None,
    planned_mm: npt.ArrayLike | None = None,
    quick: bool = False,
) -> tuple[Finding, ...]:
    """Everything that the readings of a pass say so far, alone and beside other passes.

    A ``quick`` look compares the values with other passes in detail only where the newest three readings are unusual.

    ``usual_sd`` is the scatter of samples at standstill (from the steadiness record) and ``effective_samples`` how many
    independent ones a reading has (averaging time over twice the correlation time); without them the scatter is
    compared from station to station. ``planned_mm`` (m,) are the places meant to be read, where spacing is not even.
    ``false_alarm`` is shared by the tests. Raises BadInput for arrays that do not belong together.
    """
    x, y = taken.arrays()
    share = false_alarm / 2.0
    found = screen_stations(taken, planned_mm)
    if taken.sample_sd is not None and usual_sd is not None:
        sd = np.asarray(taken.sample_sd, dtype=np.float64)
        found += scatter_too_high(x, sd, usual_sd, effective_samples or float(taken.samples), share)
    else:
        found += scatter_beside(taken, others, share)
    if not others:
        found += beside_neighbours(x, y, share, taken.said)
    elif not quick or unusual(taken, others):
        found += screen_values(taken, others, share)
    return tuple(found)


def unusual(taken: PassSoFar, others: Sequence[PassSoFar]) -> bool:
    """Whether one of the newest three readings is off what all the rest of the pass expects beside the other passes.

    A cheap look at the differences from the mean of the others, about a parabola; false while it is too early to say.
    """
    x, y = taken.arrays()
    if x.size < _FEWEST_QUICK:
        return False
    usual = np.mean([_at(x, one) for one in others], axis=0)
    expected, error = deleted(x, y - usual, 2, 1e-12)
    return bool((np.abs(y - usual - expected) > _UNUSUAL * error)[-3:].any())


def _at(x: FloatArray, other: PassSoFar) -> FloatArray:
    place, value = other.arrays()
    order = np.argsort(place)
    return np.interp(x, place[order], value[order])


def screen_stations(taken: PassSoFar, planned_mm: npt.ArrayLike | None = None) -> list[Finding]:
    """Stations missed or doubled, by the even spacing or beside planned places (m,)."""
    x, _ = taken.arrays()
    return stations_amiss(x, taken.spacing_mm) if planned_mm is None else stations_beside_plan(x, planned_mm)


def screen_values(taken: PassSoFar, others: Sequence[PassSoFar], false_alarm: float) -> list[Finding]:
    """:func:`beside_others`, or the neighbours alone where the passes have too little in common to be compared."""
    x, y = taken.arrays()
    if min(x.size, *(np.size(other.position_mm) for other in others)) >= _FEWEST:
        beside = beside_others(taken, others, false_alarm)
        if beside is not None:
            return beside
    return beside_neighbours(x, y, false_alarm, taken.said)


def beside_neighbours(
    position_mm: FloatArray, value: FloatArray, false_alarm: float, said: dict[str, object] | None = None
) -> list[Finding]:
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
    at, by = _guilty(off, share, farthest, float(rest.mean()))
    facts = {"position_mm": float(x[at]), "off": by, "spread": spread, **(said or UNNAMED)}
    return [Finding(Remark.OUTLIER, Reason("guard_watch.outlier", facts), int(order[at]), float(x[at]))]


def _guilty(off: FloatArray, share: FloatArray, farthest: int, usual: float) -> tuple[int, float]:
    """Which reading (from 0, along the way) is off, and by how much: the one that stands out, or the end beside it.

    A bad reading pulls the offsets beside it the other way by half; the end has no offset of its own, and shows only in
    its neighbour's.
    """
    size = float(off[farthest]) - usual
    for end, inner, weight in ((0, 1, 1.0 - share[0]), (off.size - 1, off.size - 2, share[-1])):
        if farthest == end and (float(off[inner]) - usual) / size > -0.25:
            return (0 if end == 0 else off.size + 1), -size / float(weight)
    return farthest + 1, size


def beside_others(taken: PassSoFar, others: Sequence[PassSoFar], false_alarm: float) -> list[Finding] | None:
    """Spikes, steps and shifts of this pass beside the others; what lies in another pass only is not repeated here.

    None where the passes have too little in common, or too many readings, to be compared.
    """
    checked = compared(taken, others, false_alarm)
    x, _ = taken.arrays()
    mine = len(others) + 1
    return None if checked is None else [_told(one, taken, x) for one in checked.found if mine in one.passes]


def compared(taken: PassSoFar, others: Sequence[PassSoFar], false_alarm: float = 0.01) -> PassesCheck | None:
    """The passes compared, this one last; None where they have too little in common, or too many readings."""
    try:
        checked = check_passes([one.traverse() for one in (*others, taken)], false_alarm=false_alarm)
    except BadInput:
        return None
    return checked if checked.checked else None


def _told(anomaly: Anomaly, taken: PassSoFar, x: FloatArray) -> Finding:
    station = _one_station(anomaly, x)
    place = anomaly.from_mm if station is None else float(x[station])
    facts = {**anomaly.reason.facts, **taken.said, "position_mm": place}
    here = "_here" if station is not None and anomaly.kind == CANNOT_TELL else ""
    return Finding(Remark(anomaly.kind), Reason(f"guard_watch.{anomaly.kind}{here}", facts), station, place)


def _one_station(anomaly: Anomaly, x: FloatArray) -> int | None:
    """The one station to take again: of a spike, or the newest one where that alone does not fit."""
    low, high = anomaly.from_mm, anomaly.to_mm
    if low == high:
        return int(np.abs(x - low).argmin())
    near = 0.25 * abs(float(x[-1] - x[-2]))
    last_gap = abs(high - low) < abs(float(x[-1] - x[-2])) + 2.0 * near
    newest = min(abs(float(x[-1]) - low), abs(float(x[-1]) - high)) < near
    return x.size - 1 if anomaly.kind == CANNOT_TELL and newest and last_gap else None


def temperature_change(before_degc: float, after_degc: float, hours: float) -> Finding | None:
    """Whether a temperature changed faster than 1 K per hour; a pass shorter than an hour may change by its share."""
    change = after_degc - before_degc
    if abs(change) <= TEMPERATURE_K_PER_H.value * hours:
        return None
    facts = {"change_k": change, "minutes": 60.0 * hours, "limit_k_per_h": TEMPERATURE_K_PER_H.value}
    return Finding(Remark.TEMPERATURE, Reason("guard_watch.temperature", facts))


def _deleted_limit(tried: int, rest: int, false_alarm: float) -> float:
    """Limit for the largest of ``tried`` offsets, over the spread of the ``rest`` (Student's t, Bonferroni)."""
    from scipy.stats import t as student

    return float(student.isf(false_alarm / (2 * tried), rest - 1)) * math.sqrt(1.0 + 1.0 / rest)
