"""Which supports to turn, which way and how far."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.belief import Belief
from waywright.correct.hedging import LARGEST_ROWS, hedged
from waywright.correct.interval import deviation_draws, draws_with_contact, value_draws
from waywright.correct.learning import TurningError
from waywright.correct.linear import seat_forces
from waywright.correct.observing import Line
from waywright.correct.programme import Problem, Stated, least_remainder
from waywright.correct.response import BedModel
from waywright.correct.stepping import in_steps

AIMS = (0.3, 0.5, 0.7, 0.85)
"""Parts of the goal that a plan may aim at, to leave room for noise, turning error and doubt."""

SAFE_PART = 0.85
PRICE_OF_TURNING = 0.01
"""Value (um) that one um of turning is worth."""

DEFAULT_TURNING = TurningError()
_DRAWS, _HEDGED, _HEDGE_SEED = 150, 12, 4

SLACK = 1.10
"""Where the goal is out of reach, the remainder may be this much above the least, to save turning."""

KEEP_PART = 0.15
"""Part of its even share of the load that every support keeps."""

_CONTACT_ROUNDS = 6
_CONTACT_DRAWS = 60

UNSURE_UM = 25.0
"""A support that hangs and whose place is known no better than this may be further down than it looks."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What a plan is asked for: goal of the value (um), target form, supports that must stay, how many to touch."""

    goal_um: float
    locked: BoolArray
    target_um: FloatArray | None = None
    touched: BoolArray | None = None
    turning: TurningError = DEFAULT_TURNING


@dataclass(frozen=True, slots=True)
class Planned:
    """A plan checked with the full contact model.

    ``after_um`` (n,) the line foretold, ``deviation_um`` (n,) its distance from the best reference, ``value_um`` twice
    the largest; ``carrying`` (s,) after the moves, ``force_n`` (s,).
    """

    moves_um: FloatArray
    after_um: FloatArray
    deviation_um: FloatArray
    value_um: float
    carrying: BoolArray
    force_n: FloatArray


def planned(belief: Belief, model: BedModel, line: Line, wish: Wish) -> Planned:
    """The plan for a belief. Supports that hang nobody knows how low are raised only if that is worth the risk."""
    usual = _planned(belief, model, line, wish, np.ones(len(model.supports), dtype=np.bool_))
    hanging = hanging_unknown(belief, model)
    if not (usual.moves_um[hanging] != 0.0).any():
        return usual
    left = _planned(belief, model, line, replace(wish, locked=wish.locked | hanging), ~hanging)
    # what is good enough without them needs no risk
    offered = (usual, left) if left.value_um <= SAFE_PART * wish.goal_um else (usual,)
    return min(offered, key=lambda made: _risk(belief, model, line, wish, made.moves_um))


def hanging_unknown(belief: Belief, model: BedModel) -> BoolArray:
    """Supports (supports,) believed not to carry, and not known well how low they stand."""
    count = len(model.supports)
    spread = np.sqrt(np.diag(np.array(belief.covariance)))[2 + count :]
    loose = ~model.rest(belief.stiffness, belief.setting_um).carrying
    unknown: BoolArray = loose & (spread > UNSURE_UM)
    return unknown


def _risk(belief: Belief, model: BedModel, line: Line, wish: Wish, moves_um: FloatArray) -> float:
    """How far above the goal the value is on average, by the full contact model."""
    drawn = draws_with_contact(belief, model, line, moves_um, wish.turning, _CONTACT_DRAWS)
    above = np.maximum(value_draws(line, drawn - np.reshape(_target(wish), (-1, 1))) - SAFE_PART * wish.goal_um, 0.0)
    return float(above.mean()) + PRICE_OF_TURNING * float(np.abs(moves_um).sum())


def _planned(belief: Belief, model: BedModel, line: Line, wish: Wish, carrying: BoolArray) -> Planned:
    """Linear programmes for a contact set, until the full contact model agrees with it."""
    best: Planned | None = None
    for _ in range(_CONTACT_ROUNDS):
        problem = problem_for(belief, model, line, wish, carrying)
        made = checked(belief, model, line, wish, _moves(belief, model, line, problem, wish))
        if best is None or _worth(made) < _worth(best):
            best = made
        if (made.carrying == carrying).all():
            break
        carrying = made.carrying
    assert best is not None
    return best


def problem_for(belief: Belief, model: BedModel, line: Line, wish: Wish, carrying: BoolArray) -> Problem:
    """The linear problem if afterwards the supports ``carrying`` touch, whatever touches now."""
    stiffness, setting = belief.stiffness, belief.setting_um
    now = model.rest(stiffness, setting)
    by_shape, _ = seat_forces(model, stiffness, carrying)
    springs = model.on_springs(stiffness)
    still = np.linalg.solve(springs.stiffness_with(carrying), model.load()) + by_shape @ setting
    reach = np.array([support.largest_move_um for support in model.supports])
    free_to_turn = ~wish.locked if wish.touched is None else ~wish.locked & wish.touched
    keep = KEEP_PART * model.share_n / stiffness.seat_n_per_um
    return Problem(
        now_um=line.value_um - _target(wish) + line.rows @ (still - now.shape),
        influence=line.rows @ by_shape,
        free=line.free,
        lowest_um=np.where(free_to_turn, -reach, 0.0),
        highest_um=np.where(free_to_turn, reach, 0.0),
        press_um=setting - model.at @ still - keep,
        press_by=np.eye(reach.size) - model.at @ by_shape,
        resting=~model.anchored & carrying,
    )


