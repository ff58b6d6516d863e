"""Heights from angles: a level, autocollimator or other angular instrument that steps or runs along a guideway."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions, values


def heights_from_steps(tilt_um_per_m: npt.ArrayLike, base_mm: float | npt.ArrayLike) -> FloatArray:
    """Heights in um of the feet of a bridge moved by its own base length from step to step.

    ``tilt_um_per_m`` (steps,) or (steps, draws), positive when the front foot is higher; ``base_mm`` the distance of
    the feet, one number or one for each step. Returns one more height than tilts, the first 0: each step adds
    base x tilt. Raises BadInput for no tilts, NaN, or a base that is not positive.
    """
    tilt = np.asarray(tilt_um_per_m, dtype=np.float64)
    if tilt.ndim not in (1, 2) or tilt.shape[0] == 0:
        raise BadInput("evaluate.values_shape", name="tilt", shape=tilt.shape)
    base = np.broadcast_to(np.asarray(base_mm, dtype=np.float64), tilt.shape[:1])
    if not ((base > 0.0) & np.isfinite(base)).all():
        step = int(np.flatnonzero(~((base > 0.0) & np.isfinite(base)))[0])
        raise BadInput("evaluate.base_not_positive", base_mm=float(base[step]), step=step + 1)
    if not np.isfinite(tilt).all():
        raise BadInput("evaluate.tilt_not_a_number", step=int(np.argwhere(~np.isfinite(tilt))[0][0]) + 1)
    rise = tilt * (base / 1000.0).reshape(-1, *[1] * (tilt.ndim - 1))
    return np.concatenate([np.zeros_like(rise[:1]), rise.cumsum(axis=0)])


def heights_from_slopes(position_mm: npt.ArrayLike, slope_um_per_m: npt.ArrayLike) -> FloatArray:
    """Heights in um, the first 0, from slopes sampled at positions, by the trapezoid rule.

    ``position_mm`` (n,) increasing or decreasing, n >= 2; ``slope_um_per_m`` (n,) or (n, draws). The slope is that of
    the height over the position, whatever the sign of the angular error motion it comes from.
    """
    x = positions(position_mm, fewest=2)
    slope = values(slope_um_per_m, x, name="slope")
    step = np.diff(x)
    if not ((step > 0.0).all() or (step < 0.0).all()):
        station = int(np.flatnonzero(step * step[0] <= 0.0)[0]) + 1
        raise BadInput("evaluate.not_increasing", station=station + 1, position_mm=float(x[station]))
    rise = (slope[1:] + slope[:-1]) / 2 * (step / 1000.0).reshape(-1, *[1] * (slope.ndim - 1))
    return np.concatenate([np.zeros_like(rise[:1]), rise.cumsum(axis=0)])
