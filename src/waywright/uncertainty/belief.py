"""What the true profile may be, given the readings: draws of whole profiles on a fine grid.

Plain Monte Carlo about the measured profile adds a second helping of noise to the first: largest minus smallest grows,
and the interval misses the truth. Here the question is turned round (Bayes): among all true profiles of the population
(``bed_shapes``) those are drawn that, read with these influences, would have given these readings. What lies between
the stations, which no reading shows, is drawn with them, so sampling is part of the result.

For a family with fixed parameters and scale everything is normal, and its evidence is exact: with the covariance C of
the readings and K of the shape, in the coordinates where both are diagonal (generalised eigenvectors), one
decomposition serves all scales. Profiles are drawn by conditioning a draw of the population on the readings
(Matheron's rule). Level and tilt are left entirely free (flat prior: universal kriging), because a guideway has none
that the population could know.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate import straightness
from waywright.evaluate.arrays import FloatArray, IntArray, values
from waywright.uncertainty.bed_shapes import COLUMNS, BedShapes, hypotheses
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.outcome import Outcome

GRID_MM = 10.0
_SCALES = 24
_LEAST_SCATTER = 1e-10  # smallest to largest variance of the readings: below it there is no scatter at all
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
        self.hypotheses = hypotheses(self.shapes, self._length)
        self._at_stations = np.array([one.columns(self.x - self.x[0], self._length) for one in self.hypotheses])
        self._log_weight = np.log([one.weight for one in self.hypotheses])
        self._covariance = np.asarray(covariance, dtype=np.float64)
        self._root = _root(self._covariance, self.x.size)
        self._line = np.stack([np.ones_like(self.x), self._share(self.x)], axis=1)
        self._line_inverse = np.linalg.pinv(self._line)
        self._rough = self.shapes.roughness**2 * matern(self.grid_mm, self.grid_mm, self.shapes.roughness_length_mm)
        self._rough_root = np.linalg.cholesky(self._rough + 1e-10 * np.eye(self.grid_mm.size))
        self._decompose()
        low, high = np.log(self.shapes.scale)
        self.scale = np.exp(low + (high - low) * (np.arange(_SCALES) + 0.5) / _SCALES)

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
        variance = 1.0 + np.exp(2.0 * self._log_scales())[:, None, None] * np.maximum(value, 0.0)
        self._log_det = np.log(variance).sum(axis=2)
        self._per_variance = 1.0 / variance  # (scales, hypotheses, n - 2)

    def _log_scales(self) -> FloatArray:
        low, high = np.log(self.shapes.scale)
        return np.asarray(low + (high - low) * (np.arange(_SCALES) + 0.5) / _SCALES)

    def weights(self, reading: FloatArray) -> FloatArray:
        """Probability of each scale and hypothesis given readings (n,), shape (scales, hypotheses)."""
        square = (self._whiten @ reading) ** 2
        log_evidence = -0.5 * (np.einsum("shn,hn->sh", self._per_variance, square) + self._log_det)
        log_evidence += self._log_weight
        weight = np.exp(log_evidence - log_evidence.max())
        return np.asarray(weight / weight.sum())

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
        weight = self.weights(y)
        scale, member = _chosen(weight, draws, seed)
        drawn = np.broadcast_to(y[:, np.newaxis], (self.x.size, draws))
        errors = disturbance(draws) if disturbance is not None else None
        if errors is not None:
            drawn = drawn - errors
        profile = self._conditioned(drawn, scale, member, seed)
        return ProfileBelief(self.grid_mm, profile, self._families(weight), y, self.x, seed)

    def _families(self, weight: FloatArray) -> dict[str, float]:
        each = weight.sum(axis=0)
        names = np.array([one.family for one in self.hypotheses])
        return {str(name): float(each[names == name].sum()) for name in dict.fromkeys(names)}

    def _conditioned(self, reading: FloatArray, scale: IntArray, member: IntArray, seed: int) -> FloatArray:
        """Population draws moved so that they agree with the readings (Matheron's rule), shape (grid, draws)."""
        draws, n = member.size, self.x.size
        size = np.exp(self._log_scales())[scale]
        amplitude = standard_normals(draws * COLUMNS, seed, stream=_STREAM_SHAPE).reshape(draws, -1)
        rough = standard_normals(draws * self.grid_mm.size, seed, stream=_STREAM_ROUGH).reshape(-1, draws)
        noise = self._root @ standard_normals(draws * n, seed, stream=_STREAM_NOISE).reshape(n, draws)
        rough_drawn = self._rough_root @ rough
        at_stations = self._at_stations[member]  # (draws, n, columns)
        prior = np.einsum("dnc,dc->nd", at_stations, amplitude) + rough_drawn[self.at]
        missing = reading - size * prior - noise
        whiten = self._whiten[member]
        white = np.einsum("dmn,nd->dm", whiten, missing) * self._per_variance[scale, member]
        pull = np.einsum("dmn,dm->nd", whiten, white) * size**2  # (n, draws)
        moved = size[:, np.newaxis] * amplitude + np.einsum("dnc,nd->dc", at_stations, pull)
        profile = size * rough_drawn + self._rough[:, self.at] @ pull
        for one in np.unique(member):
            these = np.flatnonzero(member == one)
            columns = self.hypotheses[one].columns(self.grid_mm - self.x[0], self._length)
            profile[:, these] += columns @ moved[these].T
        left = reading - noise - profile[self.at] - self._covariance @ (pull / size**2)
        grid_line = np.stack([np.ones_like(self.grid_mm), self._share(self.grid_mm)], axis=1)
        return np.asarray(profile + grid_line @ (self._line_inverse @ left))


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


def _chosen(weight: FloatArray, draws: int, seed: int) -> tuple[IntArray, IntArray]:
    """Scales and hypotheses in proportion to their weight: one random start, then even steps (systematic sampling)."""
    from scipy.special import ndtr

    start = float(ndtr(standard_normals(1, seed, stream=_STREAM_CHOICE)[0]))
    chosen = np.searchsorted(np.cumsum(weight.ravel()), (np.arange(draws) + start) / draws)
    chosen = np.minimum(chosen, weight.size - 1)
    return np.asarray(chosen // weight.shape[1]), np.asarray(chosen % weight.shape[1])
