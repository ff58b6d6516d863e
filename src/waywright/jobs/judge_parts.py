"""Judge from tables what belongs to single parts: functional point, ram, roll by two lines, joint, ways, spindle."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import (
    AtFunctionalPoint,
    LevelPlaces,
    Material,
    RamDroop,
    RollFromLines,
    Separated,
    SpindleToAxis,
    TwoWays,
    at_functional_point,
    cantilever_sag_um,
    level_places,
    offset_along_axes,
    ram_droop,
    rectangle,
    roll_from_lines,
    round_bar,
    spindle_to_axis,
    straightedge_reversal,
    straightedge_sag_um,
    straightness_by_reference,
    two_ways,
)
from waywright.evaluate.gravity import STEEL
from waywright.files import read_table
from waywright.files.named_table import Wanted, read_named
from waywright.jobs.basis import axes_of
from waywright.jobs.judge_lines import profile_of
from waywright.jobs.two_lines import at_common, tie_of_bridge
from waywright.quantities import Direction, Kind, code, iso_sign
from waywright.readings import Floats

RAM = (Wanted("extension", Kind.POSITION), Wanted("off", Kind.DISPLACEMENT), Wanted("on", Kind.DISPLACEMENT))
SPINDLE = (
    Wanted("position", Kind.POSITION), Wanted("at_0", Kind.DISPLACEMENT), Wanted("at_180", Kind.DISPLACEMENT),
    Wanted("mandrel_sag", Kind.DISPLACEMENT, False), Wanted("holder_sag", Kind.DISPLACEMENT, False),
)  # fmt: skip
STRAIGHTEDGE = (
    Wanted("position", Kind.POSITION), Wanted("normal", Kind.DISPLACEMENT), Wanted("turned", Kind.DISPLACEMENT),
    Wanted("sd_normal", Kind.DISPLACEMENT, False), Wanted("sd_turned", Kind.DISPLACEMENT, False),
)  # fmt: skip
Offset = tuple[float, float, float]


@dataclass(frozen=True, slots=True, eq=False)
class FunctionalPointResult:
    """One straightness or positioning carried to the functional point; ``level`` where the table says how axes lie."""

    code: str
    passes: int
    result: AtFunctionalPoint
    by_reference: dict[str, float]
    as_read_by_reference: dict[str, float]
    level: LevelPlaces | None


@dataclass(frozen=True, slots=True, eq=False)
class RamResult:
    """Ram droop with the weight compensation off and on."""

    result: RamDroop


@dataclass(frozen=True, slots=True, eq=False)
class RollResult:
    """Roll from two straightness lines at common stations; ``total_um_per_m`` is its largest minus its smallest."""

    code: str
    result: RollFromLines
    total_um_per_m: float
    first_um: Floats
    second_um: Floats


@dataclass(frozen=True, slots=True, eq=False)
class WaysResult:
    """Two ways together; ``link_um_per_m`` is the direction of the second that a bridge added, None without one.

    ``positive`` is "up" where the tables say how the axes lie: heights are then turned so; None keeps the ISO sign.
    """

    height_code: str
    side_code: str | None
    result: TwoWays
    link_um_per_m: float | None
    positive: str | None


@dataclass(frozen=True, slots=True, eq=False)
class SpindleResult:
    """Spindle to axis by a mandrel."""

    result: SpindleToAxis


@dataclass(frozen=True, slots=True, eq=False)
class StraightedgeResult:
    """Machine and straightedge told apart; values about each reference line for both.

    ``sag_share`` is the standard uncertainty of the sag as a share of it.
    """

    result: Separated
    by_reference: dict[str, float]
    straightedge_by_reference: dict[str, float]
    sag_taken_out: bool
    sag_share: float


def functional_point_of_table(
    file: Path, offset_mm: Offset, *, as_seen: bool = False, quantity: str | None = None
) -> tuple[FunctionalPointResult, ...]:
    """Every displacement in a readings table, at the functional point, by the rotations in the same table.

    ``as_seen``: the offset is (right, up, towards the operator), and the table says how the axes lie. Raises BadInput
    where it does not, and where there is no displacement.
    """
    table = read_table(file)
    axes = axes_of(table.metadata)
    if as_seen and axes is None:
        raise BadInput("jobs.axes_not_said", file=str(file))
    arm = offset_along_axes(*offset_mm, axes) if as_seen and axes is not None else offset_mm
    wanted = [name for name in table.columns if not code(name).is_rotation and quantity in (None, name)]
    if not wanted:
        present = ", ".join(table.columns)
        raise BadInput("jobs.quantity_missing", quantity=quantity or "-", file=str(file), present=present)
    found = []
    for name in wanted:
        axis, seen = code(name).axis, profile_of(table, name)
        turns = {each: profile_of(table, each).value for each in table.columns if _turns(each, axis)}
        result = at_functional_point(name, seen.position_mm, seen.value, turns, arm)
        flat = axes is not None and axis != axes.vertical and turns
        level = level_places(axis, seen.position_mm, turns, axes) if flat and axes is not None else None
        found.append(
            FunctionalPointResult(
                name, seen.passes, result, _three(seen.position_mm, result.deviation_um),
                _three(seen.position_mm, seen.value), level,
            )
        )  # fmt: skip
    return tuple(found)


def ram_of_table(file: Path) -> RamResult:
    """Ram droop: ``extension_mm,off_um,on_um``, heights positive upwards."""
    numbers = read_named(file, RAM).numbers
    return RamResult(ram_droop(numbers["extension"], numbers["off"], numbers["on"]))


def roll_of_tables(
    first: Path, second: Path, quantity: str, arm_mm: float, *, same_reference: bool = False
) -> RollResult:
    """Roll from two readings tables of one straightness, the second read at the first's stations by interpolation."""
    one, two = (profile_of(read_table(file), present_in(file, quantity)) for file in (first, second))
    x, a, b = at_common(one, two)
    spreads = [None if each.variance is None else float(np.sqrt(each.variance)) for each in (one, two)]
    found = roll_from_lines(
        quantity, x, a, b, arm_mm, same_reference=same_reference, first_sd_um=spreads[0], second_sd_um=spreads[1]
    )
    return RollResult(found.code, found, float(np.ptp(found.roll_um_per_m)), a, b)


