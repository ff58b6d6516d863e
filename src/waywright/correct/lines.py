"""Measured heights and roll, turned into one line of values over the bed's shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray
from waywright.correct.observing import Line
from waywright.correct.response import BedModel
from waywright.correct.seen import MM, Source, stations
from waywright.errors import BadInput

LEAST_NOISE_UM = 0.1


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured, as the caller gave it. ``roll_um_per_m`` shares the positions."""

    position_mm: FloatArray
    height_um: FloatArray
    roll_um_per_m: FloatArray | None
    row: str | tuple[str, ...] | None
    quantity: str
    noise_um: float


def measured(
    position_mm: npt.ArrayLike,
    height_um: npt.ArrayLike,
    roll_um_per_m: npt.ArrayLike | None,
    row: str | Sequence[str] | None,
    quantity: str,
    noise_um: float,
) -> Measured:
    """Check and keep what was measured. Raises BadInput for lengths that differ or what is not a number."""
    position = np.array(position_mm, dtype=np.float64)
    if position.ndim != 1 or position.size < 3:
        raise BadInput("correct.too_few_stations", stations=int(position.size))
    columns = {"position": position, "height": np.array(height_um, dtype=np.float64)}
    if roll_um_per_m is not None:
        columns["roll"] = np.array(roll_um_per_m, dtype=np.float64)
    for name, values in columns.items():
        if values.shape != position.shape:
            raise BadInput("correct.lengths_differ", name=name, positions=int(position.size), values=int(values.size))
        if not np.isfinite(values).all():
            raise BadInput("correct.not_a_number", name=name, station=int(np.argmin(np.isfinite(values))) + 1)
    if not noise_um >= 0.0:
        raise BadInput("correct.negative_noise", noise_um=noise_um)
    rows = row if row is None or isinstance(row, str) else tuple(row)
    return Measured(
        position, columns["height"], columns.get("roll"), rows, quantity, max(float(noise_um), LEAST_NOISE_UM)
    )


def line(model: BedModel, seen: Measured, source: Source | None = None) -> Line:
    """The measured values over the bed's shape; roll counts as the height difference it makes over the gauge."""
    at = stations(model.bed, seen.position_mm, seen.row, seen.quantity)
    rows, values = [model.rows(at, source)], [seen.height_um]
    count, gauge_m = seen.position_mm.size, gauge(model)
    if seen.roll_um_per_m is not None:
        rows.append(model.roll_rows(at) * gauge_m)
        values.append(seen.roll_um_per_m * gauge_m)
    groups = len(rows)
    free = np.zeros((groups * count, 2 + (groups - 1)))
    middle = (seen.position_mm.min() + seen.position_mm.max()) / 2
    free[:count, 0], free[:count, 1] = 1.0, (seen.position_mm - middle) * MM
    if groups > 1:
        free[count:, 2] = 1.0
    # Two ways measured side by side lie at their own heights: whether they differ is for the roll to say.
    free = np.hstack([free, _row_offsets(seen, groups * count)])
    return Line(
        np.vstack(rows),
        free,
        np.tile(seen.position_mm, groups),
        np.repeat(np.arange(groups, dtype=np.float64), count),
        np.concatenate(values),
        np.full(groups * count, seen.noise_um),
        loaded=seen.quantity == "carriage" and not model.sideways,
    )


def gauge(model: BedModel) -> float:
    """Distance in m over which roll counts as a height difference."""
    return (model.bed.gauge_mm or model.bed.row_distance_mm or 1000.0) * MM


def _row_offsets(seen: Measured, size: int) -> FloatArray:
    """A free level for each further row where heights of several rows are given."""
    if not isinstance(seen.row, tuple):
        return np.zeros((size, 0))
    names = sorted(set(seen.row))
    columns = np.zeros((size, len(names) - 1))
    for column, name in enumerate(names[1:]):
        columns[: len(seen.row), column] = [1.0 if row == name else 0.0 for row in seen.row]
    return columns
