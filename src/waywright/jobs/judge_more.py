"""Judge from tables: angular error motions against position, and three squares compared with each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import Angular, ComparedSquares, angular_error, compare_squares
from waywright.evaluate.passes import JoinedPasses
from waywright.files import read_table
from waywright.files.named_table import NamedTable, Wanted, read_named
from waywright.jobs.basis import axes_of
from waywright.jobs.judge_lines import joined_of
from waywright.quantities import Axes, Kind, Name, code, plain_name, positive_direction
from waywright.readings import Floats

GAP = (Wanted("position", Kind.POSITION), Wanted("gap", Kind.DISPLACEMENT), Wanted("sd", Kind.DISPLACEMENT, False))


@dataclass(frozen=True, slots=True, eq=False)
class AnglesResult:
    """One angular error motion, mean of the passes; ``each_um_per_m`` (passes, m) are the passes.

    ``name`` is its plain name (roll, pitch, yaw) and ``positive`` the physical direction in which it is positive; both
    None for a table that does not say how the axes lie, except that a roll is a roll on every machine.
    ``largest_reversal_um_per_m`` is forward minus backward where it is largest; None without both.
    """

    code: str
    name: Name | None
    positive: str | None
    passes: int
    directions: tuple[str, ...]
    position_mm: Floats
    angle_um_per_m: Floats
    each_um_per_m: Floats
    result: Angular
    largest_reversal_um_per_m: float | None
    largest_reversal_at_mm: float | None


@dataclass(frozen=True, slots=True, eq=False)
class SquaresResult:
    """Three squares compared; gaps (n,) of each pair against the height, from its mean."""

    result: ComparedSquares
    height_mm: tuple[Floats, Floats, Floats]
    gap_um: tuple[Floats, Floats, Floats]


def angles_of_table(file: Path, quantity: str | None = None) -> tuple[AnglesResult, ...]:
    """Every rotation in a readings table, or the wanted one. Raises BadInput where there is none."""
    table = read_table(file)
    found = [name for name in table.columns if code(name).is_rotation]
    if quantity is not None:
        found = [name for name in found if name == code(quantity).text]
    if not found:
        raise BadInput("jobs.no_rotation", file=str(file), columns=", ".join(table.columns))
    axes, answers = axes_of(table.metadata), []
    for name in found:
        joined, directions = joined_of(table, name)
        positive = None if axes is None else positive_direction(code(name), axes).value
        answers.append(angles_of(name, joined, directions, axes, positive))
    return tuple(answers)


def angles_of(
    name: str, joined: JoinedPasses, directions: Sequence[str], axes: Axes | None, positive: str | None
) -> AnglesResult:
    """One rotation of joined passes, in the sign they have; ``positive`` says which that is."""
    wanted = code(name)
    called = plain_name(wanted, axes) if axes is not None else None
    if called is None and wanted.direction == wanted.axis:
        called = Name("quantities.roll")
    both = np.isfinite(joined.reversal)
    worst = int(np.argmax(np.abs(np.where(both, joined.reversal, 0.0)))) if both.any() else None
    return AnglesResult(
        wanted.text, called, positive, joined.passes, tuple(directions), joined.position_mm, joined.mean, joined.each,
        angular_error(joined.position_mm, joined.mean),
        None if worst is None else float(joined.reversal[worst]),
        None if worst is None else float(joined.position_mm[worst]),
    )  # fmt: skip


def squares_of_tables(
    first_second: Path, second_third: Path, third_first: Path, *, faces: str = "outer"
) -> SquaresResult:
    """Three squares, each pair face to face on one plate: ``position_mm,gap_um``, optionally ``sd_um``.

    ``position_mm`` is the height above the plate, ``gap_um`` how far the faces are apart, from any zero.
    """
    tables = [read_named(file, GAP) for file in (first_second, second_third, third_first)]
    heights = [table.numbers["position"] for table in tables]
    gaps = [table.numbers["gap"] for table in tables]
    found = compare_squares(list(zip(heights, gaps, strict=True)), faces, [_variance(table) for table in tables])
    about = [gap - gap.mean() for gap in gaps]
    return SquaresResult(found, (heights[0], heights[1], heights[2]), (about[0], about[1], about[2]))


def _variance(table: NamedTable) -> float | None:
    sd = table.numbers.get("sd")
    return None if sd is None or not (sd > 0.0).all() else float(np.mean(sd**2))
