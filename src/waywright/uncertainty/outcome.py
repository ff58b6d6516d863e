"""What a Monte Carlo run leaves: equally likely values, and what is read off them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray

Kind = Literal["shortest", "symmetric"]


@dataclass(frozen=True, slots=True, eq=False)
class Outcome:
    """Equally likely values of a quantity, shape (draws,), in the order of the trials.

    ``nominal`` is the value computed from the readings as they are; ``stable`` tells whether an adaptive run reached
    its tolerance (None where the number of draws was given).
    """

    draws: FloatArray
    nominal: float
    seed: int
    stable: bool | None = None

    @property
    def trials(self) -> int:
        """How many values there are."""
        return int(self.draws.size)

    @property
    def mean(self) -> float:
        """Mean of the values (JCGM 101, 7.6)."""
        return float(self.draws.mean())

    @property
    def standard_uncertainty(self) -> float:
        """Standard deviation of the values (JCGM 101, 7.6)."""
        return float(self.draws.std(ddof=1)) if self.draws.size > 1 else 0.0

    @property
    def bias(self) -> float:
        """By how much the mean exceeds the nominal value; noise makes largest minus smallest larger."""
        return self.mean - self.nominal

    def interval(self, probability: float = 0.95, kind: Kind = "symmetric") -> tuple[float, float]:
        """A coverage interval: probabilistically symmetric, or the shortest one (JCGM 101, 7.7)."""
        if not 0.0 < probability < 1.0:
            raise BadInput("uncertainty.bad_probability", probability=probability)
        if kind not in ("shortest", "symmetric"):
            raise BadInput("uncertainty.bad_interval", kind=kind)
        if kind == "symmetric":
            # Ranks of one draw more than there are: so few draws hold another draw as often as many do.
            ends = [0.5 - probability / 2.0, 0.5 + probability / 2.0]
            low, high = np.quantile(self.draws, ends, method="weibull")
            return float(low), float(high)
        inside = min(self.trials - 1, math.floor(probability * self.trials + 0.5))
        ordered = np.sort(self.draws)
        widths = ordered[inside:] - ordered[: self.trials - inside]
        start = int(widths.argmin())
        return float(ordered[start]), float(ordered[start + inside])

    def probability_below(self, limit: float) -> float:
        """Share of the values at or below a limit."""
        return float((self.draws <= limit).mean())


def numerical_tolerance(standard_uncertainty: float, digits: int) -> float:
    """Half of the last of ``digits`` significant digits of a standard uncertainty (JCGM 101, 7.9.2)."""
    exponent = math.floor(math.log10(standard_uncertainty)) - digits + 1
    if round(standard_uncertainty / 10.0**exponent) >= 10**digits:  # 9.96 with two digits is 10
        exponent += 1
    return 0.5 * 10.0**exponent
