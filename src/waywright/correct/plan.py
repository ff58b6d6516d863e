"""``plan_correction`` and ``update_belief``: arrays and a bed in, frozen records out."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import BoolArray, FloatArray
from waywright.correct.belief import Belief, prior
from waywright.correct.interval import deviation_draws, interval_95, value_draws
from waywright.correct.learning import TurningError
from waywright.correct.lines import Measured, gauge, line, measured
from waywright.correct.observing import Line, placed
from waywright.correct.planning import (
    DEFAULT_TURNING,
    Planned,
    Wish,
    best_fit,
    checked,
    checked_under_mass,
    lifting_off,
    planned,
    problem_for,
)
from waywright.correct.programme import least_remainder
from waywright.correct.response import BedModel, bed_model
from waywright.correct.seen import Source
from waywright.correct.trade_off import TradeOff, few, trade_off, with_contact
from waywright.errors import BadInput
from waywright.machine import Bed, checked_bed

WITHOUT_LIMIT_UM = 1e5


@dataclass(frozen=True)
class Plan:
    """Which support to turn and how far, and what is expected of it.

    ``moves_um`` (supports,) in the order of ``supports``, raising positive. ``predicted_um`` (n,) the heights after it
    as deviation from the best reference, ``predicted_roll_um_per_m`` likewise. ``value_now_um`` is largest less
    smallest deviation now; with roll, the worse of height and roll times gauge. ``calculated_um`` is that of the
    prediction, if the bed were as it most probably is and every turn exact; ``value_um`` is what will be read: the
    middle (median) of what may come in view of stiffness, turning error and noise, and ``interval_um`` holds it with
    95 %. ``uncorrectable_um`` is what no support can take away
    however far it is turned, ``uncorrectable_curve_um`` (n,) its form. ``hollow`` names supports that would not carry,
    ``hollow_now`` those believed not to carry now, ``lifting`` those that let go of the bed while the carriage stands
    elsewhere. ``unseen_below_mm`` is the pad spacing: shorter form is averaged
    away by the carriage. ``locked`` names what stays as it is. ``force_n`` (supports,) is the load after the moves.
    """

    supports: tuple[str, ...]
    moves_um: FloatArray
    predicted_um: FloatArray
    predicted_roll_um_per_m: FloatArray | None
    value_now_um: float
    calculated_um: float
    value_um: float
    interval_um: tuple[float, float]
    goal_um: float
    uncorrectable_um: float
    uncorrectable_curve_um: FloatArray
    hollow: tuple[str, ...]
    hollow_now: tuple[str, ...]
    lifting: tuple[str, ...]
    locked: tuple[str, ...]
    unseen_below_mm: float
    force_n: FloatArray
    belief: Belief
    bed: Bed
    measured: Measured
    turning: TurningError
    model: BedModel
    line: Line
    wish: Wish

    @cached_property
    def trade_off(self) -> tuple[TradeOff, ...]:
        """Value against number of supports touched; computed when first asked."""
        everywhere = np.ones(len(self.supports), dtype=np.bool_)
        rows = trade_off(problem_for(self.belief, self.model, self.line, self.wish, everywhere))
        return with_contact(rows, lambda moves: checked(self.belief, self.model, self.line, self.wish, moves).value_um)

    @property
    def reaches_goal(self) -> bool:
        """Whether the expected value meets the goal."""
        return self.value_um <= self.goal_um


def plan_correction(
    bed: Bed,
    position_mm: npt.ArrayLike,
    height_um: npt.ArrayLike,
    *,
    quantity: str,
    noise_um: float,
    goal_um: float,
    roll_um_per_m: npt.ArrayLike | None = None,
    row: str | Sequence[str] | None = None,
    belief: Belief | None = None,
    locked: Collection[str] = (),
    unlocked: Collection[str] = (),
    max_supports: int | None = None,
    target_um: npt.ArrayLike | None = None,
    turning: TurningError = DEFAULT_TURNING,
    sideways: bool = False,
) -> Plan:
    """Plan the moves that bring the value below ``goal_um``, or as low as possible.

    ``position_mm`` (n,) along the bed from its left end, ``height_um`` (n,) up positive (towards the operator with
    ``sideways``, which plans the side jacks), ``roll_um_per_m`` (n,) operator's side up positive. ``row`` names the
    guideway, "front" or "rear", for all stations or each; None is the middle. ``quantity`` is "guideway" or
    "carriage". ``target_um`` (n,) is the form wanted instead of flat; offset and tilt are always free. Supports beyond
    the stations are locked unless named in ``unlocked``. Raises BadInput naming what cannot be used.
    """
    seen = measured(position_mm, height_um, roll_um_per_m, row, quantity, noise_um)
    if not goal_um > 0.0:
        raise BadInput("correct.goal_not_positive", goal_um=goal_um)
    model = bed_model(checked_bed(bed), sideways=sideways)
    whole = line(model, seen)
    start = checked_belief(belief, model) if belief is not None else prior(model)
    known = _felt(placed(start, model, whole), model)
    wish = Wish(goal_um, _locked(model, seen, locked, unlocked), _target(target_um, seen, whole), turning=turning)
    if max_supports is not None:
        wish = replace(wish, touched=_touched(known, model, whole, wish, max_supports))
    made = checked_under_mass(known, model, whole, wish, planned(known, model, whole, wish))
    return _plan(known, model, whole, wish, seen, made)


def _plan(belief: Belief, model: BedModel, whole: Line, wish: Wish, seen: Measured, made: Planned) -> Plan:
    names = tuple(support.name for support in model.supports)
    drawn = deviation_draws(belief, model, whole, made.moves_um, made.deviation_um, wish.turning)
    values = value_draws(whole, drawn)
    count = seen.position_mm.size
    roll = made.deviation_um[count:] / gauge(model) if seen.roll_um_per_m is not None else None
    left, curve = _uncorrectable(belief, model, whole, wish)
    target = 0.0 if wish.target_um is None else wish.target_um
    now = model.rest(belief.stiffness, belief.setting_um)
    pads = model.bed.carriage.pad_spacing_mm if seen.quantity == "carriage" and model.bed.carriage else 0.0
    return Plan(
        supports=names,
        moves_um=made.moves_um,
        predicted_um=made.deviation_um[:count],
        predicted_roll_um_per_m=roll,
        value_now_um=best_fit(whole.value_um - target, whole.free)[0],
        calculated_um=made.value_um,
        value_um=float(np.median(values)),
        interval_um=interval_95(values),
        goal_um=wish.goal_um,
        uncorrectable_um=left,
        uncorrectable_curve_um=curve[:count],
        hollow=_where(names, ~made.carrying),
        hollow_now=_where(names, ~now.carrying),
        lifting=_where(names, lifting_off(belief, model, whole, made.moves_um)),
        locked=_where(names, wish.locked),
        unseen_below_mm=pads,
        force_n=made.force_n,
        belief=belief,
        bed=model.bed,
        measured=seen,
        turning=wish.turning,
        model=model,
        line=whole,
        wish=wish,
    )


def expected_reading_change(
    plan: Plan, moves_um: npt.ArrayLike, station_mm: npt.ArrayLike, source: Source | None
) -> FloatArray:
    """Change of the reading (stations,) that ``moves_um`` (supports,) should make, in the frame of the source.

    ``source`` None is a source that stands off the bed. One-sided contact is included.
    """
    at = replace(plan.measured, position_mm=np.asarray(station_mm, dtype=np.float64), roll_um_per_m=None)
    first_row = at.row if at.row is None or isinstance(at.row, str) else at.row[0]
    at = replace(at, row=first_row, height_um=np.zeros(at.position_mm.size))
    rows = line(plan.model, at, source).rows
    stiffness, setting = plan.belief.stiffness, plan.belief.setting_um
    before = plan.model.rest(stiffness, setting).shape
    after = plan.model.rest(stiffness, setting + np.asarray(moves_um, dtype=np.float64)).shape
    change: FloatArray = rows @ (after - before)
    return change


def _uncorrectable(belief: Belief, model: BedModel, whole: Line, wish: Wish) -> tuple[float, FloatArray]:
    """What stays if each support that may be turned may be turned without limit."""
    everywhere = np.ones(len(model.supports), dtype=np.bool_)
    problem = problem_for(belief, model, whole, wish, everywhere)
    free = problem.highest_um > problem.lowest_um
    unlimited = replace(
        problem,
        lowest_um=np.where(free, -WITHOUT_LIMIT_UM, 0.0),
        highest_um=np.where(free, WITHOUT_LIMIT_UM, 0.0),
    )
    found = least_remainder(unlimited)
    curve = problem.now_um + problem.influence @ found.moves_um - problem.free @ found.reference
    return 2.0 * found.remainder_um, curve


def _touched(belief: Belief, model: BedModel, whole: Line, wish: Wish, most: int) -> BoolArray:
    """The best choice of at most so many supports."""
    if most < 1:
        raise BadInput("correct.no_support_allowed", max_supports=most)
    everywhere = np.ones(len(model.supports), dtype=np.bool_)
    problem = problem_for(belief, model, whole, wish, everywhere)
    if most >= int((~wish.locked).sum()):
        return ~wish.locked
    return np.abs(few(problem, most, 5.0)) > 1e-6


def _locked(model: BedModel, seen: Measured, locked: Collection[str], unlocked: Collection[str]) -> BoolArray:
    """Locked by name, by the machine record, or because they stand beyond the stations."""
    names = {support.name for support in model.supports}
    for name in (*locked, *unlocked):
        if name not in names:
            raise BadInput("correct.unknown_support", support=name, supports=", ".join(sorted(names)))
    low, high = seen.position_mm.min(), seen.position_mm.max()
    margin = 0.0 if seen.quantity == "guideway" or not model.bed.carriage else model.bed.carriage.pad_spacing_mm / 2
    margin = max(margin, 0.25 * _pitch(model))
    out = [
        support.name in locked
        or support.locked
        or (support.name not in unlocked and not low - margin <= support.bed_mm <= high + margin)
        for support in model.supports
    ]
    if all(out):
        raise BadInput("correct.all_locked")
    return np.array(out, dtype=np.bool_)


def _pitch(model: BedModel) -> float:
    places = np.unique([support.bed_mm for support in model.supports])
    return float(np.median(np.diff(places))) if places.size > 1 else 0.0


def _target(target_um: npt.ArrayLike | None, seen: Measured, whole: Line) -> FloatArray | None:
    if target_um is None:
        return None
    target = np.asarray(target_um, dtype=np.float64)
    if target.shape != seen.position_mm.shape:
        raise BadInput(
            "correct.lengths_differ", name="target", positions=int(seen.position_mm.size), values=int(target.size)
        )
    out = np.zeros(whole.value_um.size)
    out[: target.size] = target
    return out


def checked_belief(belief: Belief, model: BedModel) -> Belief:
    """The same belief, if it is about these supports. Raises BadInput otherwise."""
    names = tuple(support.name for support in model.supports)
    if belief.supports != names:
        raise BadInput("correct.belief_of_another_bed", believed=", ".join(belief.supports), supports=", ".join(names))
    return belief


def _felt(belief: Belief, model: BedModel) -> Belief:
    """A support felt to be loose stands below the bed; one felt to carry is pressed at least a little."""
    mean, count = np.array(belief.mean), len(model.supports)
    over = model.at @ model.rest(belief.stiffness, belief.setting_um).shape
    for i, support in enumerate(model.supports):
        if support.load_felt == "no":
            mean[2 + count + i] = min(mean[2 + count + i], over[i] - 1.0)
        elif support.load_felt == "yes":
            mean[2 + count + i] = max(mean[2 + count + i], over[i] + 1.0)
    return replace(belief, mean=tuple(float(v) for v in mean))


def _where(names: tuple[str, ...], which: BoolArray) -> tuple[str, ...]:
    return tuple(name for name, yes in zip(names, which, strict=True) if yes)
