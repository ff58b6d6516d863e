"""What a kept line tells the tests of its set-up: bow, effort, alignment, steadiness; nothing is typed twice."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from waywright.archive import Archive
from waywright.capture import error_of
from waywright.errors import BadInput
from waywright.evaluate.drift import estimate_drift
from waywright.evaluate.least_squares import fit
from waywright.guard import Circumstances, Figure, Standstill, Wish
from waywright.jobs.guard_gates import gradient_k_per_m
from waywright.jobs.measured import MeasuredLine, MeasuredPass, joined, measured_line, on_screen, traverses
from waywright.jobs.screening import tests_of, tolerance_um
from waywright.jobs.trust import source_distance_m
from waywright.quantities import Direction, code
from waywright.readings import Floats, Reading
from waywright.visit import Evidence, Line

THERMOMETERS_K = 0.1 * math.sqrt(2.0)
"""Standard uncertainty of the difference of two thermometers that say nothing of their own; common practice."""
_HEIGHTS_APART_M = 0.5
_LONG_S = 20.0
_VERTICAL = (Direction.UP, Direction.DOWN)


@dataclass(frozen=True, slots=True)
class SeenBow:
    """A bow as a kept line shows it: the parabola in the mean of its passes, hump positive, with its standard error."""

    bow_um: float
    error_um: float
    length_m: float
    tolerance_um: float | None
    circumstances: Circumstances


def seen_bow(archive: Archive, line: Line, quantity: str | None = None) -> SeenBow:
    """Bow and circumstances of a straightness quantity (the first without a code) of a kept line.

    Temperatures come from its passes ("bed top", "bed foot"), the gradient from its kept test of the air, the drift
    from passes of one direction, the detector's error from its kept alignment; what is not recorded stays unknown.
    """
    measured = measured_line(archive, line)
    name = _quantity(measured, quantity)
    mean = joined(measured, name)
    x = mean.position_mm
    place = (x - x.mean()) / (np.ptp(x) / 2.0)
    parabola = fit(np.vander(place, 3), mean.mean)
    tests = tests_of(archive, line)
    vertical = _column(measured.passes[0], name).on_screen in _VERTICAL
    bed = measured.machine.bed
    around = Circumstances(
        vertical=vertical,
        height_m=bed.height_mm / 1000.0 if bed is not None and bed.height_mm is not None else None,
        top_minus_foot_k=_top_minus_foot(measured),
        gradient_k_per_m=_gradient(tests),
        drift_um_per_m=_drift_um_per_m(measured, name),
        nonlinearity_um=_nonlinearity(tests),
    )
    error = float(parabola.standard_error[0])
    length_m = float(np.ptp(x)) / 1000.0
    return SeenBow(-float(parabola.coefficient[0]), error, length_m, tolerance_um(archive, line), around)


def _quantity(measured: MeasuredLine, wanted: str | None) -> str:
    known = [name for name in measured.codes() if code(name).is_straightness]
    if not known:
        raise BadInput("jobs.no_readings", line=measured.line.name)
    if wanted is not None and wanted not in known:
        raise BadInput("jobs.quantity_not_measured", quantity=wanted, line=measured.line.name)
    return wanted or known[0]


def _top_minus_foot(measured: MeasuredLine) -> Figure | None:
    found = []
    for single in measured.passes:
        places = {item.place.lower(): item.value_degc for item in single.taken.conditions.temperatures}
        top = [value for place, value in places.items() if "bed" in place and "top" in place]
        foot = [value for place, value in places.items() if "bed" in place and "foot" in place]
        if top and foot:
            found.append(float(np.mean(top) - np.mean(foot)))
    return Figure(float(np.mean(found)), THERMOMETERS_K) if found else None


def _gradient(tests: list[Evidence]) -> Figure | None:
    gradient = gradient_k_per_m(tests)
    return None if gradient is None else Figure(gradient, THERMOMETERS_K / _HEIGHTS_APART_M)


def _nonlinearity(tests: list[Evidence]) -> Figure | None:
    """What the newest kept alignment says that the detector's error adds over the excursion."""
    alignments = [item.figures for item in tests if item.test == "alignment"]
    told = [each.get("error_um") for each in alignments[-1].values() if isinstance(each, Mapping)] if alignments else []
    known = [float(value) for value in told if value is not None]
    return Figure(max(known), 0.0) if known else None


def _drift_um_per_m(measured: MeasuredLine, name: str) -> Figure | None:
    """Turn of the angle during one pass away from the source that bends the mean of the passes as much as all of them.

    Passes away from the source count once, passes towards it the other way; None where the drift cannot be told.
    """
    passes = [single for _, single in traverses(measured, name)]
    found = estimate_drift(passes)
    if not found.separable or not np.isfinite(found.covariance).all():
        return None
    turns = [_away(measured, one) * _hours(one) for one in measured.passes]
    share = float(np.mean(turns))
    return Figure(share * float(found.angle_per_h), abs(share) * math.sqrt(float(found.covariance[1, 1])))


def _away(measured: MeasuredLine, single: MeasuredPass) -> int:
    """+1 for a pass away from the source, otherwise -1; the smallest position is nearest where nothing is recorded."""
    first, last = (_distance_m(measured, single, place) for place in single.profile.position_mm[[0, -1]])
    return 1 if last >= first else -1


def _hours(single: MeasuredPass) -> float:
    return (single.readings[-1].began_utc - single.readings[0].began_utc).total_seconds() / 3600.0


