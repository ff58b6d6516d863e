"""From a belief and measured lines to a better belief: placing the supports, and learning from a round."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from waywright.correct.arrays import FloatArray
from waywright.correct.belief import Belief, belief_of, split
from waywright.correct.hollow import HANGS_UM, below_contact, loose, with_contact_tried
from waywright.correct.learning import Fitted, TurningError, fit_of
from waywright.correct.linear import Answer, answer
from waywright.correct.response import BedModel

FORM_UM = 4.0
"""Standard deviation assumed of the form machined into the ways, when supports are placed under a measured line."""

FORM_LENGTHS_MM = (250.0, 600.0, 2500.0)
ALIKE_MM = 600.0
FORM_SCALES = {1.0: 0.6, 2.5: 0.3, 6.0: 0.1}
"""How probable it is beforehand that the form is so many times as large."""

HANGING_PART = 0.05
"""How probable it is beforehand that a support hangs."""

EVEN_PART, LEAST_UNEVEN_UM = 1.0, 15.0
"""Press of the supports as found: an even share, give or take as much; where one hangs, how low is left open."""

SOFTER, SUPPOSED, MOST_HANGING = 0.4, 4, 2
"""Standard deviations of a seat's logarithm below which it is suspected of hanging, how many at once, and at most."""

FREE_UM = 1e4
SAME_SETUP_UM = 2.0
MODEL_PART = 0.04
"""What the model leaves out (shear, seats that stiffen), as a part of the change seen."""

DRIFT_OF_LOG = 0.03
"""Seats change a little with every round."""


@dataclass(frozen=True, slots=True)
class Line:
    """A measured line as rows of the bed's shape: heights (and roll times gauge) in um.

    ``rows`` (n, shapes); ``free`` (n, freedoms) what the reference leaves free: offset and tilt of the heights, the
    level of the roll; ``along_mm`` (n,), ``group`` (n,) 0 for heights and 1 for roll; ``value_um`` (n,). ``loaded``
    says that the carriage stood at each station when it was read.
    """

    rows: FloatArray
    free: FloatArray
    along_mm: FloatArray
    group: FloatArray
    value_um: FloatArray
    noise_um: FloatArray
    loaded: bool = False


def placed(belief: Belief, model: BedModel, line: Line) -> Belief:
    """Settings of the supports under a measured line, so that contact and loads can be foretold.

    The ways count as straight while the bed lay level under its own weight, as it was machined, but for a form of a
    few um, which is part of the line and does not tell of the supports. A line that the bed could only follow with
    supports hanging may as well be worn or machined so: of a larger form and of hanging supports the more probable
    is believed.
    """
    if belief.placed or model.anchored.all():  # anchored supports answer to moves alone, wherever they stand
        return belief
    count = len(belief.supports)
    start = np.array(belief.mean)
    line = replace(line, value_um=line.value_um - mass_sag(model, belief, line))
    start[2 + count :] = _settings_guess(model, belief, line)

    def forward(state: FloatArray) -> tuple[FloatArray, FloatArray]:
        made = _answer(model, state)
        level = model.level_shape(split(state, count)[0])
        slopes = np.hstack([made.to_stiffness, made.to_setting])
        slopes[:, 0] += level  # the sag between level supports falls as the bed grows stiffer
        return line.rows @ (made.rest.shape - level), line.rows @ slopes

    doubt = np.array(belief.covariance)
    carrying = doubt.copy()
    even = model.share_n / belief.stiffness.seat_n_per_um
    carrying[2 + count :, 2 + count :] = np.diag(np.maximum(EVEN_PART * even, LEAST_UNEVEN_UM) ** 2)

    def fitted(scale: float) -> tuple[float, Fitted]:
        noise = scale**2 * _form(line) + np.diag(line.noise_um**2) + FREE_UM**2 * line.free @ line.free.T
        found = fit_of(start, carrying, line.value_um, noise, forward).from_start(start)
        hanging = int(loose(model, found.mean).sum())
        doubted = 2.0 * found.occam + float(np.linalg.slogdet(noise)[1])
        return found.cost + doubted - 2.0 * np.log(FORM_SCALES[scale] * HANGING_PART**hanging), found

    found = min((fitted(scale) for scale in FORM_SCALES), key=lambda each: each[0])[1]
    mean, covariance = below_contact(model, found.mean, found.covariance, start, doubt)
    return belief_of(belief.supports, mean, covariance, placed=True, rounds=belief.rounds)


