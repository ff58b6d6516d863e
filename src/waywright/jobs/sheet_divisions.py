"""What reading divisions adds to a budget: a division is read to a fifth, so half of that either way."""

from __future__ import annotations

from dataclasses import replace

from waywright.evaluate.sheet_rows import kind_of_row
from waywright.jobs.sheet_fill import unit_of
from waywright.quantities import Kind
from waywright.uncertainty import Acts, Budget, Contribution
from waywright.visit.sheet import SheetRow

READ_TO = 0.1
"""Half of a fifth of a division."""
RESOLUTION = "resolution"


def with_divisions(budget: Budget, row: SheetRow) -> Budget:
    """The budget with what the row's own divisions allow to be told apart, where that is coarser."""
    if row.unit != "div":
        return budget
    angles = kind_of_row(row).reads is Kind.ANGLE
    half = READ_TO * unit_of(row).inside_per_unit
    known = max((one.value for one in budget.contribution if one.name == RESOLUTION), default=0.0)
    if half <= known:
        return budget
    acts, unit = (Acts.STEP_ANGLE, "um/m") if angles else (Acts.READING, "um")
    own = Contribution(RESOLUTION, acts, half, unit, "rectangular", source="computed", note="a fifth of a division")
    others = tuple(one for one in budget.contribution if one.name != RESOLUTION)
    return replace(budget, contribution=(*others, own))
