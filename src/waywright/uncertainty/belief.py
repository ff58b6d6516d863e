"""What the true profile may be, given the readings: draws of whole profiles on a fine grid.

Plain Monte Carlo about the measured profile adds a second helping of noise to the first: largest minus smallest grows,
and the interval misses the truth. Here the question is turned round (Bayes): among all true profiles of the population
(``bed_shapes``) those are drawn that, read with these influences, would have given these readings. What lies between
the stations, which no reading shows, is drawn with them, so sampling is part of the result.

For a family with fixed parameters and scale everything is normal, and its evidence is exact: with the covariance C of
the readings and K of the shape, in the coordinates where both are diagonal (generalised eigenvectors), one
decomposition serves all scales; steps and plateaus add one column to it (``edge_evidence``). Profiles are drawn by
conditioning a draw of the population on the readings (Matheron's rule). Level and tilt are left entirely free (flat
prior: universal kriging), because a guideway has none that the population could know.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.arrays import FloatArray, IntArray, values
from waywright.uncertainty.bed_shapes import COLUMNS, BedShapes, edges, smooth_shapes
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.edge_evidence import Candidates, EdgeEvidence
from waywright.uncertainty.outcome import Outcome

GRID_MM = 10.0
_SCALES = 24
_LEAST_SCATTER = 1e-10  # smallest to largest variance of the readings: below it there is no scatter at all
_KEPT = 16
_STREAM_CHOICE, _STREAM_SHAPE, _STREAM_ROUGH, _STREAM_NOISE = 101, 102, 103, 104

Disturbance: TypeAlias = Callable[[int], FloatArray | None]
"""Called with a number of draws: errors of the readings that depend on what was read, (n, draws), or None."""


def grid_over(start_mm: float, end_mm: float, step_mm: float = GRID_MM) -> FloatArray:
    """Evenly spaced places from start to end, at most ``step_mm`` apart, both ends included."""
    count = max(2, int(np.ceil((end_mm - start_mm) / step_mm - 1e-9)) + 1)
    return np.linspace(start_mm, end_mm, count)


def matern(a_mm: FloatArray, b_mm: FloatArray, length_mm: float) -> FloatArray:
    """Correlation of the roughness (Matern 3/2), shape (a, b)."""
    d = np.sqrt(3.0) * np.abs(np.subtract.outer(a_mm, b_mm)) / length_mm
    return np.asarray((1.0 + d) * np.exp(-d))


@dataclass(frozen=True, slots=True, eq=False)
class ProfileBelief:
    """Equally likely true profiles: ``profile`` (grid, draws) in the unit of the readings, ``grid_mm`` (grid,).

    ``family`` holds the probability of each family of shapes. The level and tilt of a profile are those the readings
    leave possible.
    """

    grid_mm: FloatArray
    profile: FloatArray
    family: dict[str, float]
    nominal: FloatArray
    station_mm: FloatArray
    seed: int

    def outcome(self, function: Callable[[FloatArray, FloatArray], FloatArray]) -> Outcome:
        """Distribution of any value of the profile: ``function(position_mm, profile)`` of one or many profiles."""
        nominal = float(function(self.station_mm, self.nominal[:, np.newaxis])[0])
        return Outcome(np.asarray(function(self.grid_mm, self.profile)), nominal, self.seed)

    def shuffled(self, order: IntArray) -> ProfileBelief:
        """The same profiles in another order."""
        return replace(self, profile=self.profile[:, order])

    def straightness(self, reference: str = "least-squares") -> Outcome:
        """Distribution of the straightness over the whole measured length."""
        return self.outcome(lambda x, y: straightness(x, y, reference).value_um)

    def deviation(self, position_mm: float, reference: str = "least-squares") -> Outcome:
        """Distribution of the deviation from the reference line at a place."""
        place = int(np.abs(self.grid_mm - position_mm).argmin())
        drawn = straightness(self.grid_mm, self.profile, reference).deviation_um[place]
        nearest = int(np.abs(self.station_mm - position_mm).argmin())
        nominal = float(straightness(self.station_mm, self.nominal, reference).deviation_um[nearest])
        return Outcome(np.asarray(drawn), nominal, self.seed)


class Believer:
    """Everything that depends on stations, influences and population only; then any readings at these stations.

    ``position_mm`` (n,) increasing; ``covariance`` (n, n) of the readings' errors in the readings' unit squared, noise
    and systematic parts alike. Raises BadInput for a covariance that is none.
    """

    def __init__(self, position_mm: npt.ArrayLike, covariance: FloatArray, shapes: BedShapes | None = None) -> None:
        self.shapes = shapes or BedShapes()
        self.x = np.asarray(position_mm, dtype=np.float64)
        self.grid_mm = _with_stations(self.x)
        self.at = np.searchsorted(self.grid_mm, self.x)
        self._length = float(self.x[-1] - self.x[0])
        self._smooth = smooth_shapes(self.shapes)
        self._at_stations = np.array([one.columns((self.x - self.x[0]) / self._length) for one in self._smooth])
        self._covariance = np.asarray(covariance, dtype=np.float64)
        self._root = _root(self._covariance, self.x.size)
        self._line = np.stack([np.ones_like(self.x), self._share(self.x)], axis=1)
        self._line_inverse = np.linalg.pinv(self._line)
        self._rough, self._rough_root = _roughness(
            self.grid_mm.tobytes(), self.shapes.roughness, self.shapes.roughness_length_mm
        )
        self._decompose()
        self._kept: dict[tuple[int, int], tuple[FloatArray, FloatArray, FloatArray]] = {}

    def _share(self, x: FloatArray) -> FloatArray:
        return np.asarray(2.0 * (x - self.x[0]) / (self.x[-1] - self.x[0]) - 1.0)

    def _decompose(self) -> None:
        """Coordinates without level and tilt, in which the errors have variance one and each shape is diagonal."""
        columns = self._at_stations
        shape = columns @ columns.transpose(0, 2, 1) + self._rough[np.ix_(self.at, self.at)]
        rest = np.linalg.qr(self._line, mode="complete")[0][:, 2:]
        seen = rest.T @ self._covariance @ rest
        spread = np.linalg.eigvalsh(seen)
        if spread[0] <= _LEAST_SCATTER * spread[-1]:
            raise BadInput("uncertainty.bad_covariance", shape=self._covariance.shape, stations=self.x.size)
        root = np.linalg.cholesky(seen)
        inverse = np.linalg.solve(root, rest.T)
        value, vector = np.linalg.eigh(inverse @ shape @ inverse.T)
        self._whiten = vector.transpose(0, 2, 1) @ inverse
        square = np.exp(2.0 * self._log_scales())
        variance = 1.0 + square[:, None, None] * np.maximum(value, 0.0)
        self._log_det = np.log(variance).sum(axis=2)
        self._per_variance = 1.0 / variance  # (scales, smooth shapes, n - 2)
        self._edge_evidence = EdgeEvidence(
            edges(self.shapes, self._length, float(np.diff(self.x).min())),
            self.x - self.x[0],
            self._whiten[-1],
            self._per_variance[:, -1],
            square,
            self.shapes.step,
            self.shapes.plateau,
        )

    def _log_scales(self) -> FloatArray:
        low, high = np.log(self.shapes.scale)
        return np.asarray(low + (high - low) * (np.arange(_SCALES) + 0.5) / _SCALES)

    def candidates(self, reading: FloatArray, seed: int) -> Candidates:
        """Shapes that readings (n,) leave possible, with the logarithm of their probability (not normalised)."""
        white = self._whiten @ reading  # (smooth shapes, n - 2)
        evidence = -0.5 * (np.einsum("shn,hn->sh", self._per_variance, white**2) + self._log_det)
        with np.errstate(divide="ignore"):
            smooth = evidence[:, :-1] + np.log([one.weight for one in self._smooth[:-1]])
        ground = len(self._smooth) - 1
        scale, member = np.divmod(np.arange(smooth.size), ground)
        found = Candidates(smooth.ravel(), scale, member, np.full((smooth.size, 4), np.nan))
        if self.shapes.step + self.shapes.plateau == 0.0:
            return found
        edge = self._edge_evidence.candidates(white[-1], evidence[:, -1], ground, seed)
        return Candidates(
            np.concatenate([found.log_weight, edge.log_weight]),
            np.concatenate([found.scale, edge.scale]),
            np.concatenate([found.member, edge.member]),
            np.concatenate([found.rises, edge.rises]),
        )

    def belief(
        self,
        reading: npt.ArrayLike,
        draws: int = 2000,
        seed: int = 1,
        *,
        disturbance: Disturbance | None = None,
    ) -> ProfileBelief:
        """Draws of the true profile given readings (n,); ``disturbance`` draws errors that depend on the readings."""
        y = values(reading, self.x, name="reading")
        possible = self.candidates(y, seed)
        weight = np.exp(possible.log_weight - possible.log_weight.max())
        weight /= weight.sum()
        chosen = _chosen(weight, draws, seed)
        drawn = np.broadcast_to(y[:, np.newaxis], (self.x.size, draws))
        errors = disturbance(draws) if disturbance is not None else None
        if errors is not None:
            drawn = drawn - errors
        profile = self._conditioned(drawn, possible, chosen, seed)
        return ProfileBelief(self.grid_mm, profile, self._families(possible, weight), y, self.x, seed)

    def _population(self, draws: int, seed: int) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Amplitudes (draws, columns), roughness (grid, draws) and errors of the readings (n, draws) of a seed.

        The last few are kept: judging many profiles at the same stations draws them once.
        """
        kept = self._kept.get((draws, seed))
        if kept is None:
            n, grid = self.x.size, self.grid_mm.size
            amplitude = standard_normals(draws * COLUMNS, seed, stream=_STREAM_SHAPE).reshape(draws, -1)
            rough = standard_normals(draws * grid, seed, stream=_STREAM_ROUGH).reshape(-1, draws)
            noise = standard_normals(draws * n, seed, stream=_STREAM_NOISE).reshape(n, draws)
            kept = (amplitude, self._rough_root @ rough, self._root @ noise)
            if len(self._kept) >= _KEPT:
                self._kept.pop(next(iter(self._kept)))
            self._kept[draws, seed] = kept
        return kept

    def _families(self, possible: Candidates, weight: FloatArray) -> dict[str, float]:
        ground = len(self._smooth) - 1
        of = {
            "bow": possible.member == 0,
            "wave": (possible.member > 0) & (possible.member < ground),
            "step": (possible.member == ground) & np.isnan(possible.rises[:, 2]),
            "plateau": ~np.isnan(possible.rises[:, 2]),
        }
        return {name: float(weight[these].sum()) for name, these in of.items()}

    def _conditioned(self, reading: FloatArray, possible: Candidates, chosen: IntArray, seed: int) -> FloatArray:
        """Population draws moved so that they agree with the readings (Matheron's rule), shape (grid, draws)."""
        scale, member = possible.scale[chosen], possible.member[chosen]
        size = np.exp(self._log_scales())[scale]
        amplitude, rough_drawn, noise = self._population(chosen.size, seed)
        edge_grid, edge_white = self._edge_shapes(possible, chosen)
        missing = reading - noise - size * rough_drawn[self.at] - size * edge_grid[self.at] * amplitude[:, 3]
        pull, moved = np.empty_like(missing), np.empty_like(amplitude)
        profile = np.empty((self.grid_mm.size, chosen.size))
        for one in np.unique(member):
            these = np.flatnonzero(member == one)
            ground = self._smooth[one].family == "edge"
            columns, s = self._at_stations[one], size[these]
            white = self._whiten[one] @ (missing[:, these] - s * (columns @ amplitude[these].T))
            per_variance = self._per_variance[scale[these], one].T
            solved = per_variance * white
            along = np.zeros(these.size)
            if ground:
                edge = edge_white[:, these]
                solved_edge = per_variance * edge
                along = s**2 * (edge * solved).sum(axis=0) / (1.0 + s**2 * (edge * solved_edge).sum(axis=0))
                solved = solved - along * solved_edge
            pull[:, these] = self._whiten[one].T @ solved * s**2
            moved[these] = s[:, np.newaxis] * amplitude[these] + pull[:, these].T @ columns
            share = (self.grid_mm - self.x[0]) / self._length
            profile[:, these] = self._smooth[one].columns(share) @ moved[these].T
            if ground:
                profile[:, these] += edge_grid[:, these] * (s * amplitude[these, 3] + along)
        profile += size * rough_drawn + self._rough[:, self.at] @ pull
        left = reading - noise - profile[self.at] - self._covariance @ (pull / size**2)
        grid_line = np.stack([np.ones_like(self.grid_mm), self._share(self.grid_mm)], axis=1)
        return np.asarray(profile + grid_line @ (self._line_inverse @ left))

    def _edge_shapes(self, possible: Candidates, chosen: IntArray) -> tuple[FloatArray, FloatArray]:
        """The step or plateau of each draw on the grid (grid, draws) and in the ground's coordinates; zero if none."""
        grid = np.zeros((self.grid_mm.size, chosen.size))
        these = possible.member[chosen] == len(self._smooth) - 1
        rises = possible.rises[chosen[these]]
        grid[:, these] = self._edge_evidence.shape(rises, self.grid_mm - self.x[0])
        return grid, self._whiten[-1] @ grid[self.at]


