"""Overnight watch: the parked reading over hours, whether the bed stays where it was left.

Minute means go to a table at once, so that a computer that falls asleep loses nothing. What came of it is kept as
evidence of the line.
"""

from __future__ import annotations

import asyncio
import csv
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.archive import Archive
from waywright.clocks import Clock
from waywright.evaluate.least_squares import fit_polynomial
from waywright.evaluate.results import Reason
from waywright.jobs.adjusting import Heard
from waywright.jobs.begin import Begun
from waywright.jobs.connected import Connected
from waywright.jobs.evidence import Judged, keep_at
from waywright.readings import Floats
from waywright.visit import Evidence

HOUR_S = 3600.0


@dataclass(frozen=True, slots=True)
class WatchPoint:
    """The mean of the height (um, up positive) over one interval that ended ``time_s`` after the start."""

    time_s: float
    height_um: float


@dataclass(frozen=True, slots=True)
class WatchOutcome:
    """``change_um`` from the first to the last mean, ``range_um`` largest less smallest, ``drift_um_per_h`` the trend.

    ``jump_um`` is the largest step between two neighbouring means that the trend does not explain, at ``jump_s``.
    ``outcome`` is "stays", "drifts", or "jumped".
    """

    hours: float
    points: int
    change_um: float
    range_um: float
    drift_um_per_h: float
    jump_um: float
    jump_s: float
    outcome: str

    @property
    def good(self) -> bool:
        """The bed stayed."""
        return self.outcome == "stays"


def watched(time_s: Floats, height_um: Floats, limit_um: float) -> WatchOutcome:
    """What hours of means (n,) tell against a limit. A jump is a step of more than half the limit beyond the trend."""
    if time_s.size < 3:
        nothing = float(height_um[-1] - height_um[0]) if height_um.size else 0.0
        return WatchOutcome(0.0, int(time_s.size), nothing, abs(nothing), 0.0, 0.0, 0.0, "stays")
    hours = (time_s - time_s[0]) / HOUR_S
    steps = np.diff(height_um)
    usual = float(np.median(steps))
    at = int(np.abs(steps - usual).argmax())
    jump = float(steps[at] - usual)
    drift = float(fit_polynomial(hours, height_um, 1).coefficient[1])
    spread = float(np.ptp(height_um))
    outcome = "stays" if spread <= limit_um else "jumped" if abs(jump) > limit_um / 2 else "drifts"
    return WatchOutcome(
        float(hours[-1]),
        int(time_s.size),
        float(height_um[-1] - height_um[0]),
        spread,
        drift,
        jump,
        float(time_s[at + 1]),
        outcome,
    )


async def watch_overnight(
    begun: Begun,
    clock: Clock,
    *,
    hours: float,
    every_s: float,
    table: Path,
    tell: Callable[[WatchPoint], None],
    stop: asyncio.Event | None = None,
) -> tuple[WatchPoint, ...]:
    """Listen for hours (or until ``stop``) and write each interval's mean to a table."""
    heard, points = Heard(begun), []
    stop = stop or asyncio.Event()
    began_s = clock.monotonic_s()
    with table.open("w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["time_s", "height_um"])
        async with Connected(begun, clock, heard.look):
            while not stop.is_set() and clock.monotonic_s() - began_s < hours * HOUR_S:
                await clock.sleep(every_s)
                mean = heard.height_um(every_s)
                if mean is None:
                    continue
                point = WatchPoint(clock.monotonic_s() - began_s, mean)
                points.append(point)
                out.writerow([f"{point.time_s:.1f}", f"{point.height_um:.3f}"])
                file.flush()
                tell(point)
    return tuple(points)


def keep_watch(archive: Archive, begun: Begun, points: Sequence[WatchPoint], limit_um: float, clock: Clock) -> Evidence:
    """Judge what was watched and keep it as evidence of the line."""
    found = watched(
        np.array([point.time_s for point in points]), np.array([point.height_um for point in points]), limit_um
    )
    why = () if found.good else (
        Reason(f"adjust.night_{found.outcome}", {"range_um": found.range_um, "limit_um": limit_um,
               "drift_um_per_h": found.drift_um_per_h, "jump_um": found.jump_um, "hours": found.hours}),
    )  # fmt: skip
    judged = Judged("overnight", found.outcome, found.good, why, {"limit_um": limit_um}, found)
    return keep_at(archive, judged, begun.line.id, None, clock)
