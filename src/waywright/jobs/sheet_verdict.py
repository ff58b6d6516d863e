"""A row against its tolerance rule: every part of the rule with the uncertainty it is judged with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate import Reason, local_straightness, straightness
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.sheet_kinds import RowKind
from waywright.quantities import Kind
from waywright.uncertainty import Budget
from waywright.uncertainty.of_row import RowReadings, row_uncertainty
from waywright.verdict import Decision, Verdict, decide, tolerance
from waywright.verdict.rule_check import Sight
from waywright.verdict.rule_records import Lean, Limit, Part, Shape, Slope
from waywright.visit.sheet import SheetRow

Work = Callable[[FloatArray], FloatArray]
STRAIGHT = "straightness"


@dataclass(frozen=True, slots=True)
class PartJudged:
    """One part of a rule: the value it looks at and its decision, or the reason why it is not judged.

    Values and limits of the decision are in ``unit``, also where their names say um.
    """

    part: str
    unit: str
    decision: Decision | None = None
    reason: Reason | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """A row as it is judged: its kind, readings (n,) and the work that makes its value."""

    row: SheetRow
    kind: RowKind
    measured: RowReadings
    budget: Budget
    work: Work
    value: float
    standard: float
    burden: str


def parts_judged(seen: Seen) -> tuple[PartJudged, ...]:
    """Every part of the row's rule; nothing for a row without one."""
    if seen.row.tolerance is None:
        return ()
    return tuple(_part(seen, part) for part in tolerance(seen.row.tolerance).parts)


def together(parts: tuple[PartJudged, ...]) -> tuple[str, bool | None]:
    """The verdict of all parts, and what follows: the worst of them counts. "not-judged" where a part is not."""
    decisions = [part.decision for part in parts if part.decision is not None]
    verdicts = [decision.verdict for decision in decisions]
    accepted = [decision.accepted for decision in decisions]
    if Verdict.DOES_NOT_CONFORM in verdicts:
        return str(Verdict.DOES_NOT_CONFORM), False
    if len(decisions) < len(parts):
        return "not-judged", None
    follows = False if False in accepted else None if None in accepted else True
    return str(Verdict.UNDECIDED if Verdict.UNDECIDED in verdicts else Verdict.CONFORMS), follows


def _part(seen: Seen, part: Part) -> PartJudged:
    if isinstance(part, Shape):
        return _shape(seen, part)
    if isinstance(part, (Lean, Slope)):
        return _one_sided(seen, part)
    if part.window_mm is not None:
        return _local(seen, part)
    return _limit(seen, part)


def _limit(seen: Seen, part: Limit) -> PartJudged:
    unit = "um/m" if seen.kind.gives is Kind.ANGLE else "um"
    limit = _angle_limit(seen, part) if seen.kind.gives is Kind.ANGLE else _length_limit(seen, part)
    if isinstance(limit, Reason):
        return PartJudged(str(part), unit, reason=limit)
    lower = -limit if seen.kind.signed and limit > 0.0 else None
    found = decide(seen.value, limit, seen.standard, burden=seen.burden, lower_um=lower)
    return PartJudged(str(part), unit, found)


def _length_limit(seen: Seen, part: Limit) -> float | Reason:
    length = seen.kind.length_mm(seen.row)
    if length is None and type(part.base).__name__ != "Fixed":
        return Reason("sheet.needs_length", {"part": str(part)})
    try:
        return part.limit_um(length or 1.0)
    except BadInput as problem:
        return Reason(problem.key, problem.facts)


def _angle_limit(seen: Seen, part: Limit) -> float | Reason:
    limit = part.limit_um_per_m()
    if limit is not None:
        return limit
    if seen.row.length_mm is None:
        return Reason("sheet.needs_angle", {"part": str(part)})
    return part.limit_um(seen.row.length_mm) / seen.row.length_mm * 1000.0


def _one_sided(seen: Seen, part: Lean | Slope) -> PartJudged:
    """The value must not lie on the wrong side of zero."""
    unit = "um/m" if seen.kind.gives is Kind.ANGLE else "um"
    sight = Sight.of(seen.row.positive or (), seen.row.ahead or (), ())
    if isinstance(part, Lean):
        sign = sight.sign_of_direction(part.direction)
    else:
        sign = sight.sign_of_direction("up") * sight.sign_of_place(part.place) * (1 if part.rising else -1)
    if sign == 0 or not seen.kind.signed:
        return PartJudged(str(part), unit, reason=Reason("sheet.needs_direction", {"part": str(part)}))
    return PartJudged(str(part), unit, decide(-sign * seen.value, 0.0, seen.standard, burden=seen.burden))


def _local(seen: Seen, part: Limit) -> PartJudged:
    """Local straightness with the same budget."""
    window = float(part.window_mm or 0.0)
    curve = _curve(seen)
    if curve is None:
        return PartJudged(str(part), "um", reason=Reason("sheet.needs_curve", {"part": str(part)}))
    x, heights = curve
    if local_straightness(x, heights(seen.measured.reading), window).value_um is None:
        return PartJudged(str(part), "um", reason=Reason("sheet.needs_stations", {"window_mm": window}))

    def work(reading: FloatArray) -> FloatArray:
        return np.asarray(local_straightness(x, heights(reading), window).value_um)

    return _judged_by(seen, part, work, part.limit_um(window))


def _shape(seen: Seen, part: Shape) -> PartJudged:
    """How far the curve lies on the wrong side of the line through its ends; negative where it keeps clear."""
    curve = _curve(seen)
    up = Sight.of(seen.row.positive or (), (), ()).sign_of_direction("up")
    if curve is None or up == 0:
        key = "sheet.needs_curve" if curve is None else "sheet.needs_direction"
        return PartJudged(str(part), "um", reason=Reason(key, {"part": str(part)}))
    x, heights = curve
    sign = up if part.convex else -up

    def work(reading: FloatArray) -> FloatArray:
        about_ends = straightness(x, sign * heights(reading), "end-points").deviation_um
        return np.asarray(-about_ends[1:-1].min(axis=0))

    return _judged_by(seen, part, work, 0.0)


def _judged_by(seen: Seen, part: Part, work: Work, limit: float) -> PartJudged:
    spread = row_uncertainty(work, seen.measured, seen.budget, linear=False).standard
    value = float(work(seen.measured.reading))
    return PartJudged(str(part), "um", decide(value, limit, spread, burden=seen.burden))


def _curve(seen: Seen) -> tuple[FloatArray, Callable[[FloatArray], FloatArray]] | None:
    """Stations and heights of a row that is a straightness."""
    from waywright.evaluate.steps import heights_from_steps

    row, layout = seen.row, seen.kind.layout
    if seen.kind.name == STRAIGHT:
        return np.array(row.at_mm), lambda reading: reading
    if seen.kind.name == "straightness-by-level" and row.base_mm is not None:
        base = row.base_mm
        steps = layout.joined(seen.measured.reading, row.turned).shape[0]
        x = np.arange(steps + 1) * base
        return x, lambda reading: heights_from_steps(layout.joined(reading, row.turned), base)
    return None
