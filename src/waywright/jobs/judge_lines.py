"""Judge what two or more lines say together: in space, twist, squareness, parallelism, segments, shape from angles."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import (
    GuidewayShape,
    JoinedSegments,
    LinkedParallelism,
    Parallelism,
    SpatialStraightness,
    Squareness,
    Straightness,
    Twist,
    heights_from_rotation,
    linked_parallelism,
    parallelism,
    slope_of_line,
    slope_source,
    spatial_straightness,
    square_reversal,
    squareness,
    straightness,
    straightness_by_reference,
    twist,
)
from waywright.evaluate.orientation import axes_of_squareness
from waywright.evaluate.passes import JoinedPasses, Traverse
from waywright.evaluate.results import Reason
from waywright.files import ReadingsTable, read_table
from waywright.jobs.passes_compared import traverse_of
from waywright.jobs.segmented import PartOfLine, joined_parts, whole_line
from waywright.jobs.ties import NO_TIE, Profile, Tie, link_of
from waywright.quantities import code
from waywright.readings import Floats


@dataclass(frozen=True, slots=True, eq=False)
class SpatialResult:
    """Both planes of a line and the smallest cylinder around it; deviations (m,) from its axis."""

    first_code: str
    second_code: str
    passes: int
    position_mm: Floats
    first_deviation_um: Floats
    second_deviation_um: Floats
    result: SpatialStraightness


@dataclass(frozen=True, slots=True, eq=False)
class TwistResult:
    """Roll (m,) along a line and its twist."""

    code: str
    passes: int
    position_mm: Floats
    roll_um_per_m: Floats
    result: Twist


@dataclass(frozen=True, slots=True, eq=False)
class SquarenessResult:
    """Squareness of two lines; with a second set of the square turned over, what is the square's own."""

    result: Squareness
    reference: str
    first: Straightness
    second: Straightness
    artefact_um_per_m: float
    artefact_found_um_per_m: float | None


@dataclass(frozen=True, slots=True, eq=False)
class ParallelismResult:
    """Parallelism of two lines; ``linked`` where their slopes carry uncertainties or a link was measured.

    Subjects are "line" (not said), "axis" or "guideway": a carriage averages over its pads, so they differ.
    """

    code: str
    reference: str
    result: Parallelism
    first: Straightness
    second: Straightness
    linked: LinkedParallelism | None
    first_subject: str = "line"
    second_subject: str = "line"


@dataclass(frozen=True, slots=True, eq=False)
class SegmentsResult:
    """Segments joined to one line, and its straightness about each reference line."""

    code: str
    segments: int
    joined: JoinedSegments
    uncertainty_about_end_points_um: Floats | None
    by_reference: dict[str, float]


@dataclass(frozen=True, slots=True, eq=False)
class GuidewayResult:
    """The shape of a guideway from a rotation, about the reference lines; ``note`` says what it is not."""

    shape: GuidewayShape
    by_reference: dict[str, float]
    note: Reason


def spatial_of_table(file: Path) -> SpatialResult:
    """The two straightness quantities of one axis in a readings table, mean of the passes."""
    table = read_table(file)
    found = [name for name in table.columns if code(name).is_straightness]
    if len(found) != 2 or code(found[0]).axis != code(found[1]).axis:
        raise BadInput("jobs.two_planes", file=str(file), present=", ".join(found) or "-")
    first, second = (profile_of(table, name) for name in found)
    result = spatial_straightness(first.position_mm, first.value, second.value)
    x = first.position_mm
    off = first.value - result.horizontal.at(x), second.value - result.vertical.at(x)
    return SpatialResult(first.code, second.code, first.passes, x, off[0], off[1], result)


def twist_of_table(file: Path, quantity: str | None = None, gauge_mm: float | None = None) -> TwistResult:
    """Twist from the roll in a readings table (the rotation about the axis of motion), mean of the passes."""
    table = read_table(file)
    found = [name for name in table.columns if code(name).is_rotation and _is_roll(name)]
    wanted = _one(quantity, found, file)
    roll = profile_of(table, wanted)
    return TwistResult(wanted, roll.passes, roll.position_mm, roll.value, twist(roll.position_mm, roll.value, gauge_mm))


def squareness_of_tables(
    first: Path,
    second: Path,
    name: str,
    *,
    artefact_um_per_m: float = 0.0,
    turned: tuple[Path, Path] | None = None,
    reference: str = "least-squares",
) -> SquarenessResult:
    """Squareness of two axes, each measured along one arm of a square; ``turned`` are the two with the square over.

    Raises BadInput where a table lacks the straightness that the code of the squareness needs.
    """
    one, two, found = _squareness((first, second), name, artefact_um_per_m, reference)
    if turned is None:
        return SquarenessResult(found, reference, one, two, artefact_um_per_m, None)
    _, _, over = _squareness(turned, name, 0.0, reference)
    parts = square_reversal(found.opening_um_per_m - artefact_um_per_m, over.opening_um_per_m)
    sign = 1.0 if found.first_axis + found.second_axis in "XYZX" else -1.0
    machine = Squareness(
        found.code, found.first_axis, found.second_axis, sign * parts.machine_um_per_m, parts.machine_um_per_m
    )
    return SquarenessResult(machine, reference, one, two, 0.0, float(parts.artefact_um_per_m))


