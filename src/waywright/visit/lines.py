"""Lines and the set-ups they are measured from."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

Offset = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """One thing measured along one direction.

    ``subject`` is "axis-motion" or "guideway": a carriage averages over its pads, so they differ. ``state`` is
    "as-found" or "as-left". ``from_mm`` and ``to_mm`` are the travel meant to be measured, as positions of the line.
    """

    id: UUID
    visit_id: UUID
    name: str
    axis: str
    subject: str = "axis-motion"
    from_mm: float | None = None
    to_mm: float | None = None
    state: str = "as-found"
    guideway: str | None = None


@dataclass(frozen=True, slots=True)
class SourceStand:
    """What the source stands on: "bed" (then ``bed_mm`` says where), "floor" or "other-part" (``part`` says which).

    A source clamped to the bed moves with the bed.
    """

    on: str
    bed_mm: float | None = None
    part: str | None = None


@dataclass(frozen=True, slots=True)
class PositionZero:
    """Position zero of the line, tied to a named mark of the machine.

    ``bed = mark.bed_mm + offset_mm + sense * position`` with ``sense`` +1 if positions grow to the right as the
    operator sees it, otherwise -1.
    """

    mark: str
    offset_mm: float = 0.0
    sense: int = 1


@dataclass(frozen=True, slots=True)
class InstrumentUse:
    """An instrument as it was used; ``description_sha256`` pins the description file that gave its bytes a meaning.

    ``instrument_id`` is the instrument of the house with its certificates; None without a serial number.
    """

    name: str
    title: str
    serial: str | None = None
    certificate: str | None = None
    certificate_due: str | None = None
    description_sha256: str | None = None
    instrument_id: UUID | None = None


@dataclass(frozen=True, slots=True)
class SetUp:
    """What the source stands on, what carries the detector, and where things are.

    ``detector_side`` is "tool" or "work". Offsets are in bed coordinates (along, up, towards the operator) in mm from
    the position that is read: detector, carriage bearing centre, functional point. None is "not recorded".
    """

    id: UUID
    line_id: UUID
    segment: int = 1
    detector_side: str | None = None
    source: SourceStand | None = None
    zero: PositionZero | None = None
    detector_offset_mm: Offset | None = None
    bearing_centre_mm: Offset | None = None
    functional_point_mm: Offset | None = None
    instruments: tuple[InstrumentUse, ...] = ()
    method: str | None = None
