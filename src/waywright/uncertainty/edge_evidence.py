"""Evidence for steps and plateaus: one open amplitude on a ground that all of them share.

The readings' covariance on that ground (weak bow, roughness, errors) is the same for all; an edge adds one column to
it. Its evidence follows from two inner products (Sherman and Morrison), so hundreds of thousands of pairs of edges can
be asked. A plateau is the difference of two edges, its inner products are those of the edges.

The places asked stand in cells. Where readings are good, the middle of a cell may fit badly though the cell holds the
truth; so cells are picked by a flattened evidence, a place is drawn inside, and what is drawn is weighed by its exact
evidence (importance sampling).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.evaluate.arrays import FloatArray, IntArray
from waywright.uncertainty.bed_shapes import Edges, edge
from waywright.uncertainty.draws import standard_normals

SingleArray: TypeAlias = npt.NDArray[np.float32]
_Found: TypeAlias = tuple[FloatArray, int, IntArray, IntArray | None]

_NEGLIGIBLE = 14.0  # a cell exp(-14) less likely than the best, flattened, is left out
_FLAT = 0.4  # power of the evidence that cells are picked with
_PROPOSALS = 6000
_STREAM = 111


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Hypotheses with the logarithm of weight times evidence, all (candidates,).

    ``scale`` is the number of the scale; ``member`` that of the smooth shape; ``rises`` (candidates, 4) holds place and
    length of the first and the second edge in mm, NaN for none.
    """

    log_weight: FloatArray
    scale: IntArray
    member: IntArray
    rises: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Cells:
    """Cells picked: scale, edges (second -1 for a step), log of weight times evidence in their middle."""

    log_weight: FloatArray
    scale: IntArray
    first: IntArray
    second: IntArray


