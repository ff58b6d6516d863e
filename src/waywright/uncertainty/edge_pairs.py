"""All pairs of edges at once: what each pair of cells would explain, and a draw among them.

For a pair only two numbers are needed besides the inner products of the single edges, and they do not depend on the
readings (:class:`PairTables`). A pass over a million and a half pairs then takes some milliseconds. Single precision is
enough: what is drawn is weighed by its exact evidence afterwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.compiled import kernel
from waywright.evaluate.arrays import FloatArray, IntArray

SingleArray: TypeAlias = npt.NDArray[np.float32]

REACH = 40.0
"""A cell whose evidence lies this much (in logarithm) below the best is left out."""
_POWER = 4  # doublings: weights are (1 + d / REACH)^16, about exp(0.4 d) and cheap to compute
_ONE, _PER_REACH = np.float32(1.0), np.float32(1.0 / REACH)

_TABLES = "Array(float32, 2, 'C', readonly=True), " + ", ".join(["Array(float32, 3, 'C', readonly=True)"] * 2)


@kernel(f"void({_TABLES}, Array(float32, 1, 'C', readonly=True), float32[:, ::1])")
def _row_best(inner: SingleArray, gain: SingleArray, cost: SingleArray, ground: SingleArray, best: SingleArray) -> None:
    """The best pair of each row (scales, edges); rows of scales with no chance (ground -inf) stay untouched."""
    for s in range(inner.shape[0]):
        if ground[s] > -np.inf:
            for i in range(inner.shape[1] - 1):
                d = inner[s, i] - inner[s, i + 1 :]
                best[s, i] = (d * d * gain[s, i, i + 1 :] - cost[s, i, i + 1 :]).max() + ground[s]


@kernel(f"void({_TABLES}, Array(float32, 1, 'C', readonly=True), float32[:, ::1], float32, float32[:, :, ::1])")
def _weights(
    inner: SingleArray,
    gain: SingleArray,
    cost: SingleArray,
    ground: SingleArray,
    best: SingleArray,
    highest: np.float32,
    weight: SingleArray,
) -> None:
    """Flattened weights of all pairs with i < j, where the row has any."""
    for s in range(inner.shape[0]):
        above = ground[s] - highest
        for i in range(inner.shape[1] - 1):
            if (best[s, i] - highest) * _PER_REACH > -_ONE:
                d = inner[s, i] - inner[s, i + 1 :]
                w = np.maximum(
                    (d * d * gain[s, i, i + 1 :] - cost[s, i, i + 1 :] + above) * _PER_REACH + _ONE, np.float32(0.0)
                )
                for _ in range(_POWER):
                    w = w * w
                weight[s, i, i + 1 :] = w


@kernel("void(Array(float32, 3, 'C', readonly=True), Array(float32, 2, 'C', readonly=True), vector, int64[:, ::1])")
def _pick(weight: SingleArray, row: SingleArray, target: FloatArray, found: IntArray) -> None:
    """Scale, first and second edge at which the running sum of the weights passes each target (increasing)."""
    k, before = 0, 0.0
    for s in range(weight.shape[0]):
        for i in range(weight.shape[1]):
            if row[s, i] <= 0.0:
                continue
            until = before + row[s, i]
            sum_here, j = before, i
            while k < target.size and target[k] < until:
                while j + 1 < weight.shape[2] and sum_here <= target[k]:
                    j += 1
                    sum_here += weight[s, i, j]
                found[0, k], found[1, k], found[2, k] = s, i, j
                k += 1
            before = until
    while k < target.size:  # rounding at the very end
        found[0, k], found[1, k], found[2, k] = found[0, k - 1], found[1, k - 1], found[2, k - 1]
        k += 1


@dataclass(frozen=True, slots=True, eq=False)
class PairTables:
    """``gain`` and ``cost`` (scales, edges, edges): a pair explains gain times its squared inner product minus cost."""

    gain: SingleArray
    cost: SingleArray

    @staticmethod
    def of(white: FloatArray, per_variance: FloatArray, square: FloatArray, log_prior: FloatArray) -> PairTables:
        """From edges (m, edges) on a ground with reciprocal variances (scales, m); ``log_prior`` (edges, edges)."""
        size = (square.size, white.shape[1], white.shape[1])
        gain, cost = np.empty(size, np.float32), np.empty(size, np.float32)
        for s in range(square.size):
            inner = white.T @ (per_variance[s][:, np.newaxis] * white)
            own = np.diag(inner)
            added = square[s] * np.maximum(own[:, np.newaxis] + own - 2.0 * inner, 0.0)
            gain[s] = 0.5 * square[s] / (1.0 + added)
            cost[s] = np.minimum(0.5 * np.log1p(added) - log_prior, 1e9)
        return PairTables(gain, cost)


class PairDraw:
    """The weights of all pairs for one reading, and draws from them.

    ``inner`` (scales, edges) are the inner products of the readings with the single edges, ``ground`` (scales,) the
    ground's evidence, -inf where no pair can come near the best.
    """

    def __init__(self, tables: PairTables, inner: FloatArray, ground: FloatArray) -> None:
        self._tables, self._inner, self._ground = tables, inner.astype(np.float32), ground.astype(np.float32)
        self._points = tables.gain.size // 2
        self._best = np.full(inner.shape, -np.inf, np.float32)
        _row_best.choose(self._points)(self._inner, tables.gain, tables.cost, self._ground, self._best)
        self.best = float(self._best.max())

    def weigh(self, highest: float) -> float:
        """Flattened weights relative to ``highest`` (the best of all candidates); their sum."""
        self._weight = np.zeros(self._tables.gain.shape, np.float32)
        run = _weights.choose(self._points)
        arrays = self._inner, self._tables.gain, self._tables.cost, self._ground, self._best
        run(*arrays, np.float32(highest), self._weight)
        self._row = self._weight.sum(axis=2)
        return float(self._row.sum(dtype=np.float64))

    def pick(self, target: FloatArray) -> tuple[IntArray, FloatArray]:
        """Scale, first and second edge (3, k) for increasing targets (k,) below the sum, and their weights (k,)."""
        found = np.zeros((3, target.size), np.int64)
        if target.size:
            _pick.choose(self._points)(self._weight, self._row, target, found)
        return found, self._weight[found[0], found[1], found[2]].astype(np.float64)


def flat_weight(below: FloatArray) -> FloatArray:
    """The flattened weight of a cell whose evidence lies ``below`` (<= 0) the best."""
    return np.asarray(np.maximum(1.0 + below / REACH, 0.0) ** (2**_POWER))
