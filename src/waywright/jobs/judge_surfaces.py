"""Judge what is no single line of deviations: levels stepped along a way, surfaces, positioning."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import (
    Flatness,
    NetworkHeights,
    Positioning,
    SlopeLine,
    check_base,
    flatness,
    heights_from_network,
    heights_from_steps,
    positioning,
    straightness_by_reference,
    without_earth_curvature,
)
from waywright.evaluate.angles import BaseCheck, level_zero, summed_noise_um
from waywright.evaluate.results import Reason
from waywright.files import read_table
from waywright.files.named_table import NamedTable, Wanted, read_named
from waywright.quantities import Kind, code
from waywright.readings import Floats

GRID = (Wanted("x", Kind.POSITION), Wanted("y", Kind.POSITION), Wanted("height", Kind.DISPLACEMENT))
NETWORK = (
    Wanted("line", None), Wanted("from_x", Kind.POSITION), Wanted("from_y", Kind.POSITION),
    Wanted("to_x", Kind.POSITION), Wanted("to_y", Kind.POSITION), Wanted("tilt", Kind.ANGLE),
)  # fmt: skip
LEVEL = (
    Wanted("position", Kind.POSITION), Wanted("tilt", Kind.ANGLE), Wanted("turned", Kind.ANGLE, False),
    Wanted("across", Kind.ANGLE, False),
)  # fmt: skip
_SAME_PLACE = 0.05  # of the base


@dataclass(frozen=True, slots=True, eq=False)
class FlatnessResult:
    """Flatness of points (n,); ``network`` where the heights come from slope ``lines``, with ``line_names``.

    ``base_mm`` and ``own_zero`` are how the network was adjusted, ``through`` are the three points of the plane.
    """

    x_mm: Floats
    y_mm: Floats
    height_um: Floats
    result: Flatness
    network: NetworkHeights | None = None
    line_names: tuple[str, ...] = ()
    lines: tuple[SlopeLine, ...] = ()
    base_mm: float | None = None
    own_zero: bool = False
    through: tuple[int, int, int] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class LevelResult:
    """A level stepped along a way by its base.

    ``tilt_um_per_m`` (steps,) with the zero error taken off where the level was turned round at every place;
    ``height_um`` (steps + 1,) at ``position_mm``, the first 0; ``across_um_per_m`` (steps,) if measured. ``noise_um``
    is the standard deviation in the middle, about the end line, that the scatter of the zero gives (None without it).
    ``along_mm_per_m`` and ``across_mm_per_m`` (steps,) are the level at each place ``middle_mm``, between both feet.
    With a ``reflector`` the tilts are those of a carriage seen by an autocollimator: from any zero, and no level.
    """

    base: BaseCheck
    step_mm: Floats
    tilt_um_per_m: Floats
    zero_um_per_m: float | None
    zero_scatter_um_per_m: float | None
    across_um_per_m: Floats | None
    position_mm: Floats
    height_um: Floats
    earth_removed: bool
    noise_um: float | None
    by_reference: dict[str, float]
    middle_mm: Floats
    along_mm_per_m: Floats
    across_mm_per_m: Floats | None
    reflector: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class PositioningResult:
    """Positioning of an axis from runs in both directions; deviations (targets, runs)."""

    code: str
    up_um: Floats
    down_um: Floats
    result: Positioning
    not_judged: Reason | None


def flatness_of_table(
    file: Path, reference: str = "minimum-zone", through: tuple[int, int, int] | None = None, own_zero: bool = False
) -> FlatnessResult:
    """Flatness from a grid of heights, or from slope lines if the table has a column ``line``.

    ``through`` counts points from 1, in the order of the table (of the adjusted points for slope lines).
    Raises BadInput naming file and line for a table that cannot be used.
    """
    picked = None if through is None else tuple(number - 1 for number in through)
    three = None if picked is None else (picked[0], picked[1], picked[2])
    if _first_heading(file) is None:
        table = read_named(file, GRID)
        x, y, height = (table.numbers[name] for name in ("x", "y", "height"))
        return FlatnessResult(x, y, height, flatness(x, y, height, reference, three), through=three)
    names, lines, base_mm = _slope_lines(read_named(file, NETWORK))
    network = heights_from_network(lines, base_mm, own_zero)
    result = flatness(network.x_mm, network.y_mm, network.height_um, reference, three)
    return FlatnessResult(
        network.x_mm, network.y_mm, network.height_um, result, network, tuple(names), tuple(lines), base_mm, own_zero,
        three,
    )  # fmt: skip


def level_of_table(file: Path, base_mm: float, *, beam: bool = False, reflector: bool = False) -> LevelResult:
    """Heights from a level stepped along a way.

    Columns ``position_mm`` of the near foot, ``tilt_um_per_m``, and, if measured, ``turned_um_per_m`` (the level turned
    round at the same place) and ``across_um_per_m``. ``beam`` takes the earth's curvature off, to compare with a beam.
    ``reflector``: a reflector carriage stepped by its base. Raises BadInput for fewer than two steps, positions that do
    not go on in one direction, and for the earth's curvature in a reflector's angles.
    """
    if beam and reflector:
        raise BadInput("jobs.reflector_sees_no_earth")
    table = read_named(file, LEVEL)
    near, tilt = table.numbers["position"], table.numbers["tilt"]
    step = np.diff(near)
    if step.size < 1 or not ((step > 0.0).all() or (step < 0.0).all()):
        raise BadInput("jobs.level_positions", file=table.file, line=_first_wrong(table, step))
    zero = level_zero(tilt, table.numbers["turned"]) if "turned" in table.numbers else None
    true = tilt if zero is None else np.asarray(zero.tilt_um_per_m)
    sense = 1.0 if step[0] > 0.0 else -1.0
    position = np.append(near, near[-1] + sense * base_mm)
    height = heights_from_steps(true, base_mm)
    height = without_earth_curvature(position, height) if beam else height
    scatter = float(np.std(np.asarray(zero.zero_um_per_m), ddof=1)) if zero is not None else None
    noise = None if scatter is None else float(summed_noise_um(scatter, base_mm, true.size).max())
    values = straightness_by_reference(position, height)
    across = table.numbers.get("across")
    return LevelResult(
        base=check_base(np.abs(step), base_mm), step_mm=np.abs(step), tilt_um_per_m=true,
        zero_um_per_m=None if zero is None else float(np.mean(zero.zero_um_per_m)), zero_scatter_um_per_m=scatter,
        across_um_per_m=across, position_mm=position, height_um=height, earth_removed=beam,
        noise_um=noise, by_reference={name: one.value_um for name, one in values.items()},
        middle_mm=near + sense * base_mm / 2, along_mm_per_m=true / 1000,
        across_mm_per_m=None if across is None else across / 1000, reflector=reflector,
    )  # fmt: skip


def positioning_of_table(file: Path) -> PositioningResult:
    """Positioning (EXX, EYY, EZZ) from a readings table: positions are targets, forward is the positive approach.

    Raises BadInput where there is no positioning, runs of one direction only, or different numbers of runs.
    """
    table = read_table(file)
    found = [name for name in table.columns if not code(name).is_rotation and code(name).direction == code(name).axis]
    if len(found) != 1:
        raise BadInput("jobs.no_positioning", file=str(file), columns=", ".join(table.columns))
    sides: dict[str, list[dict[float, float]]] = {"forward": [], "backward": []}
    for single in table.passes():
        way = (single.direction or ("",))[0]
        if way not in sides:
            raise BadInput("jobs.positioning_direction", file=str(file))
        sides[way].append(dict(zip(single.position_mm.tolist(), single.columns[found[0]].tolist(), strict=True)))
    targets = sorted({target for runs in sides.values() for run in runs for target in run})
    up, down = (_runs(sides[way], targets, way, file) for way in ("forward", "backward"))
    result = positioning(targets, up, down)
    return PositioningResult(found[0], up, down, result, result.reason)


def _runs(runs: Sequence[dict[float, float]], targets: Sequence[float], way: str, file: Path) -> Floats:
    if not runs:
        raise BadInput("jobs.positioning_one_way", file=str(file), missing=way)
    for number, run in enumerate(runs, start=1):
        missing = [target for target in targets if target not in run]
        if missing:
            raise BadInput("jobs.positioning_target", file=str(file), run=number, direction=way, target_mm=missing[0])
    return np.array([[run[target] for run in runs] for target in targets])


def _first_heading(file: Path) -> str | None:
    """ "line" if the table has such a column."""
    from waywright.files.table_text import read_sheet

    return next((cell for cell in read_sheet(file).header.cells if cell.lower() == "line"), None)


def _slope_lines(table: NamedTable) -> tuple[list[str], list[SlopeLine], float]:
    """Rows of one name, in order, are the steps of a line; each step begins where the one before ended."""
    names = list(dict.fromkeys(table.words["line"]))
    ends = [np.stack([table.numbers[f"{end}_x"], table.numbers[f"{end}_y"]], axis=1) for end in ("from", "to")]
    length = np.linalg.norm(ends[1] - ends[0], axis=1)
    for row in np.flatnonzero(length == 0.0)[:1]:
        raise BadInput("jobs.step_without_length", file=table.file, line=table.lines[int(row)])
    found = []
    for name in names:
        rows = [k for k, one in enumerate(table.words["line"]) if one == name]
        _check_chain(table, rows, ends, length)
        base = float(length[rows].mean())
        start, towards = ends[0][rows[0]], ends[1][rows[-1]]
        found.append(SlopeLine((start[0], start[1]), (towards[0], towards[1]), table.numbers["tilt"][rows], base))
    return names, found, float(np.median(length))


def _check_chain(table: NamedTable, rows: Sequence[int], ends: Sequence[Floats], length: Floats) -> None:
    along = ends[1][rows[-1]] - ends[0][rows[0]]
    along = along / np.linalg.norm(along)
    for before, row in zip([None, *rows[:-1]], rows, strict=True):
        gap = 0.0 if before is None else float(np.linalg.norm(ends[0][row] - ends[1][before]))
        bent = float(np.linalg.norm(ends[1][row] - ends[0][row] - along * length[row]))
        if max(gap, bent) > _SAME_PLACE * length[row]:
            raise BadInput(
                "jobs.step_not_joined", file=table.file, line=table.lines[row], name=table.words["line"][row]
            )


def _first_wrong(table: NamedTable, step: Floats) -> int:
    wrong = np.flatnonzero(step * step[0] <= 0.0) if step.size else np.array([0])
    return table.lines[min(int(wrong[0]) + 1, len(table.lines) - 1)]
