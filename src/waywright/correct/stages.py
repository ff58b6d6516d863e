"""The stages of levelling in the order of the trade; each is skipped when it is done.

Rough level and contact everywhere come first, then twist, height, side, joints, bolts. Twist and height share the
same supports and are planned together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from waywright.correct.notes import Note, note
from waywright.machine import Bed, Support

ROUGH_UM = 1000.0
"""A bed found further off than this is first levelled on few supports."""

BESSEL_PART = 0.2203
"""Distance of a Bessel point from the end, of the length: (1 - 0.5594) / 2."""

ROUGH, CONTACT, TWIST, HEIGHT, SIDE, JOINTS, BOLTS = "rough", "contact", "twist", "height", "side", "joints", "bolts"


@dataclass(frozen=True, slots=True)
class Found:
    """How a bed was found. Values in um (twist as height difference over the gauge); None is not measured.

    ``joints_checked`` and ``bolts_final`` say that these were done since the last move.
    """

    height_um: float
    height_goal_um: float
    twist_um: float | None = None
    twist_goal_um: float | None = None
    side_um: float | None = None
    side_goal_um: float | None = None
    joints_checked: bool = False
    bolts_final: bool = False


@dataclass(frozen=True, slots=True)
class Stage:
    """``state`` is "done", "now" or "later"; ``notes`` say what to do in it; ``supports`` are the ones concerned."""

    name: str
    state: str
    notes: tuple[Note, ...] = ()
    supports: tuple[str, ...] = ()


def stages(bed: Bed, found: Found) -> tuple[Stage, ...]:
    """All stages that concern this bed, with the one to do now."""
    made = [stage for stage, _ in _stages(bed, found)]
    done = [ready for _, ready in _stages(bed, found)]
    first = done.index(False) if False in done else len(done)
    together = _together(made, done, first)
    states = ["done" if ready else "now" if i == first or i in together else "later" for i, ready in enumerate(done)]
    return tuple(replace(stage, state=state) for stage, state in zip(made, states, strict=True))


def rough_supports(bed: Bed) -> tuple[str, ...]:
    """The few supports for the first level: the ones nearest to the Bessel points, in each row."""
    feet = [support for support in bed.supports if support.kind != "side-jack"]
    rows = sorted({support.row for support in feet})
    wanted = (BESSEL_PART * bed.length_mm, (1.0 - BESSEL_PART) * bed.length_mm)
    chosen: list[str] = []
    for row in rows:
        here = [support for support in feet if support.row == row]
        for place in wanted:
            nearest = min(here, key=lambda support: abs(support.bed_mm - place))
            if nearest.name not in chosen:
                chosen.append(nearest.name)
    return tuple(chosen)


def one_rail(bed: Bed, row: str) -> Bed:
    """One of two separate rails, as a bed of its own on its own row of supports."""
    own = tuple(_centred(support) for support in bed.supports if support.row == row)
    return replace(bed, supports=own, rails=1, gauge_mm=None, row_distance_mm=None)


def second_rail_heights(
    master_um: npt.ArrayLike, cross_um_per_m: npt.ArrayLike, gauge_mm: float, master_row: str = "front"
) -> npt.NDArray[np.float64]:
    """Heights (n,) of the other rail from the master's and a cross level (operator's side up positive).

    The master rail is brought straight first; the other then follows by cross level over the gauge.
    """
    step = np.asarray(cross_um_per_m, dtype=np.float64) * gauge_mm * 1e-3
    sign = -1.0 if master_row == "front" else 1.0
    heights: npt.NDArray[np.float64] = np.asarray(master_um, dtype=np.float64) + sign * step
    return heights


def _stages(bed: Bed, found: Found) -> list[tuple[Stage, bool]]:
    loose = tuple(support.name for support in bed.supports if support.load_felt == "no")
    rough = rough_supports(bed)
    out = [
        (
            Stage(ROUGH, "", (note("correct.stage_rough", supports=", ".join(rough)),), rough),
            found.height_um <= ROUGH_UM,
        ),
        (Stage(CONTACT, "", _loose_note(loose), loose), not loose),
    ]
    names = tuple(support.name for support in bed.supports if support.kind != "side-jack")
    if found.twist_um is not None and found.twist_goal_um is not None:
        out.append((Stage(TWIST, "", (note("correct.stage_twist"),), names), found.twist_um <= found.twist_goal_um))
    out.append((Stage(HEIGHT, "", (note("correct.stage_height"),), names), found.height_um <= found.height_goal_um))
    if found.side_um is not None and found.side_goal_um is not None:
        jacks = tuple(support.name for support in bed.supports if support.kind == "side-jack")
        key = "correct.stage_side" if jacks else "correct.stage_side_without_jacks"
        out.append((Stage(SIDE, "", (note(key),), jacks), found.side_um <= found.side_goal_um))
    if bed.joints:
        out.append((Stage(JOINTS, "", (note("correct.stage_joints"),)), found.joints_checked))
    if any(support.anchored for support in bed.supports):
        out.append((Stage(BOLTS, "", (note("correct.stage_bolts"),)), found.bolts_final))
    return out


def _loose_note(loose: Sequence[str]) -> tuple[Note, ...]:
    return (note("correct.stage_contact", supports=", ".join(loose)),) if loose else ()


def _together(made: Sequence[Stage], done: Sequence[bool], first: int) -> set[int]:
    """Height goes with twist: the same supports serve both."""
    if first < len(made) and made[first].name == TWIST:
        return {i for i, stage in enumerate(made) if stage.name == HEIGHT and not done[i]}
    return set()


def _centred(support: Support) -> Support:
    return replace(support, row="middle", across_mm=None)
