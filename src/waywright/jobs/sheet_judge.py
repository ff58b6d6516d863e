"""A sheet judged: every row with its value, uncertainty and verdict, and why a row is undecided."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from uuid import UUID

import numpy as np

from waywright.archive import Archive
from waywright.evaluate import Reason
from waywright.evaluate.sheet_kinds import RESULT, Figure
from waywright.evaluate.sheet_rows import figures_of, kind_of_row, value_of
from waywright.evaluate.taper import TaperCauses
from waywright.files.row_budget import row_budget
from waywright.jobs.sheet_divisions import with_divisions
from waywright.jobs.sheet_keep import Entry, entries, machine_of, technician_of, values_of
from waywright.jobs.sheet_results import result_judged
from waywright.jobs.sheet_taper import causes_of
from waywright.jobs.sheet_verdict import PartJudged, Seen, parts_judged, together
from waywright.quantities import Kind
from waywright.readings import Floats, Reading
from waywright.uncertainty import Budget
from waywright.uncertainty.of_row import RowPart, RowReadings, RowUncertainty, largest_part, row_uncertainty
from waywright.verdict import Verdict, tolerance
from waywright.visit.sheet import MeasuringSheet, SheetRow

NOT_MEASURED, INCOMPLETE, NO_LIMIT, NOT_JUDGED = "not-measured", "incomplete", "no-limit", "not-judged"
UNITS = {Kind.ANGLE: "um/m", Kind.DISPLACEMENT: "um"}


@dataclass(frozen=True, slots=True)
class EntryValue:
    """One place of a row: what was read there in um or um/m, None where nothing was, and how it was confirmed."""

    place: str
    state: str
    value: float | None
    taken_by: str | None = None


@dataclass(frozen=True, slots=True)
class RowResult:
    """One row of a sheet as it stands.

    ``verdict`` is "conforms", "does not conform", "undecided", or "not-measured", "incomplete", "no-limit",
    "not-judged"; ``why`` says it in keys and facts. ``value``, ``expanded`` (95 %), ``limit`` and ``floor`` (what noise
    alone would have read) are in ``unit``. ``accepted`` is what follows under the burden of the sheet.
    """

    number: str
    what: str
    kind: str
    drawing: str
    tolerance: str | None
    unit: str
    entries: tuple[EntryValue, ...]
    verdict: str
    why: tuple[Reason, ...]
    value: float | None = None
    expanded: float | None = None
    standard: float | None = None
    coverage_factor: float | None = None
    floor: float | None = None
    limit: float | None = None
    accepted: bool | None = None
    judged: tuple[PartJudged, ...] = ()
    figures: tuple[Figure, ...] = ()
    budget: str | None = None
    parts: tuple[RowPart, ...] = ()
    remark: str = ""


@dataclass(frozen=True, slots=True)
class SheetResult:
    """A whole sheet as it stands. ``counts`` is how many rows have each verdict; ``last_hash`` seals the readings."""

    id: UUID
    title: str
    machine: str
    began_utc: str
    technician: str | None
    note: str
    example: bool
    invented: bool
    burden: str
    rows: tuple[RowResult, ...]
    counts: dict[str, int]
    taper: tuple[TaperCauses, ...] = ()
    last_hash: str | None = None

    @property
    def undecided(self) -> tuple[RowResult, ...]:
        """The rows that nothing is proved of."""
        return tuple(row for row in self.rows if row.verdict == Verdict.UNDECIDED)


Known = dict[str, tuple[SheetRow, tuple[EntryValue, ...], RowResult]]
"""Rows judged before, by number, with what they were judged from: only what changed is worked out again."""


def sheet_result(
    archive: Archive, sheet: MeasuringSheet, beside: Path | None = None, known: Known | None = None
) -> SheetResult:
    """Every row of a sheet judged with what has been read so far. ``known`` is filled and used again by its owner."""
    held = values_of(archive, sheet)
    every = entries(sheet)
    rows = tuple(
        _again(known, sheet, row, [e for e in every if e.row is row], held, archive, beside) for row in sheet.rows
    )
    machine, visit = machine_of(archive, sheet)
    last = [readings[-1].hash for taken in archive.passes(sheet.id) if (readings := archive.readings(taken.id))]
    return SheetResult(
        sheet.id, sheet.title, machine.name, visit.began_utc.isoformat(timespec="seconds"),
        technician_of(archive, visit), sheet.note, sheet.example, visit.invented, sheet.burden, rows,
        dict(Counter(row.verdict for row in rows)), causes_of(sheet, rows), last[-1].hex() if last else None,
    )  # fmt: skip


def _again(
    known: Known | None,
    sheet: MeasuringSheet,
    row: SheetRow,
    places: Sequence[Entry],
    held: dict[str, Reading],
    archive: Archive,
    beside: Path | None,
) -> RowResult:
    read = _plain(row, places, held).entries
    if known is not None and row.number in known and known[row.number][:2] == (row, read):
        return known[row.number][2]
    found = row_result(sheet, row, places, held, archive, beside)
    if known is not None and row.kind != RESULT:
        known[row.number] = (row, read, found)
    return found


def judged_row(archive: Archive, sheet: MeasuringSheet, row: SheetRow, beside: Path | None = None) -> RowResult:
    """One row of a sheet judged with what has been read so far."""
    places = [entry for entry in entries(sheet) if entry.row == row]
    return row_result(sheet, row, places, values_of(archive, sheet), archive, beside)


def row_result(
    sheet: MeasuringSheet,
    row: SheetRow,
    places: Sequence[Entry],
    held: dict[str, Reading],
    archive: Archive,
    beside: Path | None = None,
) -> RowResult:
    """One row judged."""
    plain = _plain(row, places, held)
    if row.kind == RESULT:
        return result_judged(archive, sheet, row, plain, beside)
    values = [entry.value for entry in plain.entries]
    if all(value is None for value in values):
        return plain
    missing = [entry for entry in plain.entries if entry.value is None]
    if missing:
        facts = {"missing": len(missing), "places": len(values), "next": missing[0].place}
        return replace(plain, verdict=INCOMPLETE, why=(Reason("sheet.incomplete", facts),))
    return _judged(plain, sheet, row, places, np.array(values, dtype=np.float64), beside)


def _plain(row: SheetRow, places: Sequence[Entry], held: dict[str, Reading]) -> RowResult:
    kind = kind_of_row(row)
    found = []
    for entry in places:
        reading = held.get(entry.channel)
        value = None if reading is None else reading.values[0].mean
        found.append(EntryValue(entry.place, entry.state, value, None if reading is None else reading.taken_by))
    return RowResult(
        row.number, row.what, row.kind, row.drawing or kind.drawing,
        None if row.tolerance is None else str(tolerance(row.tolerance)), UNITS[kind.gives], tuple(found),
        NOT_MEASURED, (Reason("sheet.not_measured", {"places": len(found)}),), remark=row.remark,
    )  # fmt: skip


def _judged(
    plain: RowResult,
    sheet: MeasuringSheet,
    row: SheetRow,
    places: Sequence[Entry],
    reading: Floats,
    beside: Path | None,
) -> RowResult:
    kind = kind_of_row(row)
    budget = with_divisions(row_budget(row.budget or kind.budget, beside), row)
    measured = _measured(row, places, reading)

    def work(y: Floats) -> Floats:
        return np.asarray(value_of(row, y))

    value = float(work(reading))
    spread = row_uncertainty(work, measured, budget, linear=kind.linear)
    seen = Seen(row, kind, measured, budget, work, value, spread.standard, sheet.burden)
    stated = _stated(plain, budget, value, spread, figures_of(row, reading))
    return with_verdict(stated, parts_judged(seen))


def _stated(
    plain: RowResult, budget: Budget, value: float, spread: RowUncertainty, figures: tuple[Figure, ...]
) -> RowResult:
    return replace(
        plain, value=value, expanded=spread.expanded, standard=spread.standard,
        coverage_factor=spread.coverage_factor, floor=spread.floor or None, figures=figures,
        budget=budget.title or budget.method, parts=spread.parts,
    )  # fmt: skip


def with_verdict(stated: RowResult, parts: tuple[PartJudged, ...]) -> RowResult:
    """The row with the verdict of its rule's parts, and the reasons for anything but a plain yes."""
    if not parts:
        return replace(stated, verdict=NO_LIMIT, why=(Reason("sheet.no_limit", {}),))
    verdict, accepted = together(parts)
    limits = [part.decision.limit_um for part in parts if part.decision is not None and part.decision.limit_um > 0.0]
    why = [part.reason for part in parts if part.reason is not None]
    if verdict == Verdict.UNDECIDED:
        why += [_undecided(stated, part) for part in parts if _is_open(part)]
    return replace(stated, verdict=verdict, accepted=accepted, judged=parts, why=tuple(why),
                   limit=min(limits, default=None))  # fmt: skip