def _distance_m(measured: MeasuredLine, single: MeasuredPass, position_mm: float) -> float:
    found = source_distance_m(measured.machine, single.setup, float(position_mm))
    return float(position_mm) / 1000.0 if found is None else found


def wish_of(archive: Archive, line: Line, told: Mapping[str, Any]) -> Wish:
    """What is wished of a kept line; ``told`` fields go before what is recorded.

    Travel from the line, supports from the machine, scatter, memory of the air and longest pass from its newest kept
    steadiness record, tolerance from plan or tests. Raises BadInput naming what is neither told nor recorded.
    """
    measured = measured_line(archive, line)
    known: dict[str, Any] = {
        "from_mm": line.from_mm,
        "to_mm": line.to_mm,
        "tolerance_um": tolerance_um(archive, line),
        "supports_mm": _supports_mm(measured, archive),
        **_steadiness(tests_of(archive, line)),
    }
    facts = known | {name: value for name, value in told.items() if value not in (None, ())}
    for needed in ("from_mm", "to_mm", "tolerance_um", "scatter_um", "correlation_s"):
        if facts.get(needed) is None:
            raise BadInput("guard_kept.not_recorded", name=needed.replace("_", "-"), line=line.name)
    low, high = sorted((float(facts["from_mm"]), float(facts["to_mm"])))
    facts |= {"from_mm": low, "to_mm": high}
    return Wish(**{name: value for name, value in facts.items() if value is not None})


def _steadiness(tests: list[Evidence]) -> dict[str, float | None]:
    records = [item.figures for item in tests if item.test == "steadiness"]
    if not records:
        return {}
    channels = [each for each in records[-1].values() if isinstance(each, Mapping) and "far" in each]
    passes = [each["sure_pass_s"] for each in channels if each.get("sure_pass_s") is not None]
    return {
        "scatter_um": max((each["far"]["scatter_um"] for each in channels), default=None),
        "correlation_s": max((each["correlation_s"] for each in channels), default=None),
        "longest_pass_s": min(passes, default=None),
    }


def _supports_mm(measured: MeasuredLine, archive: Archive) -> tuple[float, ...]:
    """The supports as positions of the line; none where its zero is not tied to a mark."""
    setups = archive.setups(measured.line.id)
    zero = setups[-1].zero if setups else None
    mark = next((item for item in measured.machine.marks if zero and item.name == zero.mark), None)
    if zero is None or mark is None or measured.machine.bed is None:
        return ()
    start_mm = mark.bed_mm + zero.offset_mm
    return tuple(sorted({zero.sense * (each.bed_mm - start_mm) for each in measured.machine.bed.supports}))


def alignment_columns(archive: Archive, line: Line) -> tuple[dict[str, Floats], float]:
    """Distances and readings of the newest pass by direction, as the screen counts them, and their standard error."""
    measured = measured_line(archive, line)
    single = _newest(measured)
    distance = np.array([_distance_m(measured, single, place) for place in single.profile.position_mm])
    names = [column.code.text for column in single.profile.columns if column.code.is_straightness]
    columns: dict[str, Floats] = {"distance_m": distance}
    columns |= {f"{name}_um": on_screen(single, name) for name in names}
    readings = archive.readings(single.taken.id, with_window=True)
    errors = [error_of(one, value.channel) for one in readings for value in one.values if value.channel.endswith("_um")]
    return columns, float(np.median(errors)) if errors else 0.0


def standstills(archive: Archive, line: Line) -> dict[str, tuple[Standstill, Standstill]]:
    """The long readings nearest to the source and farthest from it, with all their samples, by channel.

    Raises BadInput unless the line has two readings of twenty seconds or more at different places.
    """
    measured = measured_line(archive, line)
    long = []
    for single in measured.passes:
        for reading in archive.readings(single.taken.id, with_window=True):
            if (reading.ended_utc - reading.began_utc).total_seconds() >= _LONG_S:
                position = _position(single, reading)
                long.append((_distance_m(measured, single, position), reading))
    long.sort(key=lambda pair: pair[0])
    if len(long) < 2 or not long[-1][0] > long[0][0]:
        raise BadInput("guard_kept.no_standstill", line=line.name, least_s=_LONG_S)
    near, far = (dict(_recordings(*pair)) for pair in (long[0], long[-1]))
    return {name: (near[name], far[name]) for name in near if name in far}


def _recordings(distance_m: float, reading: Reading) -> list[tuple[str, Standstill]]:
    found = []
    for trace in reading.window:
        if trace.channel.endswith("_um") and trace.time_s.size > 1:
            spacing = float(np.median(np.diff(trace.time_s)))
            at = np.rint((trace.time_s - trace.time_s[0]) / spacing).astype(int)
            even = np.full(int(at[-1]) + 1, np.nan)
            even[at] = trace.value
            found.append((trace.channel, Standstill(distance_m, spacing, even)))
    return found


def _position(single: MeasuredPass, reading: Reading) -> float:
    meaning = single.interpretation
    if meaning is None:
        return reading.position_mm
    return meaning.position_sense * (reading.position_mm - meaning.position_offset_mm)


def _newest(measured: MeasuredLine) -> MeasuredPass:
    if not measured.passes:
        raise BadInput("jobs.no_readings", line=measured.line.name)
    return measured.passes[-1]


def _column(single: MeasuredPass, name: str) -> Any:
    return single.profile.column(name)


def told_bow(seen: SeenBow, told: Mapping[str, Any]) -> Circumstances:
    """The circumstances of a kept line with what was told instead of what is recorded."""
    return replace(seen.circumstances, **{name: value for name, value in told.items() if value is not None})
