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
    """A levelling element under the bed; ``name`` is what is painted on the floor.

    ``row`` is "front" (the operator's side), "rear" or "middle". ``kind`` is "wedge-shoe", "jack-screw", "shim-pack",
    "side-jack" or "anchor". ``lift_um_per_turn`` is what one turn of *this* adjuster lifts, ``raise_turn``
    ("clockwise" or "anticlockwise") the turning direction that lifts it. A resting support pushes only; an anchored
    one also pulls. ``load_felt`` is "yes", "no" or None (not tried); ``load_n`` where it was measured.
    ``across_mm`` is the distance from the bed's centre line, positive towards the operator; without it the row and
    the bed's ``row_distance_mm`` say it. ``seat_n_per_um`` is the stiffness of the seat, None is unknown.
    ``locked`` supports are never turned.
    """

    name: str
    bed_mm: float
    row: str = "front"
    kind: str | None = None
    lift_um_per_turn: float | None = None
    raise_turn: str = "clockwise"
    smallest_step_um: float = 5.0
    largest_move_um: float = 200.0
    anchored: bool = False
    load_felt: str | None = None
    load_n: float | None = None
    across_mm: float | None = None
    seat_n_per_um: float | None = None
    locked: bool = False


@dataclass(frozen=True, slots=True)
class Joint:
    """Where two parts of a bed are bolted together.

    A soft hinge: it bends and twists as if the bed were longer by ``extra_length_mm`` there.
    """

    bed_mm: float
    extra_length_mm: float


@dataclass(frozen=True, slots=True)
class Carriage:
    """The carriage on its pads.

    ``pad_spacing_mm`` is the distance between the outer pads along the bed, ``mass_kg`` what moves.
    ``functional_point_mm`` is (along, up, towards the operator) from the bearing centre.
    """

    pad_spacing_mm: float
    mass_kg: float = 0.0
    functional_point_mm: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Travel:
    """Where the carriage of ``axis`` can stand, in bed coordinates of its functional point."""

    axis: str
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Bed:
    """The bed in side view. ``headstock_mm`` is the stretch that a headstock covers (from, to).

    ``gauge_mm`` is the distance of the front from the rear guideway, ``row_distance_mm`` that of the rows of supports
    (the gauge, if not given). With ``rails`` 2 the rows carry two separate rails. Stiffness in N m2; None is unknown,
    a normal answer: then it is guessed from the size and widely doubted. ``mass_kg`` is the bed with what stands on
    it, without the carriage.
    """

    length_mm: float
    supports: tuple[Support, ...] = ()
    headstock_mm: tuple[float, float] | None = None
    gauge_mm: float | None = None
    row_distance_mm: float | None = None
    height_mm: float | None = None
    mass_kg: float | None = None
    bending_n_m2: float | None = None
    side_bending_n_m2: float | None = None
    torsion_n_m2: float | None = None
    joints: tuple[Joint, ...] = ()
    carriage: Carriage | None = None
    rails: int = 1

    def support_across_mm(self, support: Support) -> float:
        """Distance of a support from the centre line, positive towards the operator."""
        if support.across_mm is not None:
            return support.across_mm
        return self.row_across_mm(support.row, self.row_distance_mm or self.gauge_mm or 0.0)

    def guideway_across_mm(self, row: str | None) -> float:
        """Distance of a guideway ("front", "rear"; else the middle) from the centre line."""
        return self.row_across_mm(row or "middle", self.gauge_mm or self.row_distance_mm or 0.0)

    @staticmethod
    def row_across_mm(row: str, distance_mm: float) -> float:
        """Half the distance, towards the operator for "front", away for "rear", nothing for the middle."""
        return {"front": 0.5, "rear": -0.5}.get(row, 0.0) * distance_mm


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine tool. ``invented`` marks demo and example data, everywhere it is shown.

    ``site_id`` is the place where it stands, as an archive knows it.
    """

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
    site_id: UUID | None = None
