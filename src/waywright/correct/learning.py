"""Learning from what a turn did: Bayesian on the physical parameters, with contact.

One round gives a difference of two measured lines. Unknown before it: the stiffnesses, the settings of the supports,
what each turn really was. The difference does not depend on the machined-in form, which therefore never enters. The
posterior mode is found by damped Gauss-Newton steps through the full contact model (an iterated extended Kalman
update; B. M. Bell and F. W. Cathey, IEEE Trans. Automatic Control 38 (1993) 294), the covariance from the last step.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray

_STEPS = 25
_DAMPING = 1e-3
_TOO_DAMPED = 1e9


@dataclass(frozen=True, slots=True)
class TurningError:
    """How well a turn is made: standard deviation ``max(absolute_um, part * move)``."""

    absolute_um: float = 3.0
    part: float = 0.10

    def standard_deviation_um(self, moves_um: npt.ArrayLike) -> FloatArray:
        """Standard deviation (supports,) of each move; nothing where nothing was turned."""
        size = np.abs(np.asarray(moves_um, dtype=np.float64))
        return np.where(size > 0.0, np.maximum(self.absolute_um, self.part * size), 0.0)


Forward = Callable[[FloatArray], tuple[FloatArray, FloatArray]]
"""State -> predicted observation (n,) and its derivative (n, states)."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """Posterior mode, covariance, and how unlikely the observation was (squared distance over ``freedom``).

    ``cost`` is what remains at the mode, squared residuals plus squared departure from the prior; ``occam`` half the
    logarithm by which the prior was wider than the posterior: together they weigh one explanation against another
    (Laplace's approximation; D. J. C. MacKay, Information Theory, Inference, and Learning Algorithms, chapter 28).
    ``hanging`` are supports (indices) that turned out to have hung.
    """

    mean: FloatArray
    covariance: FloatArray
    distance: float
    freedom: int
    cost: float
    occam: float
    hanging: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Fit:
    """A prior and an observation with its noise, whitened: ready to be fitted from any start."""

    mean: FloatArray
    scale: FloatArray
    observed: FloatArray
    root: FloatArray
    forward: Forward

    def whitened(self, state: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Residual and slope in units of the noise."""
        predicted, slope = self.forward(state)
        return _solved(self.root, np.asarray(self.observed - predicted)), _solved(self.root, slope) @ self.scale

    def from_start(self, start: FloatArray) -> Fitted:
        """The posterior mode reached from a start, by damped Gauss-Newton steps."""
        part = _solved(self.scale, start - self.mean)  # state = mean + scale @ part, part standard normal beforehand
        residual, tangent = self.whitened(start)
        distance = _distance(residual, tangent)
        damping, cost = _DAMPING, float(residual @ residual + part @ part)
        for _ in range(_STEPS):
            hessian = tangent.T @ tangent + (1.0 + damping) * np.eye(part.size)
            trial = part + np.linalg.solve(hessian, tangent.T @ residual - part)
            new_residual, new_tangent = self.whitened(self.mean + self.scale @ trial)
            new_cost = float(new_residual @ new_residual + trial @ trial)
            if new_cost > cost:
                damping *= 10.0
                if damping > _TOO_DAMPED:
                    break
                continue
            done = cost - new_cost < 1e-5 * (1.0 + cost)
            part, residual, tangent, cost, damping = trial, new_residual, new_tangent, new_cost, damping / 5.0
            if done:
                break
        sharpened = tangent.T @ tangent + np.eye(part.size)
        spread = np.linalg.inv(sharpened)
        occam = float(np.linalg.slogdet(sharpened)[1]) / 2.0
        covariance = np.asarray(self.scale @ spread @ self.scale.T, dtype=np.float64)
        return Fitted(self.mean + self.scale @ part, covariance, distance, self.observed.size, cost, occam)


def fit_of(mean: FloatArray, covariance: FloatArray, observed: FloatArray, noise: FloatArray, forward: Forward) -> Fit:
    """A state's prior with an observation and its noise covariance (n, n)."""
    firm = covariance + np.diag(1e-12 + 1e-12 * np.diag(covariance))
    scale = np.asarray(np.linalg.cholesky(firm), dtype=np.float64)
    return Fit(mean, scale, observed, np.asarray(np.linalg.cholesky(noise), dtype=np.float64), forward)


def _distance(residual: FloatArray, tangent: FloatArray) -> float:
    """Squared distance of the observation from its prediction, in both uncertainties together."""
    return float(residual @ np.linalg.solve(np.eye(residual.size) + tangent @ tangent.T, residual))


def _solved(root: FloatArray, right: FloatArray) -> FloatArray:
    from scipy.linalg import solve_triangular

    return np.asarray(solve_triangular(root, right, lower=True, check_finite=False), dtype=np.float64)
