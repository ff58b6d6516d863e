"""The form wanted of a bed: flat, or a crown. A crown is higher in the middle, never lower: a bed settles by itself."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray
from waywright.correct.belief import prior
from waywright.correct.response import bed_model
from waywright.correct.seen import height_rows, stations
from waywright.errors import BadInput
from waywright.machine import Bed, checked_bed


def crown(position_mm: npt.ArrayLike, height_um: float) -> FloatArray:
    """A smooth crown (n,), a parabola that is ``height_um`` higher in the middle than at the outermost stations.

    Raises BadInput for a height below zero.
    """
    if not height_um >= 0.0:
        raise BadInput("adjust.crown_below_zero", crown_um=height_um)
    x = np.asarray(position_mm, dtype=np.float64)
    part = (x - x.min()) / max(float(np.ptp(x)), 1e-9)
    return np.asarray(4.0 * height_um * part * (1.0 - part), dtype=np.float64)


def crown_for_mass(bed: Bed, position_mm: npt.ArrayLike) -> FloatArray:
    """The crown (n,) of an unloaded guideway on which the moving mass then runs straight, convex and zero at its ends.

    It is what the way sinks under the carriage at each station by the machine record, about the line through the ends,
    made convex by its upper hull: dents between supports are nothing that supports could form. Raises BadInput where
    the record has no carriage with a mass.
    """
    model = bed_model(checked_bed(bed))
    if bed.carriage is None or not bed.carriage.mass_kg > 0.0:
        raise BadInput("adjust.no_moving_mass")
    x = np.asarray(position_mm, dtype=np.float64)
    springs = model.on_springs(prior(model).stiffness)
    everywhere = np.ones(len(model.supports), dtype=np.bool_)
    pressed = model.loads(x) - model.load()
    shapes = np.linalg.solve(springs.stiffness_with(everywhere), pressed.T).T
    rows = height_rows(model.structure, bed, stations(bed, x, None, "carriage"))
    sink = -(rows * shapes).sum(axis=1)
    return _convex(x, sink)


def _convex(x: FloatArray, height: FloatArray) -> FloatArray:
    """The upper hull over the positions, less the line through its ends."""
    order = np.argsort(x)
    hull: list[int] = []
    for i in (int(index) for index in order):
        while len(hull) >= 2 and _left_turn(x, height, hull[-2], hull[-1], i):
            hull.pop()
        hull.append(i)
    ends = [hull[0], hull[-1]]
    above = np.interp(x, x[hull], height[hull]) - np.interp(x, x[ends], height[ends])
    return np.asarray(np.maximum(above, 0.0), dtype=np.float64)


def _left_turn(x: FloatArray, y: FloatArray, a: int, b: int, c: int) -> bool:
    return bool((x[b] - x[a]) * (y[c] - y[a]) - (y[b] - y[a]) * (x[c] - x[a]) >= 0.0)
