"""Judge: from tables or kept readings to results."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import (
    LocalStraightness,
    ReferenceLine,
    Straightness,
    local_straightness,
    straightness,
    straightness_by_reference,
)
from waywright.evaluate.given import FLIP_SHARE, TARGET, ReferenceFlip, reference_flip, straightness_to_target
from waywright.evaluate.passes import JoinedPasses, Traverse, join_passes
from waywright.evaluate.straightness import GIVEN
from waywright.files import ReadingsTable, read_table
from waywright.files.named_table import Wanted, read_named
from waywright.files.table_text import read_sheet
from waywright.jobs.basis import Basis, basis_of_files
from waywright.quantities import Kind, code
from waywright.readings.records import Floats


@dataclass(frozen=True, slots=True)
class LocalResult:
    """Local straightness over a window; no value and the reason where it is not judged."""

    window_mm: float
    value_um: float | None
    start_mm: float | None
    reason_key: str | None = None
    reason_facts: dict[str, object] | None = None


@dataclass(frozen=True, slots=True)
class Value:
    """Straightness about one reference line, and where the extremes stand."""

    value_um: float
    largest_um: float
    largest_at_mm: float
    smallest_um: float
    smallest_at_mm: float
    line_offset_um: float
    line_slope_um_per_m: float


@dataclass(frozen=True, slots=True, eq=False)
class StraightnessResult:
    """Straightness of one quantity in one pass, or of the mean of passes (``pass_number`` None).

    ``positive`` is the physical direction in which the figures are positive; None for tables, which carry the ISO
    sign. ``direction`` is None where nobody recorded it. ``by_reference`` holds the value about each of the three
    reference lines, and about a given line and a target curve where there is one; ``reference`` is the one that was
    chosen, and ``deviation_um`` (n,) are the deviations from it. ``flip`` compares the three lines: does the choice
    matter? ``basis`` is what the result rests on.
    """

    code: str
    pass_number: int | None
    direction: str | None
    passes: int
    stations: int
    start_mm: float
    end_mm: float
    reference: str
    by_reference: dict[str, Value]
    local: LocalResult | None
    position_mm: Floats
    deviation_um: Floats
    positive: str | None = None
    basis: Basis | None = None
    flip: ReferenceFlip | None = None

    @property
    def chosen(self) -> Value:
        """The value about the chosen line."""
        return self.by_reference[self.reference]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """How a profile is judged.

    ``reference`` is one of the three lines. A ``given`` line (offset at 0 mm in um, slope in um/m) takes its place, and
    a ``target`` curve (positions, heights) that of both; the others stand beside. The lines differ where the largest
    value exceeds the smallest by more than ``flip_share``.
    """

    reference: str = "least-squares"
    window_mm: float | None = None
    given: tuple[float, float] | None = None
    target: tuple[Floats, Floats] | None = None
    flip_share: float = FLIP_SHARE


def straightness_of_table(
    file: Path,
    quantity: str | None = None,
    reference: str = "least-squares",
    window_mm: float | None = None,
    target: Path | None = None,
    *,
    given: tuple[float, float] | None = None,
    flip_share: float = FLIP_SHARE,
) -> tuple[StraightnessResult, ...]:
    """Every pass and the mean of the passes, for the straightness quantities of a readings table.

    ``target`` is a table of the curve that is wanted, ``position_mm,EYZ_um``: results are then about it, for the
    quantities it holds; ``given`` a straight line, offset at 0 mm (um) and slope (um/m). Raises BadInput for a table
    that cannot be used, and where the wanted quantity is not in it.
    """
    table = read_table(file)
    curves = None if target is None else target_curves(target)
    wish = Wish(reference=reference, window_mm=window_mm, given=given, flip_share=flip_share)
    found: list[StraightnessResult] = []
    for wanted in _wanted(table, quantity, file):
        if curves is not None and wanted not in curves:
            if quantity is None and set(curves) & set(table.columns):
                continue
            raise BadInput("jobs.quantity_missing", quantity=wanted, file=str(target), present=", ".join(curves))
        curve = None if curves is None else curves[wanted]
        found.extend(_of_quantity(table.passes(), wanted, replace(wish, target=curve)))
    more = () if target is None else (target.name,)
    return tuple(_with_basis(each, basis_of_files(each, [file]), found, more) for each in found)


def target_curves(file: Path) -> dict[str, tuple[Floats, Floats]]:
    """Positions and heights of every target curve in a table. Raises BadInput where there is none."""
    header = read_sheet(file).header.cells
    names = [name for name in header if name.lower() != "position_mm" and not name.lower().startswith("position")]
    codes = {name.partition("_")[0]: name for name in names}
    wanted = [Wanted("position", Kind.POSITION), *(Wanted(each.lower(), Kind.DISPLACEMENT) for each in codes)]
    table = read_named(file, wanted)
    x = table.numbers["position"]
    curves = {code(each).text: (x, table.numbers[each.lower()]) for each in codes}
    if not curves:
        raise BadInput("jobs.no_straightness", file=str(file), columns=", ".join(header))
    return curves


def _with_basis(
    result: StraightnessResult, basis: Basis, every: Sequence[StraightnessResult], more: tuple[str, ...]
) -> StraightnessResult:
    """One pass, or all of the same quantity where the result is their mean."""
    numbers = [one.pass_number for one in every if one.code == result.code and one.pass_number is not None]
    passes = tuple(numbers) if result.pass_number is None else (result.pass_number,)
    direction = basis.positive.get(result.code)
    own = {} if direction is None else {result.code: direction}
    return replace(result, basis=replace(basis, files=(*basis.files, *more), passes=passes, positive=own))


def result_of(
    quantity: str,
    position_mm: Floats,
    value_um: Floats,
    wish: Wish,
    *,
    pass_number: int | None = None,
    direction: str | None = None,
    passes: int = 1,
) -> StraightnessResult:
    """One profile judged as wished, the other lines beside it."""
    three = straightness_by_reference(position_mm, value_um)
    by_reference = {**three, **_given_too(position_mm, value_um, wish)}
    reference = next(reversed(by_reference)) if len(by_reference) > len(three) else wish.reference
    if reference not in by_reference:
        raise BadInput("evaluate.unknown_reference", reference=reference, known=", ".join(by_reference))
    chosen: Straightness = by_reference[reference]
    return StraightnessResult(
        code=quantity,
        pass_number=pass_number,
        direction=direction,
        passes=passes,
        stations=chosen.stations,
        start_mm=chosen.start_mm,
        end_mm=chosen.end_mm,
        reference=reference,
        by_reference={name: _value(found) for name, found in by_reference.items()},
        local=None if wish.window_mm is None else _local(position_mm, value_um, wish.window_mm),
        position_mm=position_mm,
        deviation_um=chosen.deviation_um,
        flip=reference_flip(three, share=wish.flip_share),
    )


def _given_too(x: Floats, y: Floats, wish: Wish) -> dict[str, Straightness]:
    """About a given line and a target curve, the target last."""
    found = {}
    if wish.given is not None:
        found[GIVEN] = straightness(x, y, line=ReferenceLine(*wish.given))
    if wish.target is not None:
        found[TARGET] = straightness_to_target(x, y, *wish.target)
    return found


def _value(found: Straightness) -> Value:
    deviation_um = found.deviation_um
    return Value(
        value_um=found.value_um,
        largest_um=found.largest_um,
        largest_at_mm=float(found.position_mm[np.argmax(deviation_um)]),
        smallest_um=found.smallest_um,
        smallest_at_mm=float(found.position_mm[np.argmin(deviation_um)]),
        line_offset_um=found.line.offset_um,
        line_slope_um_per_m=found.line.slope_um_per_m,
    )


def _wanted(table: ReadingsTable, quantity: str | None, file: Path) -> list[str]:
    present = [name for name in table.columns if code(name).is_straightness]
    if quantity is None:
        if not present:
            raise BadInput("jobs.no_straightness", file=str(file), columns=", ".join(table.columns))
        return present
    if quantity not in present:
        raise BadInput("jobs.quantity_missing", quantity=quantity, file=str(file), present=", ".join(present) or "-")
    return [quantity]


def _of_quantity(passes: Sequence[ReadingsTable], quantity: str, wish: Wish) -> list[StraightnessResult]:
    found = [
        result_of(
            quantity,
            single.position_mm,
            single.columns[quantity],
            wish,
            pass_number=number if single.pass_number is None else int(single.pass_number[0]),
            direction=_recorded(single),
        )
        for number, single in enumerate(passes, start=1)
    ]
    if len(passes) > 1:
        joined = joined_table(passes, quantity)
        found.append(result_of(quantity, joined.position_mm, joined.mean, wish, passes=len(passes)))
    return found


def joined_table(passes: Sequence[ReadingsTable], quantity: str) -> JoinedPasses:
    """The passes of a table at common stations."""
    return join_passes(
        [Traverse(single.position_mm, single.columns[quantity], _direction(single)) for single in passes]
    )


def _recorded(single: ReadingsTable) -> str | None:
    """The direction recorded for most of its stations, or None."""
    recorded = [way for way in single.direction or () if way]
    return max(set(recorded), key=recorded.count) if recorded else None


def _direction(single: ReadingsTable) -> str:
    """As recorded, otherwise from the order of its positions."""
    return _recorded(single) or ("forward" if single.position_mm[-1] >= single.position_mm[0] else "backward")


def _local(position_mm: Floats, value_um: Floats, window_mm: float) -> LocalResult:
    found: LocalStraightness = local_straightness(position_mm, value_um, window_mm)
    if found.reason is None:
        return LocalResult(window_mm, found.value_um, found.start_mm)
    return LocalResult(window_mm, None, None, found.reason.key, dict(found.reason.facts))