def _is_open(part: PartJudged) -> bool:
    return part.decision is not None and part.decision.verdict is Verdict.UNDECIDED


def _undecided(stated: RowResult, part: PartJudged) -> Reason:
    """Which limit lies within the uncertainty, and what makes that up most."""
    assert part.decision is not None
    largest = largest_part(stated.parts)
    near_lower = part.decision.lower_um is not None and part.decision.value_um < 0.0
    limit = part.decision.lower_um if near_lower else part.decision.limit_um
    facts: dict[str, object] = {
        "value": part.decision.value_um, "limit": limit, "guard": part.decision.guard_band_um, "unit": part.unit,
        "probability": part.decision.probability_of_conformity, "part": part.part,
    }  # fmt: skip
    if largest is None:
        return Reason("sheet.undecided", facts)
    own = 2.0 * largest.contribution
    return Reason("sheet.undecided_by", facts | {"largest": largest.name, "largest_expanded": own})


def _measured(row: SheetRow, places: Sequence[Entry], reading: Floats) -> RowReadings:
    kind = kind_of_row(row)
    count = len(dict.fromkeys(entry.place for entry in places))
    sense = kind.layout.turned_sign(count, row.turned)
    at = np.array([entry.at_mm for entry in places])
    return RowReadings(reading, kind.reads is Kind.ANGLE, at, np.array(sense, dtype=np.float64), row.base_mm)
