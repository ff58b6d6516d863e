"""Evidence for steps and plateaus: one open amplitude on a ground that all of them share.

The readings' covariance on that ground (weak bow, roughness, errors) is the same for all; an edge adds one column to
it. Its evidence follows from two inner products (Sherman and Morrison), so hundreds of thousands of pairs of edges can
be asked. A plateau is the difference of two edges, its inner products are those of the edges.

The places asked stand in cells. Where readings are good, the middle of a cell may fit badly though the cell holds the
truth; so cells are picked by a flattened evidence (``edge_pairs``), a place is drawn inside, and what is drawn is
weighed by its exact evidence (importance sampling).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.evaluate.arrays import FloatArray, IntArray
from waywright.uncertainty.bed_shapes import Edges, edge
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.edge_pairs import REACH, PairDraw, PairTables, flat_weight

_PROPOSALS = 6000
_APART = 3  # of so many scales only the middle one is asked about pairs; the one drawn is any of them
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
        self.log_step = _log(step * known.weight)
        pairs = 2.0 * plateau * np.triu(np.outer(known.weight, known.weight), 1)  # a pair counts once
        self.log_pair = _log(pairs)
        self.single = np.einsum("me,sm,me->se", self.white, per_variance, self.white)
        self.coarse = np.arange(_APART // 2, square.size, _APART)
        coarse = per_variance[self.coarse], square[self.coarse]
        self.tables = PairTables.of(self.white, *coarse, self.log_pair) if plateau > 0.0 else None

    def candidates(self, reading: FloatArray, ground: FloatArray, member: int, seed: int) -> Candidates:
        """Edges drawn with their weights, for a whitened reading (m,) and the ground's evidence (scales,)."""
        start, jitter = _uniform(1, seed, _STREAM)[0], _uniform(_PROPOSALS * 5, seed, _STREAM + 1).reshape(-1, 5)
        scale, one, other, log_proposed = self._picked(reading, ground, start, jitter[:, 4])
        rises = np.hstack([self.known.inside(one, jitter[:, :2]), self.known.inside(other, jitter[:, 2:4])])
        gained = self._gained(scale, self.whiten @ self.shape(rises, self.x), reading)
        prior = np.where(other >= 0, self.log_pair[one, other], self.log_step[one])
        return Candidates(ground[scale] + prior + gained - log_proposed, scale, np.full(scale.size, member), rises)

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

    def _picked(
        self, reading: FloatArray, ground: FloatArray, start: float, share: FloatArray
    ) -> tuple[IntArray, IntArray, IntArray, FloatArray]:
        """Cells in proportion to their flattened weight: scale, edges (-1 for none), log of their probability."""
        product = (self.per_variance * reading) @ self.white  # (scales, edges)
        added = self.square[:, np.newaxis] * self.single
        gained = 0.5 * self.square[:, np.newaxis] * product**2 / (1.0 + added) - 0.5 * np.log1p(added)
        steps = ground[:, np.newaxis] + gained + self.log_step
        best, pairs, total = float(steps.max()), None, 0.0
        if self.tables is not None:
            # No pair can do better than a perfect fit, which costs the ground's own determinant only.
            perfect = ground + 0.5 * (self.per_variance * reading**2).sum(axis=1)
            possible = np.where(perfect > best - REACH, ground, -np.inf)[self.coarse]
            pairs = PairDraw(self.tables, product[self.coarse], possible)
            best = max(best, pairs.best)
            total = pairs.weigh(best)
        flat = flat_weight(steps - best).ravel()
        running = np.cumsum(flat)
        whole = float(running[-1]) + total
        target = (np.arange(_PROPOSALS) + start) * whole / _PROPOSALS
        alone = target < running[-1]
        picked = np.minimum(np.searchsorted(running, target[alone], side="right"), flat.size - 1)
        scale, one = np.divmod(picked, steps.shape[1])
        other, weight = np.full(picked.size, -1), flat[picked]
        if pairs is not None:
            found, more = pairs.pick(target[~alone] - running[-1])
            found[0] = np.minimum(found[0] * _APART + (share[~alone] * _APART).astype(int), ground.size - 1)
            scale, one, other = (np.concatenate(both) for both in zip((scale, one, other), found, strict=True))
            weight = np.concatenate([weight, more / _APART])
        return scale, one, other, np.log(weight * _PROPOSALS / whole)


def _uniform(count: int, seed: int, stream: int) -> FloatArray:
    from scipy.special import ndtr

    return np.asarray(ndtr(standard_normals(count, seed, stream=stream)))


def _log(weight: FloatArray) -> FloatArray:
    with np.errstate(divide="ignore"):
        return np.asarray(np.log(weight))
