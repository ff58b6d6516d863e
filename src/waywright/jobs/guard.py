"""Guard: can this set-up be trusted today? Each verb judges, and keeps the evidence where it is told to."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.files.table_text import LARGEST_BYTES
from waywright.guard import (
    Adjuster,
    Advice,
    Air,
    AirSensitivity,
    Alignment,
    BeamBend,
    Belief,
    BowChallenge,
    Circumstances,
    Detector,
    DirectionTest,
    Effort,
    KnownMove,
    Linearity,
    Outcome,
    Ready,
    Standstill,
    Steadiness,
    Wish,
    alignment,
    beam_bend,
    bed_bow_um,
    challenge_bow,
    direction_test,
    earth_bow_um,
    motion_text,
    plan_effort,
    pressure_bow_um,
    refractivity,
    sensitivity,
    steadiness,
)
from waywright.jobs.evidence import Judged, Keep, keep
from waywright.quantities import Direction
from waywright.readings import Floats


@dataclass(frozen=True, slots=True)
class AirFigures:
    """Air and what it does to a beam; ``bed_bow_um`` where the bed's height and temperatures are given."""

    air: Air
    refractivity_1e6: float
    sensitivity: AirSensitivity
    bend: BeamBend
    pressure_bow_um: float
    earth_bow_um: float
    bed_bow_um: float | None


@dataclass(frozen=True, slots=True)
class EffortWithText:
    """The effort, and the text for the operator."""

    effort: Effort
    motion: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """What an alignment is judged by; see :func:`waywright.guard.alignment`."""

    range_um: tuple[float, float]
    tolerance_um: float
    smallest_um: float | None = None
    error_um: float = 0.0
    linearity: Linearity | None = None
    adjuster: Adjuster | None = None


def direction(
    moves: Sequence[KnownMove], channels: tuple[Direction, Direction], where: Keep | None = None
) -> DirectionTest:
    """The direction test."""
    found = direction_test(moves, channels)
    inputs = {"moves": list(moves), "channels": list(channels)}
    judged = Judged("direction", found.outcome.value, found.outcome is Outcome.PASSED, found.why, inputs, found)
    _kept(judged, where)
    return found


def align(
    file: Path, wanted: Wanted, *, linearity: Path | None = None, where: Keep | None = None
) -> dict[str, Alignment]:
    """Every direction of a table ``distance_m,height_um,side_um`` (one of the two is enough)."""
    return aligned(read_columns(file, "distance_m"), with_linearity(wanted, linearity), where)


def with_linearity(wanted: Wanted, file: Path | None) -> Wanted:
    """The detector with its linearity table ``reading_um,error_um``, where there is a file."""
    return wanted if file is None else replace(wanted, linearity=_linearity(file))


def aligned(columns: Mapping[str, Floats], wanted: Wanted, where: Keep | None = None) -> dict[str, Alignment]:
    """Every direction of readings (n,) by name at ``distance_m`` (n,)."""
    found = {
        name: alignment(
            columns["distance_m"],
            values,
            detector=Detector(wanted.range_um, wanted.linearity),
            tolerance_um=wanted.tolerance_um,
            smallest_um=wanted.smallest_um,
            error_um=wanted.error_um,
            adjuster=wanted.adjuster,
        )
        for name, values in columns.items()
        if name != "distance_m"
    }
    good = all(one.ready is Ready.GOOD_ENOUGH for one in found.values())
    why = tuple(one.why for one in found.values())
    outcome = Ready.GOOD_ENOUGH if good else Ready.ALIGN
    inputs = {"readings": columns, "range_um": wanted.range_um, "tolerance_um": wanted.tolerance_um}
    _kept(Judged("alignment", outcome.value, good, why, inputs, found), where)
    return found


def steady(
    near: tuple[Path, float],
    far: tuple[Path, float],
    *,
    tolerance_um: float,
    wished_um: float,
    pass_s: float,
    where: Keep | None = None,
) -> dict[str, Steadiness]:
    """Every channel that both recordings have (tables ``time_s,height_um,...``), each file with its distance in m."""
    a, b = read_columns(near[0], "time_s"), read_columns(far[0], "time_s")
    channels = [name for name in a if name in b and name != "time_s"]
    if not channels:
        raise BadInput("guard.no_common_channel", near=str(near[0]), far=str(far[0]))
    recordings = {
        name: (
            Standstill(near[1], _spacing_s(a["time_s"], near[0]), a[name]),
            Standstill(far[1], _spacing_s(b["time_s"], far[0]), b[name]),
        )
        for name in channels
    }
    return steadied(recordings, tolerance_um=tolerance_um, wished_um=wished_um, pass_s=pass_s, where=where)


