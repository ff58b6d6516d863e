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
    """Posterior mode, covariance, and how unlikely the observation was (squared distance over ``freedom``)."""

    mean: FloatArray
    covariance: FloatArray
    distance: float
    freedom: int


def fitted(
    mean: FloatArray, covariance: FloatArray, observed: FloatArray, noise: FloatArray, forward: Forward
) -> Fitted:
    """The posterior of a state given an observation with a noise covariance (n, n)."""
    root = np.asarray(np.linalg.cholesky(noise), dtype=np.float64)

    def whitened(state: FloatArray) -> tuple[FloatArray, FloatArray]:
        predicted, slope = forward(state)
        return _solved(root, np.asarray(observed - predicted)), _solved(root, slope)

    scale = np.linalg.cholesky(covariance + np.diag(1e-12 + 1e-12 * np.diag(covariance)))
    part = np.zeros(mean.size)  # state = mean + scale @ part, part standard normal beforehand
    residual, slope = whitened(mean)
    distance = _distance(residual, slope @ scale)
    damping, cost = _DAMPING, float(residual @ residual)
    for _ in range(_STEPS):
        tangent = slope @ scale
        gradient = tangent.T @ residual - part
        hessian = tangent.T @ tangent + np.eye(part.size)
        trial = part + np.linalg.solve(hessian + damping * np.eye(part.size), gradient)
        new_residual, new_slope = whitened(mean + scale @ trial)
        new_cost = float(new_residual @ new_residual + trial @ trial)
        if new_cost > cost:
            damping *= 10.0
            if damping > 1e9:
                break
            continue
        done = cost - new_cost < 1e-6 * (1.0 + cost)
        part, residual, slope, cost, damping = trial, new_residual, new_slope, new_cost, damping / 5.0
        if done:
            break
    tangent = slope @ scale
    spread = np.linalg.inv(tangent.T @ tangent + np.eye(part.size))
    return Fitted(mean + scale @ part, scale @ spread @ scale.T, distance, observed.size)


def _distance(residual: FloatArray, tangent: FloatArray) -> float:
    """Squared distance of the observation from its prediction, in both uncertainties together."""
    return float(residual @ np.linalg.solve(np.eye(residual.size) + tangent @ tangent.T, residual))


def _solved(root: FloatArray, right: FloatArray) -> FloatArray:
    from scipy.linalg import solve_triangular

    return np.asarray(solve_triangular(root, right, lower=True, check_finite=False), dtype=np.float64)