class EdgeEvidence:
    """Steps and plateaus for readings in coordinates where the ground is diagonal.

    ``whiten`` (m, n) leads there from the stations at ``x`` (from the line's start); ``per_variance`` (scales, m) are
    reciprocal variances of the ground, ``square`` (scales,) squared scales; ``step`` and ``plateau`` the shares of the
    two families.
    """

    def __init__(
        self,
        known: Edges,
        x: FloatArray,
        whiten: FloatArray,
        per_variance: FloatArray,
        square: FloatArray,
        step: float,
        plateau: float,
    ) -> None:
        self.known, self.x, self.whiten, self.per_variance, self.square = known, x, whiten, per_variance, square
        self.white = whiten @ known.at(x).T
        self.step_weight, self.plateau = _log(step * known.weight), plateau
        self.single = np.einsum("me,sm,me->se", self.white, per_variance, self.white)
        self.gain, self.cost = self._pairs(known.weight)

    def _pairs(self, weight: FloatArray) -> tuple[SingleArray, SingleArray]:
        """Per scale and pair: what its squared inner product is multiplied with, and what it costs, its prior included.

        Square tables, because a difference of all with all costs less than looking pairs up; a pair counts once.
        """
        size = (self.square.size, weight.size, weight.size) if self.plateau > 0.0 else (0, 0, 0)
        gain, cost = np.empty(size, np.float32), np.empty(size, np.float32)
        prior = _log(2.0 * self.plateau * np.triu(np.outer(weight, weight), 1))
        for s in range(size[0]):
            inner = self.white.T @ (self.per_variance[s][:, np.newaxis] * self.white)
            own = np.diag(inner)
            added = self.square[s] * np.maximum(own[:, np.newaxis] + own - 2.0 * inner, 0.0)
            gain[s] = 0.5 * self.square[s] / (1.0 + added)
            cost[s] = 0.5 * np.log1p(added) - prior
        return gain, cost

    def candidates(self, reading: FloatArray, ground: FloatArray, member: int, seed: int) -> Candidates:
        """Edges drawn with their weights, for a whitened reading (m,) and the ground's evidence (scales,)."""
        cells = self._cells(reading, ground)
        flat = _FLAT * cells.log_weight
        share = np.exp(flat - flat.max())
        total = float(share.sum())
        start, jitter = _uniform(1, seed, _STREAM)[0], _uniform(_PROPOSALS * 4, seed, _STREAM + 1).reshape(-1, 4)
        picked = np.searchsorted(np.cumsum(share), (np.arange(_PROPOSALS) + start) * total / _PROPOSALS)
        picked = np.minimum(picked, share.size - 1)
        scale, one, other = cells.scale[picked], cells.first[picked], cells.second[picked]
        rises = np.hstack([self.known.inside(one, jitter[:, :2]), self.known.inside(other, jitter[:, 2:])])
        exact = self._gained(scale, self.whiten @ self.shape(rises, self.x), reading)
        middle = self.white[:, one] - np.where(other >= 0, self.white[:, other], 0.0)
        proposed = flat[picked] - flat.max() - np.log(total / _PROPOSALS)
        weight = cells.log_weight[picked] + exact - self._gained(scale, middle, reading) - proposed
        return Candidates(weight, scale, np.full(scale.size, member), rises)

    def shape(self, rises: FloatArray, x: FloatArray) -> FloatArray:
        """Steps and plateaus at places from the line's start, (n, candidates)."""
        first = edge(x[:, np.newaxis], rises[:, 0], rises[:, 1])
        return np.asarray(
            first - np.where(np.isnan(rises[:, 2]), 0.0, edge(x[:, np.newaxis], rises[:, 2], rises[:, 3]))
        )

    def _gained(self, scale: IntArray, white: FloatArray, reading: FloatArray) -> FloatArray:
        """By how much a column (m, candidates) raises the logarithm of the ground's evidence."""
        square, per_variance = self.square[scale], self.per_variance[scale].T
        added = square * (white**2 * per_variance).sum(axis=0)
        product = (white * per_variance * reading[:, np.newaxis]).sum(axis=0)
        return np.asarray(0.5 * square * product**2 / (1.0 + added) - 0.5 * np.log1p(added))

    def _cells(self, reading: FloatArray, ground: FloatArray) -> _Cells:
        """All cells not negligible even when flattened."""
        reach = _NEGLIGIBLE / _FLAT
        product = (self.per_variance * reading) @ self.white  # (scales, edges)
        added = self.square[:, np.newaxis] * self.single
        steps = (
            ground[:, np.newaxis]
            + 0.5 * self.square[:, np.newaxis] * product**2 / (1.0 + added)
            - 0.5 * np.log1p(added)
            + self.step_weight
        )
        best = float(steps.max())
        found: list[_Found] = [(steps[s], s, np.arange(steps.shape[1]), None) for s in range(self.square.size)]
        # No pair can do better than a perfect fit, which costs the ground's own determinant only.
        perfect = ground + 0.5 * (self.per_variance * reading**2).sum(axis=1)
        for s in np.flatnonzero(perfect > best - reach).tolist() if self.plateau > 0.0 else ():
            inner = product[s].astype(np.float32)
            pairs = inner[:, np.newaxis] - inner
            pairs *= pairs
            pairs *= self.gain[s]
            pairs -= self.cost[s]
            best = max(best, float(pairs.max()) + float(ground[s]))
            kept = np.flatnonzero(pairs > best - reach - float(ground[s]))
            first, second = np.divmod(kept, pairs.shape[1])
            found.append((pairs.ravel()[kept].astype(np.float64) + ground[s], s, first, second))
        return _kept(found, best - reach)


def _uniform(count: int, seed: int, stream: int) -> FloatArray:
    from scipy.special import ndtr

    return np.asarray(ndtr(standard_normals(count, seed, stream=stream)))


def _log(weight: FloatArray) -> FloatArray:
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(weight))


def _kept(found: list[_Found], least: float) -> _Cells:
    weight, scale, first, second = [], [], [], []
    for log_weight, number, one, other in found:
        kept = np.flatnonzero(log_weight > least)
        weight.append(log_weight[kept])
        scale.append(np.full(kept.size, number))
        first.append(one[kept])
        second.append(np.full(kept.size, -1) if other is None else other[kept])
    return _Cells(np.concatenate(weight), np.concatenate(scale), np.concatenate(first), np.concatenate(second))
