"""Records of a machine. Bed coordinates run along the bed from its left end as the operator sees it.

Position of a line is tied to bed coordinates by a named mark, so that a support is never paired with a reading from
elsewhere and two visits overlay.
"""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from waywright.quantities import Axes


@dataclass(frozen=True, slots=True)
class Mark:
    """A named place on the machine that positions are counted from."""

    name: str
    bed_mm: float


@dataclass(frozen=True, slots=True)
class Support:
    """A levelling element under the bed; ``name`` is what is painted on the floor."""

    name: str
    bed_mm: float
    row: str = "front"
    kind: str | None = None


@dataclass(frozen=True, slots=True)
class Travel:
    """Where the carriage of ``axis`` can stand, in bed coordinates of its functional point."""

    axis: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Bed:
    """The bed in side view. ``headstock_mm`` is the stretch that a headstock covers (from, to)."""

    length_mm: float
    supports: tuple[Support, ...] = ()
    headstock_mm: tuple[float, float] | None = None
    gauge_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine tool. ``invented`` marks demo and example data, everywhere it is shown."""

    id: UUID
    name: str
    kind: str
    axes: Axes
    bed: Bed | None = None
    marks: tuple[Mark, ...] = ()
    travels: tuple[Travel, ...] = ()
    serial: str | None = None
    owner: str | None = None
    invented: bool = False