def mass_sag(model: BedModel, belief: Belief, line: Line) -> FloatArray:
    """What the moving mass presses the values (n,) down by where it stands, with every support carrying."""
    if not line.loaded or model.bed.carriage is None:
        return np.zeros(line.value_um.size)
    everywhere = np.ones(len(belief.supports), dtype=np.bool_)
    stiff = model.on_springs(belief.stiffness).stiffness_with(everywhere)
    shapes = np.linalg.solve(stiff, (model.loads(line.along_mm) - model.load()).T).T
    return np.asarray((line.rows * shapes).sum(axis=1), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class RoundSeen:
    """What one round did: change of the line's values (n,), the moves asked for, and how they were made.

    ``extra_um`` (supports,) doubts some moves more than that; ``hanging`` are supports (indices) that are supposed to
    have hung before the round, nobody knows how low.
    """

    change_um: FloatArray
    moves_um: FloatArray
    turning: TurningError
    same_setup: bool
    extra_um: FloatArray | None = None
    hanging: tuple[int, ...] = ()


def learnt(belief: Belief, model: BedModel, line: Line, seen: RoundSeen) -> tuple[Belief, Fitted]:
    """The belief after a round, and the fit with its distance from what was expected.

    A support that hung unknown to everybody answers like one on a very soft seat; which of both is believed is weighed
    for the supports that seem to have become soft, one after the other.
    """
    best = learnt_supposing(belief, model, line, seen)
    while not model.anchored.all() and len(seen.hanging) < MOST_HANGING:
        supposed = [replace(seen, hanging=(*seen.hanging, i)) for i in _seemingly_soft(belief, best[0], model, seen)]
        trials = [(learnt_supposing(belief, model, line, each), each) for each in supposed]
        if not trials:
            break
        (better, as_seen) = min(trials, key=lambda trial: _unlikely(*trial))
        if _unlikely(better, as_seen) >= _unlikely(best, seen):
            break
        # how far the round was from what was expected stays what it was before anything was supposed
        best, seen = (better[0], replace(better[1], distance=best[1].distance, hanging=as_seen.hanging)), as_seen
    return best


def _unlikely(found: tuple[Belief, Fitted], seen: RoundSeen) -> float:
    """Twice the negative logarithm of how probable an explanation is, up to a constant."""
    return found[1].cost + 2.0 * found[1].occam - 2.0 * len(seen.hanging) * float(np.log(HANGING_PART))


def _seemingly_soft(before: Belief, after: Belief, model: BedModel, seen: RoundSeen) -> list[int]:
    """Supports that rest and whose seats have come out much softer than believed, softest first."""
    count = len(before.supports)
    spread = np.sqrt(np.diag(np.array(before.covariance)))[2 : 2 + count]
    softer = (np.array(before.mean) - np.array(after.mean))[2 : 2 + count] / spread
    order = [int(i) for i in np.argsort(-softer) if softer[i] > SOFTER and not model.anchored[i]]
    return [i for i in order if i not in seen.hanging][:SUPPOSED]


def learnt_supposing(belief: Belief, model: BedModel, line: Line, seen: RoundSeen) -> tuple[Belief, Fitted]:
    """The belief after a round for one supposition of what hung before it."""
    count = len(belief.supports)
    mean, covariance = _with_turns(_supposed(belief, model, seen.hanging), seen)
    noise = _noise(line, seen)

    def forward(state: FloatArray) -> tuple[FloatArray, FloatArray]:
        before, turn = state[: 2 + 2 * count], state[2 + 2 * count :]
        after = before.copy()
        after[2 + count :] += turn
        first, second = _answer(model, before), _answer(model, after)
        predicted = line.rows @ (second.rest.shape - first.rest.shape)
        slopes = np.hstack(
            [
                second.to_stiffness - first.to_stiffness,
                second.to_setting - first.to_setting,
                second.to_setting,
            ]
        )
        return predicted, line.rows @ slopes

    found = with_contact_tried(model, fit_of(mean, covariance, seen.change_um, noise, forward))
    onward = np.eye(2 + 2 * count, mean.size)
    onward[2 + count :, 2 + 2 * count :] = np.eye(count)
    fitted_mean, fitted_covariance = below_contact(
        model,
        onward @ found.mean,
        onward @ found.covariance @ onward.T,
        onward @ mean,
        onward @ covariance @ onward.T,
    )
    drift = np.zeros(2 + 2 * count)
    drift[2 : 2 + count] = DRIFT_OF_LOG**2
    whole = fitted_covariance + np.diag(drift)
    after = belief_of(belief.supports, fitted_mean, whole, placed=belief.placed, rounds=belief.rounds + 1)
    return after, found


def expected_change(belief: Belief, model: BedModel, line: Line, moves_um: FloatArray) -> FloatArray:
    """Change of the line's values (n,) that the belief expects of moves, contact included."""
    stiffness, setting = belief.stiffness, belief.setting_um
    before = model.rest(stiffness, setting).shape
    after = model.rest(stiffness, setting + moves_um).shape
    change: FloatArray = line.rows @ (after - before)
    return change


def _supposed(belief: Belief, model: BedModel, hanging: tuple[int, ...]) -> Belief:
    """The belief if some supports had hung; their seats are as they were believed, how low they hang is not known."""
    if not hanging:
        return belief
    count = len(belief.supports)
    mean, covariance = np.array(belief.mean), np.array(belief.covariance)
    for i in hanging:
        at = 2 + count + i
        mean[at] = -1e6  # out of the way while the others are asked where the bed lies without it
    over = model.at @ model.rest(belief.stiffness, mean[2 + count :]).shape
    for i in hanging:
        at = 2 + count + i
        mean[at] = over[i] - HANGS_UM
        covariance[at, :] = covariance[:, at] = 0.0
        covariance[at, at] = HANGS_UM**2
    return belief_of(belief.supports, mean, covariance, placed=belief.placed, rounds=belief.rounds)


def _with_turns(belief: Belief, seen: RoundSeen) -> tuple[FloatArray, FloatArray]:
    count = len(belief.supports)
    doubt = seen.turning.standard_deviation_um(seen.moves_um) ** 2
    if seen.extra_um is not None:
        doubt = doubt + seen.extra_um**2
    covariance = np.zeros((2 + 3 * count, 2 + 3 * count))
    covariance[: 2 + 2 * count, : 2 + 2 * count] = np.array(belief.covariance)
    covariance[2 + 2 * count :, 2 + 2 * count :] = np.diag(doubt + 1e-6)
    return np.concatenate([np.array(belief.mean), seen.moves_um]), covariance


def _noise(line: Line, seen: RoundSeen) -> FloatArray:
    """Two readings' noise, what the model leaves out, and offset and tilt: unknown unless the set-up stayed."""
    rms = float(np.sqrt(np.mean(seen.change_um**2)))
    loose = SAME_SETUP_UM if seen.same_setup else FREE_UM
    noise = 2.0 * np.diag(line.noise_um**2) + loose**2 * line.free @ line.free.T
    whole: FloatArray = noise + (MODEL_PART * rms) ** 2 * _alike(line)
    return whole


def _form(line: Line) -> FloatArray:
    """A form may be short, as between two supports, or a bow along the whole bed."""
    alike = [_alike(line, length_mm) for length_mm in FORM_LENGTHS_MM]
    form: FloatArray = FORM_UM**2 * np.mean(alike, axis=0)
    return form


def _alike(line: Line, length_mm: float = ALIKE_MM) -> FloatArray:
    """Correlation of errors along the bed, apart for heights and roll."""
    apart = np.abs(line.along_mm[:, None] - line.along_mm[None, :]) / length_mm
    together = line.group[:, None] == line.group[None, :]
    alike: FloatArray = np.exp(-(apart**2) / 2) * together + 1e-6 * np.eye(line.along_mm.size)
    return alike


def _answer(model: BedModel, state: FloatArray) -> Answer:
    stiffness, setting = split(state, len(model.supports))
    return answer(model, stiffness, model.rest(stiffness, setting))


def _settings_guess(model: BedModel, belief: Belief, line: Line) -> FloatArray:
    """Every support follows the line as far as the bed does, and carries an even share.

    The bed follows by bending, with no more energy than its weight on its seats has; beyond the stations it goes on
    straight.
    """
    stiffness = belief.stiffness
    even_um = model.share_n / stiffness.seat_n_per_um
    energy = max(float(even_um.sum()) * model.share_n / 2.0, 1e-6)
    bent = model.structure.stiffness(stiffness.bending_n_m2, stiffness.torsion_n_m2) / energy
    soft = 1e-6 * np.eye(model.at.shape[1])
    followed = line.rows.T @ line.rows / FORM_UM**2
    fit = np.linalg.solve(followed + bent + soft, line.rows.T @ line.value_um / FORM_UM**2)
    guess: FloatArray = model.at @ fit + even_um
    return guess
