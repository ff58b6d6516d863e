"""A machine that nobody has described in a file yet: from the few facts that a form asks for."""

from __future__ import annotations

from waywright.clocks import new_id
from waywright.machine import Bed, Machine, Mark, Support
from waywright.quantities import Axes


def plain_machine(
    name: str,
    kind: str,
    axes: Axes,
    *,
    owner: str | None = None,
    serial: str | None = None,
    bed_length_mm: float | None = None,
    supports_in_a_row: int = 0,
    rows: int = 1,
) -> Machine:
    """A machine with evenly spaced supports, numbered from the left, front row first.

    Where the supports really stand, and what one turn of them lifts, is a matter for a machine file.
    """
    bed: Bed | None = None
    marks: tuple[Mark, ...] = ()
    if bed_length_mm:
        bed = Bed(bed_length_mm, _supports(bed_length_mm, supports_in_a_row, rows))
        marks = (Mark("left end of the bed", 0.0), Mark("right end of the bed", bed_length_mm))
    return Machine(new_id(), name, kind, axes, bed=bed, marks=marks, serial=serial or None, owner=owner or None)


def _supports(length_mm: float, in_a_row: int, rows: int) -> tuple[Support, ...]:
    if in_a_row < 1:
        return ()
    margin_mm = length_mm / 32
    step_mm = (length_mm - 2 * margin_mm) / max(in_a_row - 1, 1)
    return tuple(
        Support(str(row * in_a_row + number + 1), margin_mm + number * step_mm, ("front", "rear")[row])
        for row in range(rows)
        for number in range(in_a_row)
    )
