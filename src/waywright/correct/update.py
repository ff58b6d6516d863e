"""``update_belief``: what a round of turning told, and what surprises in it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.correct.arrays import FloatArray
from waywright.correct.belief import Belief, prior
from waywright.correct.learning import Fitted, TurningError
from waywright.correct.lines import line, measured
from waywright.correct.observing import Line, RoundSeen, learnt, placed
from waywright.correct.plan import checked_belief
from waywright.correct.planning import DEFAULT_TURNING
from waywright.correct.response import BedModel, bed_model
from waywright.correct.seen import Source
from waywright.correct.surprise import Cause, causes, surprising, suspect
from waywright.errors import BadInput
from waywright.machine import Bed, checked_bed


@dataclass(frozen=True, slots=True)
class Learnt:
    """What a round told.

    ``belief`` to plan on from now. ``surprise`` is True where the change is improbable for what was asked for; then
    ``causes`` names what may have happened with its probabilities, likeliest first. ``expected_um`` and
    ``observed_um`` (n,) are the changes of the heights without offset and tilt; ``distance`` is the squared distance
    between them in standard deviations, to be compared with ``freedom``.
    """

    belief: Belief
    surprise: bool
    causes: tuple[Cause, ...]
    expected_um: FloatArray
    observed_um: FloatArray
    distance: float
    freedom: int


def update_belief(
    belief: Belief | None,
    bed: Bed,
    position_mm: npt.ArrayLike,
    before_um: npt.ArrayLike,
    after_um: npt.ArrayLike,
    moves_um: npt.ArrayLike,
    *,
    noise_um: float,
    turning_error: TurningError = DEFAULT_TURNING,
    same_setup: bool = False,
    quantity: str = "guideway",
    row: str | tuple[str, ...] | None = None,
    roll_before_um_per_m: npt.ArrayLike | None = None,
    roll_after_um_per_m: npt.ArrayLike | None = None,
    source: Source | None = None,
    sideways: bool = False,
    hanging: Collection[str] = (),
) -> Learnt:
    """The belief after a round: heights (n,) before and after, and the moves (supports,) that were asked for.

    Offset and tilt between the two lines say nothing, unless ``same_setup``: then the source stayed where it stands
    (``source`` on the bed, None off it). ``hanging`` names supports that were felt or seen not to carry. Raises
    BadInput naming what cannot be used.
    """
    model = bed_model(checked_bed(bed), sideways=sideways)
    moves = np.asarray(moves_um, dtype=np.float64)
    if moves.shape != (len(model.supports),):
        raise BadInput("correct.moves_differ", moves=int(moves.size), supports=len(model.supports))
    frame = source if same_setup else None
    before = line(model, measured(position_mm, before_um, roll_before_um_per_m, row, quantity, noise_um), frame)
    after = line(model, measured(position_mm, after_um, roll_after_um_per_m, row, quantity, noise_um), frame)
    if after.value_um.shape != before.value_um.shape:
        raise BadInput("correct.roll_once")
    start = placed(prior(model) if belief is None else checked_belief(belief, model), model, before)
    names = [support.name for support in model.supports]
    loose = tuple(i for i, name in enumerate(names) if name in hanging and not model.anchored[i])
    seen = RoundSeen(after.value_um - before.value_um, moves, turning_error, same_setup, hanging=loose)
    return _learnt(start, model, before, seen, int(np.asarray(position_mm).size))


def _learnt(start: Belief, model: BedModel, whole: Line, seen: RoundSeen, heights: int) -> Learnt:
    after, found = learnt(start, model, whole, seen)
    named: tuple[Cause, ...] = ()
    if suspect(found):
        named, likeliest = causes(start, model, whole, seen, after)
        named = named if surprising(found, named) else ()
        after = likeliest if named else after
    expected = _expected(start, model, whole, seen)
    return Learnt(
        after,
        bool(named),
        named,
        _level(expected, whole)[:heights],
        _level(seen.change_um, whole)[:heights],
        found.distance,
        _freedom(found, whole, seen),
    )


def _expected(start: Belief, model: BedModel, whole: Line, seen: RoundSeen) -> FloatArray:
    from waywright.correct.observing import expected_change

    return expected_change(start, model, whole, seen.moves_um)


def _level(values_um: FloatArray, whole: Line) -> FloatArray:
    """Without what the reference leaves free."""
    fit = np.linalg.lstsq(whole.free, values_um, rcond=None)[0]
    rest: FloatArray = values_um - whole.free @ fit
    return rest


def _freedom(found: Fitted, whole: Line, seen: RoundSeen) -> int:
    return found.freedom - (0 if seen.same_setup else whole.free.shape[1])
