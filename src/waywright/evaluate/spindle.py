"""Spindle to axis: a mandrel read along the axis at 0 degrees and turned by 180 degrees.

The mean of both is the axis of the spindle, half their difference the mandrel's own run-out and inclination. Gravity
bends mandrel and indicator holder the same way at 0 and at 180 degrees: that stays in the mean and must be known.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, PerDraw, positions, values
from waywright.evaluate.least_squares import fit


@dataclass(frozen=True, slots=True, eq=False)
class SpindleToAxis:
    """Direction of the spindle's axis against the axis of motion, in one plane, in the sign of the readings.

    ``spindle_um`` (n,) or (n, draws) is the spindle's axis as read, sags taken off; ``mandrel_um`` the mandrel's own
    part. ``angle_um_per_m`` and ``over_length_um`` (from the nearest to the farthest place): by least squares.
    ``sag_um`` (n,) what was taken off; ``angle_by_sag_um_per_m`` what it would have added to the angle.
    ``angle_uncertainty_um_per_m`` from the noise of one reading; None where that is not known.
    """

    position_mm: FloatArray
    spindle_um: FloatArray
    mandrel_um: FloatArray
    mandrel_angle_um_per_m: PerDraw
    angle_um_per_m: PerDraw
    over_length_um: PerDraw
    length_mm: float
    sag_um: FloatArray
    angle_by_sag_um_per_m: float
    angle_uncertainty_um_per_m: float | None


def spindle_to_axis(
    position_mm: npt.ArrayLike,
    at_0_um: npt.ArrayLike,
    at_180_um: npt.ArrayLike,
    *,
    mandrel_sag_um: npt.ArrayLike = 0.0,
    holder_sag_um: npt.ArrayLike = 0.0,
    noise_um: float | None = None,
) -> SpindleToAxis:
    """Spindle to axis from readings (n,) or (n, draws) near, far and between, at least two places.

    Sags (n,) or one number in the sign of the readings: what gravity adds to them (negative where up is positive),
    vertical plane only. A holder that sags the same at all places changes nothing. ``noise_um``: standard deviation of
    one reading. Raises BadInput for sets of different shape, or places that are all the same.
    """
    x = positions(position_mm, fewest=2)
    straight, turned = values(at_0_um, x, name="0 degrees"), values(at_180_um, x, name="180 degrees")
    if straight.shape != turned.shape:
        raise BadInput("geometry.sets_differ", first=straight.shape, second=turned.shape)
    sag = sum(values(np.broadcast_to(np.asarray(each, dtype=np.float64), x.shape), x, name="sag")
              for each in (mandrel_sag_um, holder_sag_um))  # fmt: skip
    sag = np.asarray(sag)
    columns = np.column_stack([np.ones_like(x), x])
    axis = (straight + turned) / 2.0 - sag.reshape(-1, *[1] * (straight.ndim - 1))
    own = (straight - turned) / 2.0
    found = fit(columns, axis)
    angle = (found.coefficient[1] * 1000.0)[()]
    length = float(np.ptp(x))
    spread = None if noise_um is None else noise_um / np.sqrt(2.0) * float(np.sqrt(found.cofactor[1, 1])) * 1000.0
    return SpindleToAxis(
        x, axis, own, (fit(columns, own).coefficient[1] * 1000.0)[()], angle, angle * length / 1000.0, length, sag,
        float(fit(columns, sag).coefficient[1]) * 1000.0, spread,
    )  # fmt: skip
