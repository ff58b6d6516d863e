"""What a bed must fulfil before anything is computed from it; each error names key and support."""

from __future__ import annotations

import math
from collections.abc import Iterable

from waywright.errors import BadInput
from waywright.machine.records import Bed, Support

ROWS = ("front", "middle", "rear")
KINDS = ("wedge-shoe", "jack-screw", "shim-pack", "side-jack", "anchor")
TURNS = ("clockwise", "anticlockwise")
LOADS = ("yes", "no")


def checked_bed(bed: Bed) -> Bed:
    """The same bed, if its figures make sense. Raises BadInput naming key and support otherwise."""
    _positive("length_mm", bed.length_mm)
    for key in ("gauge_mm", "row_distance_mm", "height_mm", "mass_kg", "bending_n_m2", "side_bending_n_m2"):
        _positive(key, getattr(bed, key))
    _positive("torsion_n_m2", bed.torsion_n_m2)
    _one_of("rails", bed.rails, (1, 2), None)
    for joint in bed.joints:
        _within("joint.bed_mm", joint.bed_mm, bed.length_mm, None)
        _positive("joint.extra_length_mm", joint.extra_length_mm)
    if bed.carriage is not None:
        _positive("carriage.pad_spacing_mm", bed.carriage.pad_spacing_mm)
        _not_negative("carriage.mass_kg", bed.carriage.mass_kg, None)
    for support in bed.supports:
        _checked_support(support, bed)
    _no_twins(bed)
    return bed


def _checked_support(support: Support, bed: Bed) -> None:
    name = support.name
    _within("bed_mm", support.bed_mm, bed.length_mm, name)
    _one_of("row", support.row, ROWS, name)
    _one_of("raise_turn", support.raise_turn, TURNS, name)
    if support.kind is not None:
        _one_of("kind", support.kind, KINDS, name)
    if support.load_felt is not None:
        _one_of("load_felt", support.load_felt, LOADS, name)
    for key in ("lift_um_per_turn", "largest_move_um", "seat_n_per_um"):
        _positive(key, getattr(support, key), name)
    _not_negative("smallest_step_um", support.smallest_step_um, name)
    if support.smallest_step_um > support.largest_move_um:
        raise BadInput("machine.step_above_move", support=name)


def _no_twins(bed: Bed) -> None:
    names: set[str] = set()
    places: dict[tuple[float, float | str, bool], str] = {}
    for support in bed.supports:
        if support.name in names:
            raise BadInput("machine.support_name_twice", support=support.name)
        names.add(support.name)
        place = (support.bed_mm, _across(bed, support), support.kind == "side-jack")
        if place in places:
            raise BadInput("machine.support_place_twice", support=support.name, other=places[place])
        places[place] = support.name


def _across(bed: Bed, support: Support) -> float | str:
    """Rows that nobody has measured yet are two places all the same."""
    known = support.across_mm is not None or bed.row_distance_mm or bed.gauge_mm
    return bed.support_across_mm(support) if known else support.row


def _positive(key: str, value: float | None, support: str | None = None) -> None:
    if value is not None and not (math.isfinite(value) and value > 0.0):
        raise BadInput("machine.not_positive", entry=_place(key, support), value=value)


def _not_negative(key: str, value: float, support: str | None) -> None:
    if not (math.isfinite(value) and value >= 0.0):
        raise BadInput("machine.negative", entry=_place(key, support), value=value)


def _within(key: str, value: float, length_mm: float, support: str | None) -> None:
    if not (math.isfinite(value) and 0.0 <= value <= length_mm):
        raise BadInput("machine.off_the_bed", entry=_place(key, support), value=value, length_mm=length_mm)


def _one_of(key: str, value: object, allowed: Iterable[object], support: str | None) -> None:
    choices = tuple(allowed)
    if value not in choices:
        raise BadInput(
            "machine.not_one_of", entry=_place(key, support), value=value, allowed=", ".join(str(c) for c in choices)
        )


def _place(key: str, support: str | None) -> str:
    return key if support is None else f"support[{support}].{key}"