def checked(belief: Belief, model: BedModel, line: Line, wish: Wish, moves_um: FloatArray) -> Planned:
    """What moves do by the full contact model."""
    stiffness, setting = belief.stiffness, belief.setting_um
    before = model.rest(stiffness, setting)
    after = model.rest(stiffness, setting + moves_um)
    reached = line.value_um + line.rows @ (after.shape - before.shape)
    value, deviation = best_fit(reached - _target(wish), line.free)
    return Planned(moves_um, reached, deviation, value, after.carrying, after.force_n)


def checked_under_mass(belief: Belief, model: BedModel, line: Line, wish: Wish, made: Planned) -> Planned:
    """The same with the moving mass at each station, before and after the moves: each place has its own contact."""
    if not line.loaded or model.bed.carriage is None or not model.bed.carriage.mass_kg > 0.0:
        return made
    stiffness, setting = belief.stiffness, belief.setting_um
    before = model.rests(stiffness, setting, line.along_mm)
    after = model.rests(stiffness, setting + made.moves_um, line.along_mm)
    reached = line.value_um + (line.rows * (after - before)).sum(axis=1)
    value, deviation = best_fit(reached - _target(wish), line.free)
    return replace(made, after_um=reached, deviation_um=deviation, value_um=value)


def lifting_off(belief: Belief, model: BedModel, line: Line, moves_um: FloatArray) -> BoolArray:
    """Supports (supports,) that carry after the moves but not with the moving mass at every station."""
    setting = belief.setting_um + moves_um
    lifted = np.zeros(setting.size, dtype=np.bool_)
    if line.loaded:
        shapes = model.rests(belief.stiffness, setting, np.unique(line.along_mm))
        lifted = ((setting - shapes @ model.at.T) <= 0.0).any(axis=0) & ~model.anchored
    carrying = model.rest(belief.stiffness, setting).carrying
    lifts: BoolArray = lifted & carrying
    return lifts


def best_fit(values_um: FloatArray, free: FloatArray) -> tuple[float, FloatArray]:
    """Value (twice the largest distance) and deviation (n,) from the reference that fits best."""
    nothing = np.zeros(0)
    alone = Problem(
        values_um, np.zeros((values_um.size, 0)), free, nothing, nothing, nothing, np.zeros((0, 0)), nothing > 0.0
    )
    fit = least_remainder(alone)
    return 2.0 * fit.remainder_um, values_um - free @ fit.reference


def _target(wish: Wish) -> FloatArray | float:
    return 0.0 if wish.target_um is None else wish.target_um


def _moves(belief: Belief, model: BedModel, line: Line, problem: Problem, wish: Wish) -> FloatArray:
    """The moves, in steps, that serve best in view of all that is not known.

    Aiming lower takes more turning, and more turning brings more doubt: several aims are tried on draws of the belief.
    """
    stated = Stated(problem)
    best = stated.least_remainder()
    aims = sorted({max(best.remainder_um * SLACK, part * wish.goal_um / 2) for part in AIMS})
    trials = [np.zeros(problem.supports), *(stated.least_moves(aim).moves_um for aim in aims)]
    hedge = _hedge(belief, model, line, problem, wish)
    if hedge is not None:
        trials.append(hedge)
    chosen = min(trials, key=lambda moves: _expected_miss(belief, model, line, wish, moves))
    step = np.array([support.smallest_step_um for support in model.supports])
    return in_steps(problem, chosen, step).moves_um


def _hedge(belief: Belief, model: BedModel, line: Line, problem: Problem, wish: Wish) -> FloatArray | None:
    """The plan over draws of the belief; not for long lines, where it would take too long."""
    if 2 * problem.now_um.size * _HEDGED > LARGEST_ROWS:
        return None
    rng = np.random.default_rng(_HEDGE_SEED)
    states = rng.multivariate_normal(
        np.array(belief.mean), np.array(belief.covariance), _HEDGED, method="eigh", check_valid="ignore"
    )
    carrying = problem.resting | model.anchored
    draws = [
        problem_for(replace(belief, mean=tuple(float(v) for v in state)), model, line, wish, carrying)
        for state in states
    ]
    return hedged(problem, draws, SAFE_PART * wish.goal_um, PRICE_OF_TURNING)


def _expected_miss(belief: Belief, model: BedModel, line: Line, wish: Wish, moves_um: FloatArray) -> float:
    """How far above the goal the value is on average, and a small price for turning."""
    deviation = checked(belief, model, line, wish, moves_um).deviation_um
    drawn = deviation_draws(belief, model, line, moves_um, deviation, wish.turning, draws=_DRAWS)
    above = np.maximum(value_draws(line, drawn) - SAFE_PART * wish.goal_um, 0.0)
    return float(above.mean()) + PRICE_OF_TURNING * float(np.abs(moves_um).sum())


def _worth(made: Planned) -> float:
    """Value, and a price for supports that would not carry."""
    return made.value_um + 5.0 * float((~made.carrying).sum())