@lru_cache(maxsize=4)
def _roughness(grid_mm: bytes, size: float, length_mm: float) -> tuple[FloatArray, FloatArray]:
    """Covariance of the roughness on a grid and its root; judging a line again and again needs it but once."""
    x = np.frombuffer(grid_mm)
    covariance = size**2 * matern(x, x, length_mm)
    return covariance, np.asarray(np.linalg.cholesky(covariance + 1e-10 * np.eye(x.size)))


def _with_stations(x: FloatArray) -> FloatArray:
    """The grid, with the nearest places moved onto the stations."""
    grid = grid_over(float(x[0]), float(x[-1]))
    missing = x[np.abs(x[:, np.newaxis] - grid).min(axis=1) > 1e-9 * (x[-1] - x[0])]
    return np.unique(np.concatenate([grid, missing]))


def _root(covariance: FloatArray, n: int) -> FloatArray:
    c = np.asarray(covariance, dtype=np.float64)
    if c.shape != (n, n) or not np.isfinite(c).all():
        raise BadInput("uncertainty.bad_covariance", shape=c.shape, stations=n)
    try:
        return np.asarray(np.linalg.cholesky(c + 1e-12 * np.trace(c) / n * np.eye(n)))
    except np.linalg.LinAlgError:
        raise BadInput("uncertainty.bad_covariance", shape=c.shape, stations=n) from None


def _chosen(weight: FloatArray, draws: int, seed: int) -> IntArray:
    """Candidates in proportion to their weight: one random start, then even steps (systematic sampling)."""
    from scipy.special import ndtr

    start = float(ndtr(standard_normals(1, seed, stream=_STREAM_CHOICE)[0]))
    chosen = np.searchsorted(np.cumsum(weight), (np.arange(draws) + start) / draws)
    return np.asarray(np.minimum(chosen, weight.size - 1))
