"""What watching a pass works on and what it says: readings so far, and findings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray
from waywright.evaluate.passes import Traverse
from waywright.evaluate.results import Reason


class Remark(StrEnum):
    """What is wrong with a reading or a pass."""

    OUTLIER = "outlier"
    SCATTER = "scatter"
    MISSED = "missed-station"
    DOUBLED = "doubled-station"
    SPIKE = "spike"
    STEP = "step"
    SHIFT = "shift"
    CANNOT_TELL = "cannot-tell"
    CLOSURE = "closure"
    DRIFT = "drift"
    TEMPERATURE = "temperature"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was found. ``station`` (from 0, in the order of reading) is to be taken again, None: the pass."""

    remark: Remark
    why: Reason
    station: int | None = None
    position_mm: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class PassSoFar:
    """Readings of one pass in the order taken: position (n,), value (n,) in um (or um/m), standard deviation of the
    samples of each (n,) with their number. ``spacing_mm`` is the planned distance of stations, ``error`` (n,) the
    standard error of each value and ``time_s`` (n,) when it was read (from a moment common to all passes), where known.
    ``name`` and ``unit`` say for people what is read.
    """

    position_mm: npt.ArrayLike
    value: npt.ArrayLike
    direction: str
    spacing_mm: float
    sample_sd: npt.ArrayLike | None = None
    samples: int = 0
    error: npt.ArrayLike | None = None
    time_s: npt.ArrayLike | None = None
    name: str = "value"
    unit: str = "um"

    def traverse(self) -> Traverse:
        """As evaluation takes it."""
        return Traverse(self.position_mm, self.value, self.direction, self.time_s, self.error)

    def arrays(self) -> tuple[FloatArray, FloatArray]:
        """Positions and values (n,). Raises BadInput where they do not belong together."""
        x, y = np.asarray(self.position_mm, dtype=np.float64), np.asarray(self.value, dtype=np.float64)
        if x.ndim != 1 or x.shape != y.shape or not (np.isfinite(x).all() and np.isfinite(y).all()):
            raise BadInput("guard.pass_arrays", positions=x.size, values=y.size)
        return x, y

    def first(self, readings: int) -> PassSoFar:
        """The pass as it was after so many readings."""

        def so_far(values: npt.ArrayLike | None) -> FloatArray | None:
            return None if values is None else np.asarray(values, dtype=np.float64)[:readings]

        x, y = self.arrays()
        sd, error, time_s = so_far(self.sample_sd), so_far(self.error), so_far(self.time_s)
        return replace(self, position_mm=x[:readings], value=y[:readings], sample_sd=sd, error=error, time_s=time_s)

    @property
    def said(self) -> dict[str, object]:
        """What sentences call the values."""
        return {"channel": self.name, "unit": self.unit}


UNNAMED = PassSoFar((), (), "forward", 0.0).said
"""What sentences call values without a name."""
