"""How sure a plan is: the interval of the value from stiffness, settings, turning error and reading noise."""

from __future__ import annotations

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.belief import Belief, split
from waywright.correct.learning import TurningError
from waywright.correct.linear import answer
from waywright.correct.observing import Line
from waywright.correct.response import BedModel

DRAWS = 400
SEED = 20_240_607


def deviation_draws(
    belief: Belief,
    model: BedModel,
    line: Line,
    moves_um: FloatArray,
    deviation_um: FloatArray,
    turning: TurningError,
    draws: int = DRAWS,
) -> FloatArray:
    """Deviations (n, draws) as they may be read after the moves; linear around the plan, contact as planned."""
    stiffness, setting = belief.stiffness, belief.setting_um
    before = answer(model, stiffness, model.rest(stiffness, setting))
    after = answer(model, stiffness, model.rest(stiffness, setting + moves_um))
    slopes = np.hstack([after.to_stiffness - before.to_stiffness, after.to_setting - before.to_setting])
    rng = np.random.default_rng(SEED)
    doubt = rng.multivariate_normal(
        np.zeros(slopes.shape[1]), np.array(belief.covariance), draws, method="eigh", check_valid="ignore"
    )
    luck = rng.normal(0.0, 1.0, (draws, moves_um.size)) * turning.standard_deviation_um(moves_um)
    noise = rng.normal(0.0, np.sqrt(2.0), (draws, line.noise_um.size)) * line.noise_um
    shape = slopes @ doubt.T + after.to_setting @ luck.T
    drawn: FloatArray = deviation_um[:, None] + line.rows @ shape + noise.T
    return drawn


def draws_with_contact(
    belief: Belief, model: BedModel, line: Line, moves_um: FloatArray, turning: TurningError, draws: int
) -> FloatArray:
    """Lines (n, draws) as they may be after the moves, each by the full contact model, without reading noise.

    For supports that hang nobody knows how low, which the linear draws take at their most probable place.
    """
    count, rng = len(model.supports), np.random.default_rng(SEED)
    mean, hangs = np.array(belief.mean), ~model.rest(belief.stiffness, belief.setting_um).carrying
    states = rng.multivariate_normal(mean, np.array(belief.covariance), draws, method="eigh", check_valid="ignore")
    luck = rng.normal(0.0, 1.0, (draws, moves_um.size)) * turning.standard_deviation_um(moves_um)
    out = np.empty((line.value_um.size, draws))
    for draw, (state, turned) in enumerate(zip(states, moves_um + luck, strict=True)):
        stiffness, setting = split(state, count)
        before = model.rest(stiffness, setting)
        touches = hangs & before.carrying  # known to hang now
        setting = np.where(touches, model.at @ before.shape - 1.0, setting)
        before = model.rest(stiffness, setting)
        after = model.rest(stiffness, setting + turned)
        out[:, draw] = line.value_um + line.rows @ (after.shape - before.shape)
    return out


def value_draws(line: Line, drawn_um: FloatArray) -> FloatArray:
    """Value of each draw (draws,): heights against their best line, roll against its best level, the worse counts."""
    from waywright.evaluate import straightness

    if line.free.shape[1] > 3 or (line.free.shape[1] == 3 and (line.group == 0.0).all()):
        return _by_least_squares(line, drawn_um)
    heights, roll = line.group == 0.0, line.group == 1.0
    value = np.asarray(
        straightness(line.along_mm[heights], drawn_um[heights], reference="minimum-zone").value_um, dtype=np.float64
    )
    return np.maximum(value, np.ptp(drawn_um[roll], axis=0)) if roll.any() else value


def _by_least_squares(line: Line, drawn_um: FloatArray) -> FloatArray:
    """Several rows of heights share a tilt: the least-squares reference stands for the best one, a little above it."""
    fit = np.linalg.lstsq(line.free, drawn_um, rcond=None)[0]
    value: FloatArray = 2.0 * np.abs(drawn_um - line.free @ fit).max(axis=0)
    return value


def interval_95(value_um: FloatArray) -> tuple[float, float]:
    """The symmetric 95 % interval of draws."""
    low, high = np.percentile(value_um, [2.5, 97.5])
    return float(low), float(high)