def ways_of_tables(
    first: Path, second: Path, gauge_mm: float, height: str, side: str | None = None, bridge: Path | None = None
) -> WaysResult:
    """Two ways from two readings tables, the second at the first's stations by interpolation.

    ``bridge`` ties the second to the first: ``position_mm,difference_um,sd_um``, height second minus first, up positive
    (in the tables' sign where they do not say how the axes lie).
    """
    tables = read_table(first), read_table(second)
    heights = [profile_of(table, present_in(file, height)) for table, file in zip(tables, (first, second), strict=True)]
    x, low, high = at_common(*heights)
    axes = axes_of(tables[0].metadata)
    if axes is not None:
        up = iso_sign(code(height), Direction.UP, axes)
        low, high = up * low, up * high
    turn = None
    if bridge is not None:
        tie, turn = tie_of_bridge(bridge, x, low, high)
        high = high + tie
    sides: tuple[Floats | None, Floats | None] = None, None
    if side is not None:
        both = [profile_of(table, present_in(file, side)) for table, file in zip(tables, (first, second), strict=True)]
        sides = at_common(*both)[1:]
    found = two_ways(x, low, high, gauge_mm, first_side_um=sides[0], second_side_um=sides[1])
    return WaysResult(height, side, found, turn, None if axes is None else Direction.UP.value)


def spindle_of_table(
    file: Path, *, mandrel_mm: tuple[float, float] | None = None, bore_mm: float = 0.0, noise_um: float | None = None
) -> SpindleResult:
    """Spindle to axis: ``position_mm,at_0_um,at_180_um``, optionally ``mandrel_sag_um`` and ``holder_sag_um``.

    ``mandrel_mm`` is the length and diameter of a steel mandrel whose sag is worked out, positions from its clamping;
    readings positive upwards. Raises BadInput where the table gives that sag as well.
    """
    numbers = read_named(file, SPINDLE).numbers
    x, sag = numbers["position"], numbers.get("mandrel_sag")
    if mandrel_mm is not None:
        if sag is not None:
            raise BadInput("jobs.sag_twice", file=str(file))
        sag = cantilever_sag_um(x, mandrel_mm[0], round_bar(mandrel_mm[1], STEEL, bore_mm))
    holder = numbers.get("holder_sag", np.zeros_like(x))
    mandrel = np.zeros_like(x) if sag is None else sag
    return SpindleResult(
        spindle_to_axis(
            x, numbers["at_0"], numbers["at_180"], mandrel_sag_um=mandrel, holder_sag_um=holder, noise_um=noise_um
        )
    )


def straightedge_of_table(
    file: Path,
    *,
    supports_mm: tuple[float, float] | None = None,
    length_mm: float = 0.0,
    height_mm: float = 0.0,
    modulus_gpa: float = STEEL.modulus_gpa,
    density_kg_per_m3: float = STEEL.density_kg_per_m3,
    start_mm: float = 0.0,
    sag_share: float = 0.1,
) -> StraightedgeResult:
    """Straightedge reversal: ``position_mm,normal_um,turned_um``, optionally ``sd_normal_um`` and ``sd_turned_um``.

    With ``supports_mm`` (from the straightedge's first end, which lies at ``start_mm``) the sag of a full rectangle is
    taken out, in the vertical plane with readings positive upwards; its standard uncertainty is ``sag_share`` of it.
    Raises BadInput for supports without the size of the straightedge and for a negative share.
    """
    if not 0.0 <= sag_share < float("inf"):
        raise BadInput("jobs.sag_share", share=sag_share)
    if supports_mm is not None and not (length_mm > 0.0 and height_mm > 0.0):
        raise BadInput("jobs.straightedge_size")
    numbers = read_named(file, STRAIGHTEDGE).numbers
    x, sag = numbers["position"], None
    if supports_mm is not None:
        sag = straightedge_sag_um(
            x - start_mm, length_mm, supports_mm, rectangle(height_mm, Material(modulus_gpa, density_kg_per_m3))
        )
    found = straightedge_reversal(
        x, numbers["normal"], numbers["turned"], sag, normal_sd_um=numbers.get("sd_normal"),
        turned_sd_um=numbers.get("sd_turned"), sag_uncertainty_um=0.0 if sag is None else np.abs(sag) * sag_share,
    )  # fmt: skip
    return StraightedgeResult(
        found,
        _three(x, found.machine_um),
        _three(x, found.straightedge_um),
        supports_mm is not None,
        sag_share,
    )


def present_in(file: Path, name: str) -> str:
    """The quantity of a readings table. Raises BadInput where it is not there."""
    present = list(read_table(file).columns)
    if code(name).text not in present:
        raise BadInput("jobs.which_quantity", wanted=name, file=str(file), present=", ".join(present))
    return code(name).text


def _turns(name: str, axis: str) -> bool:
    return code(name).is_rotation and code(name).axis == axis


def _three(x: Floats, y: Floats) -> dict[str, float]:
    return {name: one.value_um for name, one in straightness_by_reference(x, y).items()}
