"""A complaint of taper on a sheet: the rows that say what the lathe does and what may be the cause."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from waywright.evaluate.taper import CENTRES, CHUCK, TaperCauses, TaperSeen, taper_causes
from waywright.visit.sheet import MeasuringSheet, SheetRow

if TYPE_CHECKING:
    from waywright.jobs.sheet_judge import RowResult


def causes_of(sheet: MeasuringSheet, rows: Sequence[RowResult]) -> tuple[TaperCauses, ...]:
    """Causes for each row that means a taper and is filled; signs as the rows state with ``positive``."""
    found = {row.means: (row, result) for row, result in zip(sheet.rows, rows, strict=True)
             if row.means and result.value is not None}  # fmt: skip
    made = []
    for means, held in (("taper-chuck", CHUCK), ("taper-centres", CENTRES)):
        if means in found:
            row, result = found[means]
            made.append(taper_causes(_seen(found, row, float(result.value or 0.0), held)))
    return tuple(made)


def _seen(found: dict[str, tuple[SheetRow, RowResult]], row: SheetRow, taper_um: float, held: str) -> TaperSeen:
    between = found["tailstock-side"][0].length_mm if "tailstock-side" in found else None
    twist = found.get("twist")
    return TaperSeen(
        # Rows of a taper read the free end first, so their difference is headstock minus free end.
        taper_um=-taper_um,
        cut_mm=row.length_mm or 300.0,
        held=held,
        radius_mm=(row.diameter_mm or 50.0) / 2.0,
        spindle_side_um_per_m=_slope(found.get("spindle-side")),
        spindle_height_um_per_m=_slope(found.get("spindle-height")),
        tailstock_side_um=_value(found.get("tailstock-side")),
        tailstock_height_um=_value(found.get("tailstock-height")),
        between_mm=between,
        twist_um_per_m=None if twist is None else _end_to_end(twist[1]),
        tool_height_mm=None if twist is None else twist[0].arm_mm,
    )


def _value(known: tuple[SheetRow, RowResult] | None) -> float | None:
    """The value with towards the operator and up positive."""
    if known is None or known[1].value is None:
        return None
    turned = known[0].positive in ("away from operator", "away", "down")
    return -known[1].value if turned else known[1].value


def _slope(known: tuple[SheetRow, RowResult] | None) -> float | None:
    value = _value(known)
    if known is None or value is None:
        return None
    length = max(known[0].at_mm) - min(known[0].at_mm)
    return value / length * 1000.0


def _end_to_end(result: RowResult) -> float | None:
    """Roll at the last place minus roll at the first, from the readings, the level's zero taken out."""
    places: dict[str, list[float]] = {}
    for entry in result.entries:
        if entry.value is not None:
            places.setdefault(entry.place, []).append(entry.value)
    rolls = [(values[0] - values[1]) / 2.0 if len(values) == 2 else values[0] for values in places.values()]
    return rolls[-1] - rolls[0] if len(rolls) > 1 else None