def steadied(
    recordings: Mapping[str, tuple[Standstill, Standstill]],
    *,
    tolerance_um: float,
    wished_um: float,
    pass_s: float,
    where: Keep | None = None,
) -> dict[str, Steadiness]:
    """Recordings near and far, by channel."""
    wish = {"tolerance_um": tolerance_um, "wished_um": wished_um, "pass_s": pass_s}
    found = {name: steadiness(near, far, **wish) for name, (near, far) in recordings.items()}
    worst = max((one.advice for one in found.values()), key=list(Advice).index)
    first = next(iter(recordings.values()))
    inputs = {"near_m": first[0].distance_m, "far_m": first[1].distance_m, **wish}
    why = tuple(one.why for one in found.values())
    _kept(Judged("steadiness", worst.value, worst is Advice.USE, why, inputs, found), where)
    return found


def air_figures(
    air: Air,
    length_m: float,
    gradient_k_per_m: float,
    *,
    height_m: float | None = None,
    top_minus_foot_k: float = 0.0,
    where: Keep | None = None,
) -> AirFigures:
    """Refractivity, bend of the beam, and the bow of a warm bed."""
    bed = None if height_m is None else bed_bow_um(length_m, height_m, top_minus_foot_k)
    bend = beam_bend(length_m, gradient_k_per_m, air)
    found = AirFigures(
        air, refractivity(air), sensitivity(air), bend, pressure_bow_um(length_m, air), earth_bow_um(length_m), bed
    )
    inputs = {"length_m": length_m, "gradient_k_per_m": gradient_k_per_m, "top_minus_foot_k": top_minus_foot_k}
    _kept(Judged("air", "recorded", True, (), inputs, found), where)
    return found


def bow(
    bow_um: float,
    length_m: float,
    *,
    tolerance_um: float,
    error_um: float,
    circumstances: Circumstances,
    where: Keep | None = None,
) -> BowChallenge:
    """The bow challenge."""
    found = challenge_bow(bow_um, length_m, tolerance_um=tolerance_um, error_um=error_um, circumstances=circumstances)
    inputs = {"bow_um": bow_um, "length_m": length_m, "tolerance_um": tolerance_um, "circumstances": circumstances}
    good = found.belief is Belief.BELIEVE
    _kept(Judged("bow", found.belief.value, good, (found.why,), inputs, found), where)
    return found


def effort(wish: Wish, axis: str, where: Keep | None = None) -> EffortWithText:
    """How many points, how long, and the step-and-dwell text."""
    found = plan_effort(wish)
    motion = motion_text(
        axis, found.stations_mm, dwell_s=found.dwell_s, passes=found.passes, feed_mm_per_min=wish.feed_mm_per_min
    )
    outcome = "reached" if found.reaches else "not-reached"
    _kept(Judged("effort", outcome, found.reaches, found.why, {"wish": wish, "axis": axis}, found), where)
    return EffortWithText(found, motion)


_SHOWN = 200


def read_columns(file: Path, first: str) -> dict[str, Floats]:
    """Columns of a table with a header, ``first`` among them; empty cells are NaN (a lost beam).

    Raises BadInput for a file that cannot be read, a missing column or a cell that is no number.
    """
    try:
        with file.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
        if len(data) > LARGEST_BYTES:
            raise BadInput("files.table_too_large", file=str(file), limit_mb=LARGEST_BYTES / 1e6)
        rows = list(csv.reader(data.decode("utf-8-sig").splitlines()))
    except (OSError, UnicodeDecodeError, csv.Error) as problem:
        raise BadInput("guard.unreadable", file=str(file), problem=str(problem)) from problem
    rows = [row for row in rows if row and not row[0].startswith("#")]
    header = [name.strip() for name in rows[0]] if rows else []
    if first not in header or len(header) < 2:
        raise BadInput("guard.column_missing", file=str(file), column=first, found=", ".join(header)[:_SHOWN] or "-")
    columns: dict[str, list[float]] = {name: [] for name in header}
    for number, row in enumerate(rows[1:], start=2):
        if len(row) != len(header):
            raise BadInput("guard.bad_row", file=str(file), row=number, cells=len(row), columns=len(header))
        for name, cell in zip(header, row, strict=True):
            columns[name].append(_number(cell, file, number))
    return {name: np.array(values) for name, values in columns.items()}


def _number(cell: str, file: Path, row: int) -> float:
    try:
        return float(cell) if cell.strip() else float("nan")
    except ValueError as problem:
        raise BadInput("guard.bad_cell", file=str(file), row=row, cell=cell[:40]) from problem


def _spacing_s(time_s: Floats, file: Path) -> float:
    """Even spacing of a recording. Raises BadInput where it is not."""
    steps = np.diff(time_s)
    spacing = float(np.median(steps)) if steps.size else 0.0
    if not spacing > 0.0 or float(np.abs(steps - spacing).max()) > 0.5 * spacing:
        raise BadInput("guard.uneven", file=str(file), spacing_s=spacing)
    return spacing


def _linearity(file: Path) -> Linearity:
    columns = read_columns(file, "reading_um")
    if "error_um" not in columns:
        raise BadInput("guard.column_missing", file=str(file), column="error_um", found=", ".join(columns))
    return Linearity(tuple(columns["reading_um"].tolist()), tuple(columns["error_um"].tolist()))


def _kept(judged: Judged, where: Keep | None) -> None:
    if where is not None:
        keep(judged, where)
