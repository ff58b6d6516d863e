"""Stations missed and doubled: by even spacing, or beside the places that were planned (or read in another pass)."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.results import Reason
from waywright.guard.findings import Finding, Remark
from waywright.guard.rules import STATION_APART


def stations_amiss(position_mm: FloatArray, spacing_mm: float) -> list[Finding]:
    """Stations missed (a gap of nearly two spacings or more) and doubled (much nearer than one), in a pass (n,)."""
    if not spacing_mm > 0.0:
        raise BadInput("guard.not_positive", name="spacing_mm", value=spacing_mm)
    found = []
    for k, step in enumerate(np.abs(np.diff(position_mm))):
        ratio = float(step / spacing_mm)
        places = {"from_mm": float(position_mm[k]), "to_mm": float(position_mm[k + 1]), "spacing_mm": spacing_mm}
        if ratio > 2.0 - STATION_APART.value:
            why = Reason("guard_watch.missed", places | {"missed": round(ratio) - 1})
            found.append(Finding(Remark.MISSED, why, k + 1, float(position_mm[k : k + 2].mean())))
        elif ratio < STATION_APART.value:
            found.append(
                Finding(Remark.DOUBLED, Reason("guard_watch.doubled", places), k + 1, float(position_mm[k + 1]))
            )
    return found


def stations_beside_plan(position_mm: FloatArray, planned_mm: npt.ArrayLike) -> list[Finding]:
    """The same beside planned places (m,), at uneven distances too: a planned place within the stretch (n,) so far that
    no reading is near, and a reading much nearer to an earlier one than any planned place is to its neighbour.
    """
    planned = np.unique(np.asarray(planned_mm, dtype=np.float64))
    if planned.size < 2 or position_mm.size == 0:
        return []
    gaps = np.diff(planned)
    local = np.minimum(np.append(gaps, np.inf), np.append(np.inf, gaps))
    return [*_missed(position_mm, planned, local), *_doubled(position_mm, planned, local)]


def _missed(x: FloatArray, planned: FloatArray, local: FloatArray) -> list[Finding]:
    passed = np.flatnonzero((planned > x.min()) & (planned < x.max()))
    found = []
    for k in passed:
        distance = np.abs(x - planned[k])
        if distance.min() > STATION_APART.value * local[k]:
            low, high = float(x[x < planned[k]].max()), float(x[x > planned[k]].min())
            facts = {"from_mm": low, "to_mm": high, "spacing_mm": float(local[k]), "missed": 1}
            place = float(planned[k])
            found.append(Finding(Remark.MISSED, Reason("guard_watch.missed", facts), int(distance.argmin()), place))
    return found


def _doubled(x: FloatArray, planned: FloatArray, local: FloatArray) -> list[Finding]:
    found = []
    for k in range(1, x.size):
        nearest = int(np.abs(x[:k] - x[k]).argmin())
        spacing = float(local[int(np.abs(planned - x[k]).argmin())])
        if abs(float(x[nearest] - x[k])) < STATION_APART.value * spacing:
            facts = {"from_mm": float(x[nearest]), "to_mm": float(x[k]), "spacing_mm": spacing}
            found.append(Finding(Remark.DOUBLED, Reason("guard_watch.doubled", facts), k, float(x[k])))
    return found
