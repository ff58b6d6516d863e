"""Straightedge reversal: the machine's straightness and the straightedge's, from two sets of readings.

The straightedge is turned over about its length between the sets and the detector changes sides, so that its shape
comes in with the other sign and the machine's stays. In the vertical plane gravity bends the straightedge the
same way both times: that sag stays with the machine's part and has to be known (``gravity.straightedge_sag_um``).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions, values


@dataclass(frozen=True, slots=True, eq=False)
class Separated:
    """Deviations of machine and straightedge, (n,) or (n, draws), at ``position_mm`` (n,).

    ``machine_noise_um`` and ``straightedge_noise_um`` (n,): standard uncertainty of one value of each part, from the
    noise of both sets and, for the machine, from that of the sag; None where the noise was not given. Both parts share
    the readings: their errors are correlated by ``correlation`` (n,), 0 where both sets are equally noisy.
    ``sag_um`` (n,) is what was taken off the machine's part.
    """

    position_mm: FloatArray
    machine_um: FloatArray
    straightedge_um: FloatArray
    sag_um: FloatArray
    machine_noise_um: FloatArray | None = None
    straightedge_noise_um: FloatArray | None = None
    correlation: FloatArray | None = None


def straightedge_reversal(
    position_mm: npt.ArrayLike,
    normal_um: npt.ArrayLike,
    turned_um: npt.ArrayLike,
    sag_um: npt.ArrayLike | None = None,
    *,
    normal_sd_um: npt.ArrayLike | None = None,
    turned_sd_um: npt.ArrayLike | None = None,
    sag_uncertainty_um: npt.ArrayLike = 0.0,
) -> Separated:
    """Separate machine and straightedge.

    Readings in the machine's sign: ``normal_um`` = machine + straightedge (+ sag), ``turned_um`` = machine -
    straightedge (+ sag), each (n,) or (n, draws) at the same positions; ``sag_um`` (n,) the sag of the straightedge
    on its two supports in the sign of the readings, vertical plane only. Standard deviations of one value of each set,
    one number or (n,). The line of either set is free: take the result to ``straightness``. Raises BadInput like
    ``straightness``, and for a negative standard deviation.
    """
    x = positions(position_mm)
    normal = values(normal_um, x, name="normal")
    turned = values(turned_um, x, name="turned")
    if normal.shape != turned.shape:
        raise BadInput("evaluate.sets_differ", normal=normal.shape, turned=turned.shape)
    sag = np.zeros_like(x) if sag_um is None else values(sag_um, x, name="sag")
    machine = (normal + turned) / 2.0 - sag.reshape(-1, *[1] * (normal.ndim - 1))
    straightedge = (normal - turned) / 2.0
    if normal_sd_um is None or turned_sd_um is None:
        return Separated(x, machine, straightedge, sag)
    first, second, third = (_spread(each, x) for each in (normal_sd_um, turned_sd_um, sag_uncertainty_um))
    own, total = np.hypot(first, second) / 2.0, np.sqrt((first**2 + second**2) / 4.0 + third**2)
    product = np.where(own * total > 0.0, own * total, 1.0)
    return Separated(x, machine, straightedge, sag, total, own, (first**2 - second**2) / 4.0 / product)


def _spread(sd_um: npt.ArrayLike, x: FloatArray) -> FloatArray:
    spread = values(np.broadcast_to(np.asarray(sd_um, dtype=np.float64), x.shape), x, name="sd")
    if (spread < 0.0).any():
        raise BadInput("geometry.sd_negative", value=float(spread.min()))
    return spread