def parallelism_of_tables(
    first: Path,
    second: Path,
    quantity: str | None = None,
    *,
    tie: Tie = NO_TIE,
    reference: str = "least-squares",
    subjects: tuple[str, str] = ("line", "line"),
) -> ParallelismResult:
    """Parallelism of two lines along one axis, in one direction.

    ``tie`` is what links the two: a bridge with an indicator, a level set on both, or one beam for both. Raises
    BadInput for tables without a quantity in common.
    """
    tables = read_table(first), read_table(second)
    common = [name for name in tables[0].columns if name in tables[1].columns and code(name).is_straightness]
    wanted = _one(quantity, common, first)
    one, two = (profile_of(table, wanted) for table in tables)
    lines = [straightness(each.position_mm, each.value, reference) for each in (one, two)]
    link = link_of(tie, one, two)
    linked = None
    if link is not None:
        slopes = [slope_of_line(each.position_mm, each.value, each.variance) for each in (one, two)]
        linked = linked_parallelism(slopes[0], slopes[1], link)
    found = parallelism(lines[0], lines[1])
    return ParallelismResult(wanted, reference, found, lines[0], lines[1], linked, *subjects)


def segments_of_tables(files: Sequence[Path], quantity: str | None = None) -> SegmentsResult:
    """One line measured in segments, one readings table each, the first giving the frame."""
    tables = [read_table(file) for file in files]
    common = [name for name in tables[0].columns if all(name in table.columns for table in tables)]
    wanted = _one(quantity, [name for name in common if code(name).is_straightness], files[0])
    parts = [PartOfLine(k, _traverses(table, wanted)) for k, table in enumerate(tables, start=1)]
    joined = whole_line(parts)
    about = joined.covariance_about_end_points_um2()
    values = straightness_by_reference(joined.position_mm, joined.value_um)
    spread = None if about is None else np.sqrt(np.diag(about).clip(min=0.0))
    return SegmentsResult(wanted, len(files), joined, spread, {name: one.value_um for name, one in values.items()})


def guideway_of_table(file: Path, quantity: str, sense: int = 1) -> GuidewayResult:
    """Shape of the guideway in the direction of a straightness, from the rotation that goes with it."""
    table = read_table(file)
    rotation, _ = slope_source(quantity)
    angles = profile_of(table, _one(rotation, [name for name in table.columns if code(name).is_rotation], file))
    shape = heights_from_rotation(quantity, angles.position_mm, angles.value, sense=sense)
    values = straightness_by_reference(shape.position_mm, shape.height_um)
    return GuidewayResult(shape, {name: one.value_um for name, one in values.items()}, shape.reason)


def profile_of(table: ReadingsTable, name: str) -> Profile:
    """The mean of the passes at common stations."""
    passes = _traverses(table, name)
    joined = joined_parts([PartOfLine(1, passes)])
    spreads = [one.standard_deviation for one in passes]
    known = [float(np.mean(np.square(np.asarray(sd)))) for sd in spreads if sd is not None]
    usable = len(known) == len(passes) and all(np.isfinite(known)) and all(value > 0.0 for value in known)
    return Profile(name, len(passes), joined.position_mm, joined.mean, sum(known) / len(known) ** 2 if usable else None)


def joined_of(table: ReadingsTable, name: str) -> tuple[JoinedPasses, tuple[str, ...]]:
    """The passes of a table at common stations, and their directions."""
    passes = _traverses(table, name)
    return joined_parts([PartOfLine(1, passes)]), tuple(one.direction for one in passes)


def _traverses(table: ReadingsTable, name: str) -> tuple[Traverse, ...]:
    return tuple(traverse_of(single, name) for single in table.passes())


def _one(wanted: str | None, present: Sequence[str], file: Path) -> str:
    """The wanted quantity, or the only one there is."""
    if wanted is None and len(present) == 1:
        return present[0]
    if wanted is None or code(wanted).text not in present:
        shown = ", ".join(present) or "-"
        raise BadInput("jobs.which_quantity", wanted=wanted or "-", file=str(file), present=shown)
    return code(wanted).text


def _is_roll(name: str) -> bool:
    found = code(name)
    return found.is_rotation and found.direction == found.axis


def _squareness(
    files: tuple[Path, Path], name: str, artefact_um_per_m: float, reference: str
) -> tuple[Straightness, Straightness, Squareness]:
    """Lines and squareness; which column of which table is meant follows from the code."""
    axes = axes_of_squareness(name)
    lines = []
    for file, (along, across) in zip(files, (axes, axes[::-1]), strict=True):
        table = read_table(file)
        profile = profile_of(table, _one(f"E{across}{along}", list(table.columns), file))
        lines.append(straightness(profile.position_mm, profile.value, reference))
    return lines[0], lines[1], squareness(lines[0], lines[1], name, artefact_um_per_m)
