"""How many points, how long? From length, supports, tolerance and steadiness to stations, passes and minutes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from waywright.errors import BadInput
from waywright.evaluate.results import Reason
from waywright.guard.rules import (
    FEWEST_STEPS,
    LONGEST_AVERAGING_S,
    PASSES_EACH_WAY,
    REDUCED_FEED,
    SETTLE_S,
    STATIONS_PER_SPACING,
    STATIONS_PER_WINDOW,
    UNCERTAINTY_SHARE,
    Rule,
)

MOST_PASSES = 10
_ROUND_MM = 5.0
_MERGE = 0.25  # of the step: a station so near to a support moves over it


class Limit(StrEnum):
    """What decides the effort."""

    SUPPORTS = "supports"
    LOCAL = "local-window"
    TRAVEL = "travel"
    SCATTER = "scatter"
    DRIFT = "drift"


@dataclass(frozen=True, slots=True)
class Wish:
    """What is measured and how well.

    Positions ``from_mm`` to ``to_mm`` of the axis; ``supports_mm`` as positions of the same axis. ``uncertainty_um`` is
    the standard uncertainty wished for a station's mean over all passes (a fifth of the tolerance over two, if not
    told). ``scatter_um`` of one sample and ``correlation_s`` come from the steadiness record, ``longest_pass_s`` too.
    """

    from_mm: float
    to_mm: float
    tolerance_um: float
    scatter_um: float
    correlation_s: float
    supports_mm: tuple[float, ...] = ()
    window_mm: float | None = None
    uncertainty_um: float | None = None
    longest_pass_s: float = math.inf
    feed_mm_per_min: float = REDUCED_FEED.value


@dataclass(frozen=True, slots=True)
class Effort:
    """The plan. ``stations_mm`` ascend; ``passes`` are taken forward and backward in turn.

    ``reached_um`` is the standard uncertainty of a station's mean (scatter only), ``pass_s`` how long one pass takes,
    ``total_s`` all of them. ``limited_by`` says what sets the number of stations, then what sets the time.
    """

    stations_mm: tuple[float, ...]
    step_mm: float
    passes: int
    averaging_s: float
    dwell_s: float
    pass_s: float
    total_s: float
    wished_um: float
    reached_um: float
    reaches: bool
    limited_by: tuple[Limit, ...]
    why: tuple[Reason, ...]
    rules: tuple[Rule, ...]


def plan_effort(wish: Wish) -> Effort:
    """Stations, passes, averaging time and duration. Raises BadInput for lengths or figures that are not positive."""
    _check(wish)
    step, by = _step(wish)
    stations = _stations(wish, step)
    wished = wish.uncertainty_um or UNCERTAINTY_SHARE.value * wish.tolerance_um / 2.0
    passes, averaging = _passes_and_averaging(wish, wished, len(stations))
    reached = wish.scatter_um * math.sqrt(2.0 * wish.correlation_s / averaging / passes)
    dwell = averaging + SETTLE_S.value
    pass_s = _pass_s(wish, len(stations), averaging)
    drifts = pass_s > wish.longest_pass_s
    reaches = reached <= wished * (1.0 + 1e-9) and not drifts
    limits = [by, *([Limit.DRIFT] if drifts else []), *([Limit.SCATTER] if reached > wished * (1.0 + 1e-9) else [])]
    return Effort(
        stations_mm=stations, step_mm=step, passes=passes, averaging_s=averaging, dwell_s=dwell, pass_s=pass_s,
        total_s=passes * pass_s, wished_um=wished, reached_um=reached, reaches=reaches, limited_by=tuple(limits),
        why=_why(wish, by, len(stations), step, pass_s, wished, reached, drifts),
        rules=(STATIONS_PER_SPACING, STATIONS_PER_WINDOW, FEWEST_STEPS, PASSES_EACH_WAY, UNCERTAINTY_SHARE,
               LONGEST_AVERAGING_S, SETTLE_S, REDUCED_FEED),
    )  # fmt: skip


def _check(wish: Wish) -> None:
    if not wish.to_mm > wish.from_mm:
        raise BadInput("guard.plan_no_length", from_mm=wish.from_mm, to_mm=wish.to_mm)
    positive = {"tolerance_um": wish.tolerance_um, "scatter_um": wish.scatter_um, "correlation_s": wish.correlation_s,
                "feed_mm_per_min": wish.feed_mm_per_min, "longest_pass_s": wish.longest_pass_s}  # fmt: skip
    for optional in ("window_mm", "uncertainty_um"):
        if getattr(wish, optional) is not None:
            positive[optional] = getattr(wish, optional)
    for name, value in positive.items():
        if not value > 0.0:
            raise BadInput("guard.not_positive", name=name, value=value)


def _step(wish: Wish) -> tuple[float, Limit]:
    """The largest step that every rule allows, and which rule it is."""
    candidates = {Limit.TRAVEL: (wish.to_mm - wish.from_mm) / FEWEST_STEPS.value}
    places = sorted({place for place in wish.supports_mm if wish.from_mm <= place <= wish.to_mm})
    gaps = [b - a for a, b in pairwise(places) if b - a > _ROUND_MM]
    if gaps:
        candidates[Limit.SUPPORTS] = min(gaps) / STATIONS_PER_SPACING.value
    if wish.window_mm is not None:
        candidates[Limit.LOCAL] = wish.window_mm / STATIONS_PER_WINDOW.value
    by = min(candidates, key=lambda limit: candidates[limit])
    return candidates[by], by


def _stations(wish: Wish, step: float) -> tuple[float, ...]:
    """Both ends, one over each support, and between these as many equal steps as the largest step needs."""
    inside = sorted(place for place in wish.supports_mm if wish.from_mm < place < wish.to_mm)
    fixed = [wish.from_mm]
    for place in inside:
        if place - fixed[-1] > _MERGE * step and wish.to_mm - place > _MERGE * step:
            fixed.append(place)
    fixed.append(wish.to_mm)
    found = [wish.from_mm]
    for a, b in pairwise(fixed):
        parts = max(1, math.ceil((b - a) / step - 1e-9))
        found += [round(a + (b - a) * k / parts, 1) for k in range(1, parts)] + [b]
    return tuple(found)


def _passes_and_averaging(wish: Wish, wished: float, stations: int) -> tuple[int, float]:
    """The fewest pairs of passes for which averaging is short enough, for patience and for drift."""
    fewest = 2 * int(PASSES_EACH_WAY.value)
    averaging = shortest = 0.0
    for passes in range(fewest, MOST_PASSES + 1, 2):
        averaging = max(1.0, 2.0 * wish.correlation_s * wish.scatter_um**2 / (passes * wished**2))
        shortest = min(averaging, LONGEST_AVERAGING_S.value)
        if averaging <= LONGEST_AVERAGING_S.value and _pass_s(wish, stations, averaging) <= wish.longest_pass_s:
            return passes, averaging
    return MOST_PASSES, shortest


def _pass_s(wish: Wish, stations: int, averaging: float) -> float:
    travel = (wish.to_mm - wish.from_mm) / wish.feed_mm_per_min * 60.0
    return travel + stations * (averaging + SETTLE_S.value)


def _why(
    wish: Wish, by: Limit, stations: int, step: float, pass_s: float, wished: float, reached: float, drifts: bool
) -> tuple[Reason, ...]:  # fmt: skip
    facts = {"stations": stations, "step_mm": step, "pass_min": pass_s / 60.0, "longest_min": wish.longest_pass_s / 60,
             "wished_um": wished, "reached_um": reached}  # fmt: skip
    why = [Reason(f"guard.plan_by_{by.value}", facts)]
    if drifts:
        why.append(Reason("guard.plan_drift", facts))
    if reached > wished * (1.0 + 1e-9):
        why.append(Reason("guard.plan_scatter", facts))
    return tuple(why)


def motion_text(
    axis: str,
    stations_mm: Sequence[float],
    *,
    dwell_s: float,
    passes: int,
    feed_mm_per_min: float,
    overrun_mm: float = 20.0,
) -> str:
    """Step-and-dwell text for the operator in the words of ISO 6983-1 (G90, G01 with F, G04 with X, M00, M30).

    Every station is approached from the direction of the pass: before its first station the axis overruns by
    ``overrun_mm``. It only says what to run: it moves nothing by itself, and its first lines say to check it. Raises
    BadInput for an axis that is no letter of ISO 841 or stations that do not ascend.
    """
    if len(axis) != 1 or axis not in "XYZUVW":
        raise BadInput("guard.plan_axis", axis=axis)
    ascending = all(b > a for a, b in pairwise(stations_mm))
    if len(stations_mm) < 2 or not ascending:
        raise BadInput("guard.plan_stations", stations=len(stations_mm))
    lines = [
        "%",
        "(CHECK BEFORE RUN: WAY CLEAR, OTHER AXES AND CLAMPS AS AGREED, NOBODY ON THE BED OR IN THE BEAM)",
        "(SINGLE BLOCK FIRST, REDUCED FEED, HAND ON FEED HOLD. POSITIONS IN MM, DWELL X IN SECONDS)",
        "(CHECK THAT YOUR CONTROL READS G04 X AS SECONDS AND THAT THE OVERRUN STAYS WITHIN THE TRAVEL)",
        "G90 G94 G21",
    ]
    for number in range(1, passes + 1):
        forward = number % 2 == 1
        way = list(stations_mm) if forward else list(stations_mm)[::-1]
        start = way[0] - overrun_mm if forward else way[0] + overrun_mm
        lines.append(f"(PASS {number} {'FORWARD' if forward else 'BACKWARD'}, {len(way)} STATIONS)")
        lines.append(f"G01 {axis}{start:.3f} F{feed_mm_per_min:.0f}")
        lines += [line for place in way for line in (f"G01 {axis}{place:.3f}", f"G04 X{dwell_s:.1f}")]
        lines.append("M00" if number < passes else "M30")
    numbered = [f"N{10 * k} {line}" if line[0] in "GM" else line for k, line in enumerate(lines, start=1)]
    return "\n".join([*numbered, "%"]) + "\n"
