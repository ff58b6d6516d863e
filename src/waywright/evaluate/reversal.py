"""Straightedge reversal: the machine's straightness and the straightedge's, from two sets of readings.

The straightedge is turned over about its length between the sets and the detector changes sides, so that its shape
comes in with the other sign and the machine's stays. In the vertical plane gravity bends the straightedge the
same way both times: that sag stays with the machine's part and has to be known.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions, values


@dataclass(frozen=True, slots=True, eq=False)
class Separated:
    """Deviations of machine and straightedge, (n,) or (n, draws), at ``position_mm`` (n,)."""

    position_mm: FloatArray
    machine_um: FloatArray
    straightedge_um: FloatArray


def straightedge_reversal(
    position_mm: npt.ArrayLike,
    normal_um: npt.ArrayLike,
    turned_um: npt.ArrayLike,
    sag_um: npt.ArrayLike | None = None,
) -> Separated:
    """Separate machine and straightedge.

    Readings in the machine's sign: ``normal_um`` = machine + straightedge (+ sag), ``turned_um`` = machine -
    straightedge (+ sag), each (n,) or (n, draws) at the same positions; ``sag_um`` (n,) the sag of the straightedge
    on its two supports in the sign of the readings, vertical plane only. The line of either set is free: take
    the result to ``straightness``. Raises BadInput like ``straightness``.
    """
    x = positions(position_mm)
    normal = values(normal_um, x, name="normal")
    turned = values(turned_um, x, name="turned")
    if normal.shape != turned.shape:
        raise BadInput("evaluate.sets_differ", normal=normal.shape, turned=turned.shape)
    sag = np.zeros_like(x) if sag_um is None else values(sag_um, x, name="sag")
    machine = (normal + turned) / 2.0 - sag.reshape(-1, *[1] * (normal.ndim - 1))
    return Separated(x, machine, (normal - turned) / 2.0)
