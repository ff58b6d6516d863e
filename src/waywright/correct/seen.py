"""What is seen of the bed: a guideway, or the carriage through its pads, in the frame of the source.

A reading is the detector against the source. A source clamped to the bed moves with the bed: its height and its tilt
there go out of every reading. Form shorter than the pads is averaged away by the carriage and not seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.structure import Structure
from waywright.errors import BadInput
from waywright.machine import Bed

MM = 1e-3
SAME_MM = 1e-3
QUANTITIES = ("guideway", "carriage")


@dataclass(frozen=True, slots=True)
class Source:
    """Where the source stands: ``bed_mm`` along the bed, on the guideway or foot ``across_mm`` from the centre line.

    ``foot_mm`` is the length it is clamped over; its tilt is that of the chord over the foot.
    """

    bed_mm: float
    across_mm: float = 0.0
    foot_mm: float = 100.0


@dataclass(frozen=True, slots=True)
class Stations:
    """Where something is measured, in bed coordinates, and what.

    ``across_mm`` (n,) is the guideway's distance from the centre line; a carriage is seen at its functional point.
    """

    along_mm: FloatArray
    across_mm: FloatArray
    quantity: str = "guideway"


def stations(bed: Bed, position_mm: FloatArray, row: str | Sequence[str] | None, quantity: str) -> Stations:
    """Stations along a guideway row (one for all, or one each). Raises BadInput for a station off the bed."""
    if quantity not in QUANTITIES:
        raise BadInput("correct.unknown_quantity", quantity=quantity, allowed=", ".join(QUANTITIES))
    if quantity == "carriage" and bed.carriage is None:
        raise BadInput("correct.no_carriage")
    rows = [row] * position_mm.size if row is None or isinstance(row, str) else list(row)
    if len(rows) != position_mm.size:
        raise BadInput("correct.lengths_differ", name="row", positions=position_mm.size, values=len(rows))
    off = (position_mm < -SAME_MM) | (position_mm > bed.length_mm + SAME_MM)
    if off.any():
        raise BadInput("correct.station_off_bed", position_mm=float(position_mm[off][0]), length_mm=bed.length_mm)
    across = np.array([bed.guideway_across_mm(name) for name in rows], dtype=np.float64)
    return Stations(position_mm, across, quantity)


def height_rows(structure: Structure, bed: Bed, seen: Stations) -> FloatArray:
    """Rows (stations, shapes) that give the height seen at each station, floor as reference."""
    along, across = seen.along_mm * MM, seen.across_mm * MM
    if seen.quantity == "guideway" or bed.carriage is None:
        return structure.height_rows(along, across)
    left, right = _pads(bed, along)
    point_along, _, point_across = (part * MM for part in bed.carriage.functional_point_mm)
    at_left, at_right = structure.height_rows(left), structure.height_rows(right)
    pitch = (at_right - at_left) / (right - left)[:, None]
    centre = (along - (left + right) / 2 + point_along)[:, None]
    roll = (structure.twist_rows(left) + structure.twist_rows(right)) / 2
    rows: FloatArray = (at_left + at_right) / 2 + centre * pitch + (across + point_across)[:, None] * roll
    return rows


def roll_rows(structure: Structure, bed: Bed, seen: Stations) -> FloatArray:
    """Rows (stations, shapes) that give the roll seen at each station in um/m, operator's side up positive."""
    along = seen.along_mm * MM
    if seen.quantity == "guideway" or bed.carriage is None:
        return structure.twist_rows(along)
    left, right = _pads(bed, along)
    rows: FloatArray = (structure.twist_rows(left) + structure.twist_rows(right)) / 2
    return rows


def source_rows(structure: Structure, seen: Stations, source: Source) -> FloatArray:
    """Rows (stations, shapes) of the source's line of sight at each station: its height and tilt carried along."""
    half = source.foot_mm * MM / 2
    ends = np.clip(np.array([source.bed_mm * MM - half, source.bed_mm * MM + half]), 0.0, structure.node_m[-1])
    at_left, at_right = structure.height_rows(ends, source.across_mm * MM)
    tilt = (at_right - at_left) / (ends[1] - ends[0])
    middle = (at_left + at_right) / 2
    rows: FloatArray = middle + (seen.along_mm * MM - ends.mean())[:, None] * tilt
    return rows


def _pads(bed: Bed, along_m: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Where the outer pads stand; at the end of the bed they stay on it."""
    assert bed.carriage is not None
    half = bed.carriage.pad_spacing_mm * MM / 2
    length = bed.length_mm * MM
    return np.clip(along_m - half, 0.0, length), np.clip(along_m + half, 0.0, length)
