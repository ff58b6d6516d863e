"""What repeated passes say whatever the true profile is.

Every pass reads the same unknown profile, one unknown height a station. Projecting it out of the equations leaves what
passes say about everything else (drift, slips, shifts) without any guess of the shape. Orthogonal projection of the
weighted equations, so that a fit of what is left equals the fit of everything together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.passes import CommonStations


@dataclass(frozen=True, slots=True, eq=False)
class UnknownProfile:
    """One unknown profile for every group of passes; ``group`` (passes,), ``weight`` (passes, m) is 1 / sd."""

    group: npt.NDArray[np.int64]
    weight: FloatArray

    @classmethod
    def common_to(cls, common: CommonStations, *, by_direction: bool) -> UnknownProfile:
        """One profile for all passes, or one for each direction (so that any reversal is allowed)."""
        passes, stations = common.value.shape[:2]
        group = np.where(common.forward, 0, 1) if by_direction else np.zeros(passes, dtype=np.int64)
        sd = common.standard_deviation
        return cls(group.astype(np.int64), np.ones((passes, stations)) if sd is None else 1.0 / sd)

    @property
    def groups(self) -> int:
        """How many profiles are unknown."""
        return int(np.unique(self.group).size)

    @property
    def equations(self) -> int:
        """How many independent equations are left."""
        return int((self.group.size - self.groups) * self.weight.shape[1])

    def projected(self, block: FloatArray) -> FloatArray:
        """Weighted rows (passes * m, columns) of ``block`` (passes, m, columns) without what any profile explains."""
        weighted = block * self.weight[..., None]
        out = np.empty_like(weighted)
        for which in np.unique(self.group):
            rows = self.group == which
            weight = self.weight[rows][..., None]
            share = (weighted[rows] * weight).sum(axis=0) / (weight**2).sum(axis=0)
            out[rows] = weighted[rows] - weight * share
        return np.asarray(out.reshape(block.shape[0] * block.shape[1], block.shape[2]))

    def estimate(self, value: FloatArray) -> FloatArray:
        """The profile (groups, m) that fits ``value`` (passes, m) best: the weighted mean of each group."""
        square = self.weight**2
        rows = [self.group == which for which in np.unique(self.group)]
        return np.stack([(value[row] * square[row]).sum(axis=0) / square[row].sum(axis=0) for row in rows])
