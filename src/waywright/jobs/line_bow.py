"""The bow challenge of a kept line: its bow, and everything recorded that could imitate it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.evaluate.least_squares import fit
from waywright.guard import Belief, BowChallenge, Circumstances, Figure, challenge_bow
from waywright.jobs.evidence import Judged, keep_at
from waywright.jobs.measured import MeasuredLine, joined, positive_on_screen
from waywright.quantities import Direction
from waywright.readings import Floats
from waywright.visit import Evidence

_THERMOMETER_K = 0.2
"""Standard uncertainty of a temperature typed on the floor; common practice, no published source."""


@dataclass(frozen=True, slots=True)
class Bow:
    """The middle against the ends of the parabola that fits a profile, hump positive, with its standard error."""

    bow_um: float
    error_um: float
    length_m: float


def bow_of(position_mm: Floats, height_um: Floats) -> Bow:
    """Of stations (n,), at least five."""
    length_mm = float(np.ptp(position_mm))
    u = (position_mm - position_mm.mean()) / (length_mm / 2.0)
    found = fit(np.column_stack([np.ones(u.size), u, u**2]), height_um)
    return Bow(-float(found.coefficient[2]), float(found.standard_error[2]), length_mm / 1000.0)


def challenged(measured: MeasuredLine, tolerance_um: float) -> BowChallenge | None:
    """The challenge of the height's bow (the side's, where no height was read); None with fewer than five stations."""
    codes = {positive_on_screen(measured, name): name for name in measured.codes()}
    name = codes.get(Direction.UP) or next(iter(measured.codes()), None)
    if name is None:
        return None
    mean = joined(measured, name)
    if mean.position_mm.size < 5:
        return None
    bow = bow_of(mean.position_mm, mean.mean)
    circumstances = _circumstances(measured, vertical=Direction.UP in codes)
    return challenge_bow(
        bow.bow_um, bow.length_m, tolerance_um=tolerance_um, error_um=bow.error_um, circumstances=circumstances
    )


def keep_challenge(
    archive: Archive, measured: MeasuredLine, found: BowChallenge, tolerance_um: float, clock: Clock
) -> Evidence:
    """Keep what the challenge said at the line."""
    inputs = {"bow_um": found.bow_um, "length_m": found.length_m, "tolerance_um": tolerance_um}
    judged = Judged("bow", found.belief.value, found.belief is Belief.BELIEVE, (found.why,), inputs, found)
    return keep_at(archive, judged, measured.line.id, clock=clock)


def _circumstances(measured: MeasuredLine, *, vertical: bool) -> Circumstances:
    """What was recorded; a mean of forward and backward passes that drift evenly has lost its drift."""
    bed = measured.machine.bed
    places = _temperatures(measured)
    top, foot = _of(places, "top"), _of(places, "foot")
    difference = None if top is None or foot is None else Figure(top - foot, _THERMOMETER_K * 2**0.5)
    ways = {single.taken.direction for single in measured.passes}
    drift = Figure(0.0, 0.25, measured=False) if len(ways) > 1 else None
    height_m = bed.height_mm / 1000.0 if bed is not None and bed.height_mm else None
    return Circumstances(
        vertical=vertical, height_m=height_m, top_minus_foot_k=difference, drift_um_per_m=drift
    )  # fmt: skip


def _temperatures(measured: MeasuredLine) -> dict[str, float]:
    return {
        item.place.lower(): item.value_degc
        for single in measured.passes
        for item in single.taken.conditions.temperatures
    }


def _of(places: dict[str, float], word: str) -> float | None:
    return next((value for place, value in places.items() if "bed" in place and word in place), None)
