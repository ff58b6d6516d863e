"""Supports that do not carry: how far below the bed they stand is not seen, only that they do not touch.

The mode of the posterior then lies where they would just touch, which is the one place they hardly ever are. Their
belief becomes the prior cut off at contact (mean and variance of a truncated normal distribution; N. L. Johnson,
S. Kotz and N. Balakrishnan, Continuous Univariate Distributions 1, section 13.10.1).
"""

from __future__ import annotations

import math

import numpy as np

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.belief import split
from waywright.correct.learning import Fit, Fitted
from waywright.correct.response import BedModel

TOUCHING_PART = 0.08
"""A seat pressed by less than this part of its even share counts as not carrying."""

HANGS_UM = 80.0
"""How low a support may hang that nobody knew of: half as far as this or twice as far."""

_TRIALS = 3


def below_contact(
    model: BedModel, mean: FloatArray, covariance: FloatArray, before: FloatArray, doubt_before: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Posterior with the settings of supports that do not carry drawn from the prior below contact."""
    count = len(model.supports)
    mean, covariance = mean.copy(), covariance.copy()
    stiffness, setting = split(mean, count)
    over = model.at @ model.rest(stiffness, setting).shape
    for i in np.flatnonzero(loose(model, mean)):
        at = 2 + count + int(i)
        middle, spread = below(before[at], math.sqrt(doubt_before[at, at]), float(over[i]))
        mean[at] = middle
        covariance[at, :] = covariance[:, at] = 0.0
        covariance[at, at] = spread**2
    return mean, covariance


def loose(model: BedModel, mean: FloatArray) -> BoolArray:
    """Supports (supports,) that in this state touch with less than a small part of their even share, or not at all."""
    stiffness, setting = split(mean, len(model.supports))
    over = model.at @ model.rest(stiffness, setting).shape
    touching = TOUCHING_PART * model.share_n / stiffness.seat_n_per_um
    hanging: BoolArray = (setting - over < touching) & ~model.anchored
    return hanging


def below(middle: float, spread: float, edge: float) -> tuple[float, float]:
    """Mean and standard deviation of a normal distribution cut off above ``edge``."""
    from scipy.special import log_ndtr

    a = (edge - middle) / spread
    hazard = math.exp(-0.5 * a * a - 0.5 * math.log(2 * math.pi) - float(log_ndtr(a)))
    variance = max(1.0 - a * hazard - hazard * hazard, 1e-4)
    return middle - spread * hazard, spread * math.sqrt(variance)


def with_contact_tried(model: BedModel, fit: Fit) -> Fitted:
    """The best fit, also from starts where a support believed loose after the move touches.

    While a support is loose the observation has no slope by its setting, so no step would ever find it touching.
    """
    best = fit.from_start(fit.mean)
    if model.anchored.all():
        return best
    for _ in range(_TRIALS):
        trials = [fit.from_start(start) for start in _touching_starts(model, best.mean)]
        better = min(trials, key=lambda found: found.cost, default=best)
        if better.cost > best.cost - 1.0:
            break
        best = better
    return best


def _touching_starts(model: BedModel, state: FloatArray) -> list[FloatArray]:
    """For each loose support, the state with the support set to carry its share after the move."""
    count = len(model.supports)
    stiffness, setting = split(state[: 2 + 2 * count], count)
    after = setting + state[2 + 2 * count :]
    over = model.at @ model.rest(stiffness, after).shape
    starts = []
    for i in np.flatnonzero((after < over) & ~model.anchored):
        start = state.copy()
        start[2 + count + i] += over[i] - after[i] + model.share_n / stiffness.seat_n_per_um[i]
        starts.append(start)
    return starts
