"""Rows of a sheet that are results of the evaluation suite: of tables or kept lines, any evaluation there is."""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from waywright.archive import Archive
from waywright.errors import BadInput
from waywright.evaluate import Reason
from waywright.evaluate.sheet_kinds import RowKind
from waywright.evaluate.sheet_work import KINDS
from waywright.files.row_budget import row_budget
from waywright.jobs.asked import LINE, VERBS, Asked, on_files
from waywright.jobs.rows import rows_of
from waywright.jobs.sheet_disturbed import disturbed_uncertainty
from waywright.jobs.sheet_verdict import Seen, parts_judged
from waywright.quantities import Kind
from waywright.uncertainty import Budget
from waywright.uncertainty.of_row import RowUncertainty
from waywright.visit.sheet import MeasuringSheet, SheetRow

if TYPE_CHECKING:
    from waywright.jobs.sheet_judge import RowResult

UNITS = {"µm": ("um", 1.0), "µm/m": ("um/m", 1.0), "mm/m": ("um/m", 1000.0)}
_ANGLES = ("level", "twist", "angles", "guideway")
STATED = "stated in the row"
_K = 2.0


def result_judged(
    archive: Archive, sheet: MeasuringSheet, row: SheetRow, plain: RowResult, beside: Path | None
) -> RowResult:
    """A row's value from the evaluation suite, with its uncertainty; why not, where it cannot be had."""
    if not row.files and row.line is None:
        return replace(plain, why=(Reason("sheet.no_source", {"of": row.of or "-"}),))
    try:
        return _judged(archive, sheet, row, plain, beside)
    except BadInput as problem:
        return replace(plain, verdict="not-judged", why=(Reason(problem.key, problem.facts),))


def _judged(archive: Archive, sheet: MeasuringSheet, row: SheetRow, plain: RowResult, beside: Path | None) -> RowResult:
    from waywright.jobs.sheet_judge import with_verdict

    asked = question(row, beside)
    with on_files(asked, archive) as ready:
        value, unit = figure(ready, row.take)
        used = row_budget(row.budget or ("level" if row.of in _ANGLES else "beam"), beside)
        spread = _stated(row) or disturbed_uncertainty(ready, used, lambda other: figure(other, row.take)[0])
    kind = replace(KINDS[row.kind], gives=Kind.ANGLE if unit == "um/m" else Kind.DISPLACEMENT,
                   signed=value < 0.0)  # fmt: skip
    made = replace(
        plain, unit=unit, value=value, expanded=spread.expanded, standard=spread.standard, parts=spread.parts,
        coverage_factor=spread.coverage_factor, floor=spread.floor or None,
        budget=STATED if row.uncertainty_um is not None else used.title or used.method,
    )  # fmt: skip
    return with_verdict(made, parts_judged(_seen(sheet, row, kind, value, spread, used)))


def _seen(
    sheet: MeasuringSheet, row: SheetRow, kind: RowKind, value: float, spread: RowUncertainty, budget: Budget
) -> Seen:
    """As the verdict wants it: there are no readings here, only the value."""
    import numpy as np

    from waywright.uncertainty.of_row import RowReadings

    nothing = RowReadings(np.zeros(1), False, np.zeros(1), np.ones(1))
    return Seen(row, kind, nothing, budget, lambda y: y[0], value, spread.standard, sheet.burden)


def _stated(row: SheetRow) -> RowUncertainty | None:
    """The uncertainty that the row states by itself."""
    if row.uncertainty_um is None:
        return None
    return RowUncertainty(row.uncertainty_um / _K, row.uncertainty_um, _K, (), 0.0)


def question(row: SheetRow, beside: Path | None = None) -> Asked:
    """The question that a row asks. Raises BadInput for an evaluation that does not exist or lacks something."""
    if row.of is None or row.of not in VERBS:
        raise BadInput("sheet.unknown_evaluation", of=row.of or "-", known=", ".join(VERBS))
    tables = iter(
        [Path(LINE + row.line)] if row.line is not None else [(beside or Path()) / name for name in row.files]
    )
    options: dict[str, Any] = {}
    for name, parameter in inspect.signature(VERBS[row.of]).parameters.items():
        wanted = str(parameter.annotation)
        given = _given(row, name, wanted, tables, beside)
        if given is not None:
            options[name] = given
        elif parameter.default is inspect.Parameter.empty:
            if "None" not in wanted:
                raise BadInput("sheet.evaluation_needs", of=row.of, name=name)
            options[name] = None
    return Asked(row.of, options)


def _given(row: SheetRow, name: str, wanted: str, tables: Iterator[Path], beside: Path | None) -> Any:
    if name in row.settings:
        value = row.settings[name]
        if "Path" in wanted and isinstance(value, str):
            return (beside or Path()) / value
        return int(value) if wanted == "int" and isinstance(value, float) else value
    if wanted == "Path":
        return next(tables, None)
    if wanted.startswith("Sequence[Path"):
        return tuple(tables) or None
    return getattr(row, name, None) if name in _FROM_ROW else None


_FROM_ROW = ("quantity", "reference", "gauge_mm", "base_mm", "arm_mm")
"""What a row says in fields of its own; everything else stands in its settings."""


def figure(asked: Asked, take: str | None) -> tuple[float, str]:
    """The figure wanted of a result and its unit, um or um/m: the main one, or the one whose name is ``take``.

    Raises BadInput where there is no such figure or it was not judged.
    """
    results = VERBS[asked.kind](**asked.options)
    result = results[-1] if isinstance(results, tuple) else results
    found = dict(_figures(result))
    name = take or next(iter(found))
    if name not in found:
        raise BadInput("sheet.no_figure", take=name, known=", ".join(found))
    value, unit = found[name]
    if value is None or unit not in UNITS:
        raise BadInput("sheet.figure_not_judged", take=name)
    inside, factor = UNITS[unit]
    return value * factor, inside


def _figures(result: object) -> Iterator[tuple[str, tuple[float | None, str]]]:
    """Every figure by name, the main one first."""
    from waywright.jobs.judge import StraightnessResult

    if isinstance(result, StraightnessResult):
        yield "straightness", (result.chosen.value_um, "µm")
        if result.local is not None:
            yield "local", (result.local.value_um, "µm")
        return
    for figure_row in rows_of(result):
        yield figure_row.key.partition(".")[2], (figure_row.value, figure_row.unit)
