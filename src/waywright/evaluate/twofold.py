"""Numbers as an unevaluated sum of two doubles (about 32 digits), on whole arrays.

Where a fit cancels most digits of its data, a double is not enough and long double is no answer: on several
platforms it is a double again. Sums and products with their exact rounding errors: Knuth, The Art of Computer
Programming 2, 4.2.2; Dekker, Numer. Math. 18 (1971) 224.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray

_SPLIT = 134217729.0  # 2**27 + 1


@dataclass(frozen=True, slots=True)
class Twofold:
    """An array of sums ``high + low``; ``low`` is at most half a unit in the last place of ``high``."""

    high: FloatArray
    low: FloatArray

    @classmethod
    def of(cls, value: npt.ArrayLike) -> Twofold:
        """Exact numbers."""
        high = np.asarray(value, dtype=np.float64)
        return cls(high, np.zeros_like(high))

    def __add__(self, other: Twofold) -> Twofold:
        high, low = _sum(self.high, other.high)
        return _normal(high, low + (self.low + other.low))

    def __neg__(self) -> Twofold:
        return Twofold(-self.high, -self.low)

    def __sub__(self, other: Twofold) -> Twofold:
        return self + -other

    def __mul__(self, other: Twofold) -> Twofold:
        high, low = _product(self.high, other.high)
        return _normal(high, low + (self.high * other.low + self.low * other.high))

    def __getitem__(self, key: Any) -> Twofold:
        return Twofold(np.asarray(self.high[key]), np.asarray(self.low[key]))

    def sum(self) -> Twofold:
        """Sum over the first axis, in pairs."""
        total = self
        while total.high.shape[0] > 1:
            half = total.high.shape[0] // 2
            rest = total[2 * half :]
            total = total[:half] + total[half : 2 * half]
            if rest.high.shape[0]:
                total = Twofold(np.concatenate([total.high, rest.high]), np.concatenate([total.low, rest.low]))
        return total[0]

    def transposed(self) -> Twofold:
        """Axes turned round."""
        return Twofold(self.high.T, self.low.T)

    def rounded(self) -> FloatArray:
        """The nearest doubles."""
        return self.high + self.low

    def fractions(self) -> list[Fraction]:
        """The exact values of a one-axis array."""
        return [Fraction(h) + Fraction(low) for h, low in zip(self.high.tolist(), self.low.tolist(), strict=True)]


def stacked(columns: list[Twofold]) -> Twofold:
    """Columns side by side, along a new last axis."""
    return Twofold(np.stack([c.high for c in columns], -1), np.stack([c.low for c in columns], -1))


def _sum(a: FloatArray, b: FloatArray) -> tuple[FloatArray, FloatArray]:
    total = a + b
    part = total - a
    return total, (a - (total - part)) + (b - part)


def _normal(high: FloatArray, low: FloatArray) -> Twofold:
    total = high + low
    return Twofold(total, low - (total - high))


def _halves(a: FloatArray) -> tuple[FloatArray, FloatArray]:
    wide = a * _SPLIT
    high = wide - (wide - a)
    return high, a - high


def _product(a: FloatArray, b: FloatArray) -> tuple[FloatArray, FloatArray]:
    product = a * b
    (a_high, a_low), (b_high, b_low) = _halves(a), _halves(b)
    return product, a_low * b_low - (((product - a_high * b_high) - a_low * b_high) - a_high * b_low)
