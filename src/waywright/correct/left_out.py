"""What a plan leaves as it is, and why."""

from __future__ import annotations

from waywright.correct.notes import Note, note
from waywright.correct.plan import Plan

LEAST_LEFT_UM = 1.0
"""Less than this in the ways themselves is not worth a word."""


def left_out(plan: Plan) -> tuple[tuple[str, Note], ...]:
    """Pairs of what was not corrected (a support, or a part of the form) and the reason."""
    low, high = float(plan.measured.position_mm.min()), float(plan.measured.position_mm.max())
    out: list[tuple[str, Note]] = []
    for support in plan.model.supports:
        if support.name not in plan.locked:
            continue
        if support.locked:
            out.append((support.name, note("adjust.left_by_record", support=support.name)))
        elif not low <= support.bed_mm <= high:
            out.append((support.name, note("adjust.left_beyond_stations", support=support.name)))
        else:
            out.append((support.name, note("adjust.left_as_asked", support=support.name)))
    if plan.uncorrectable_um >= LEAST_LEFT_UM:
        out.append(("form", note("adjust.left_in_the_ways", value_um=plan.uncorrectable_um)))
    if plan.predicted_roll_um_per_m is None and len({support.row for support in plan.model.supports}) > 1:
        out.append(("twist", note("adjust.left_twist_unmeasured")))
    if plan.unseen_below_mm > 0.0:
        out.append(("short form", note("correct.unseen", length_mm=plan.unseen_below_mm)))
    out.extend(("joint", note("adjust.left_joint", bed_mm=joint.bed_mm)) for joint in plan.bed.joints)
    return tuple(out)
