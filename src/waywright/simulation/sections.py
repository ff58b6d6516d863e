"""The tables of a scenario file: what the workshop, its instruments and its people are like.

Two numbers in a row are (height, side). Deviations are physical: up and towards the operator are positive.
"""

from __future__ import annotations

from typing import Annotated

import msgspec

Positive = Annotated[float, msgspec.Meta(gt=0)]
NotNegative = Annotated[float, msgspec.Meta(ge=0)]
Pair = tuple[float, float]
Seed = Annotated[int, msgspec.Meta(ge=0)]


class Section(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of the scenario file; a misspelt key is an error."""


class Form(Section, frozen=True):
    """How one quantity of the carriage runs along the travel, in um or um/m.

    ``bow`` is the rise of a parabola at mid-travel, ``skew`` an S across the travel, ``wave`` the amplitude at the
    spacing of the supports, ``short`` the size (root mean square) of the short form between 200 and 600 mm.
    """

    bow: float = 0.0
    skew: float = 0.0
    wave: float = 0.0
    short: NotNegative = 0.0


class BedTruth(Section, frozen=True):
    """What the bed really is; the measuring side is told none of it.

    ``seat_n_per_um`` is a usual seat, ``seat_scatter`` the standard deviation of the logarithm of all. ``found_um`` is
    how high each support stands as found (0 where it is not named); one far below its neighbours hangs. The fitter's
    turns are off by ``turning_part`` of the move, by ``turning_um`` at least (standard deviation). Of a turn
    ``creep_part`` comes through only by and by, within ``creep_s`` (to 1/e).
    """

    bending_n_m2: Positive
    torsion_n_m2: Positive
    seat_n_per_um: Positive
    seat_scatter: NotNegative = 0.0
    found_um: dict[str, float] = {}
    turning_part: NotNegative = 0.10
    turning_um: NotNegative = 3.0
    creep_part: Annotated[float, msgspec.Meta(ge=0, lt=1)] = 0.12
    creep_s: Positive = 45.0


class Truth(Section, frozen=True):
    """The forms of height and side in um and of roll in um/m that were machined into the ways, and the bed.

    Without ``bed`` the forms are all there is, and no support can be turned.
    """

    height: Form = Form()
    side: Form = Form()
    roll: Form = Form()
    bed: BedTruth | None = None
    warming: Warming | None = None


class Beam(Section, frozen=True):
    """The two-axis detector and its beam.

    ``alignment_um`` and ``alignment_um_per_m`` are how far off, and how much aslant, the beam lies at the start.
    ``vibration_um`` is added while the carriage moves at 100 mm/s. ``clock_ppm`` is how fast its own clock gains.
    ``roll_um_per_m`` is how far the detector is turned about the beam, its operator's side up; ``nonlinearity_um`` is
    what a reading of 1000 um is too large by, growing with the third power. ``swapped``: height and side come on one
    another's wires.
    """

    noise_um: NotNegative = 0.0
    vibration_um: NotNegative = 0.0
    alignment_um: Pair = (0.0, 0.0)
    alignment_um_per_m: Pair = (0.0, 0.0)
    resolution_um: Positive = 0.1
    rate_hz: Positive = 50.0
    clock_ppm: float = 0.0
    roll_um_per_m: float = 0.0
    nonlinearity_um: float = 0.0
    swapped: bool = False


class Drift(Section, frozen=True):
    """Slow wandering of the beam: it stays within about these sizes and takes ``period_s`` to come round."""

    offset_um: Pair = (0.0, 0.0)
    angle_um_per_m: Pair = (0.0, 0.0)
    period_s: Positive = 1500.0


class Air(Section, frozen=True):
    """Air in the beam, root mean square of (height, side) 5 m from the source.

    It grows with the power 3/2 of the distance. ``white`` changes from sample to sample, ``slow`` has a memory.
    ``gradient_k_per_m`` is how much warmer the air is a metre higher up, which bends the beam; it wanders by
    ``gradient_swing_k_per_m`` within ``gradient_period_s``.
    """

    white_um: tuple[NotNegative, NotNegative] = (0.0, 0.0)
    slow_um: tuple[NotNegative, NotNegative] = (0.0, 0.0)
    memory_s: Positive = 1.0
    gradient_k_per_m: float = 0.0
    gradient_swing_k_per_m: NotNegative = 0.0
    gradient_period_s: Positive = 300.0


class Warming(Section, frozen=True):
    """A bed that warms up from above: it crowns by ``crown_um`` in the end, within ``within_s`` (to 1/e)."""

    crown_um: float
    within_s: Positive


class DistanceMeter(Section, frozen=True):
    """The meter that reads the position of the carriage.

    ``backlash_mm`` is the play between what it reads and the carriage: it lags behind by half of it either way.
    """

    noise_mm: NotNegative = 0.0
    resolution_mm: Positive = 0.01
    rate_hz: Positive = 10.0
    backlash_mm: NotNegative = 0.0


class Level(Section, frozen=True):
    """The electronic level on the carriage, across the travel.

    After a halt it rings with ``settle_um_per_m`` at ``ring_hz`` and calms down within ``settle_s`` (to 1/e).
    ``sway_um_per_m`` is how much the floor leans to and fro with everything on it (root mean square), which a second
    level that stands on the bed feels as well; it has forgotten itself after ``sway_memory_s``.
    """

    noise_um_per_m: NotNegative = 0.0
    zero_um_per_m: float = 0.0
    settle_um_per_m: NotNegative = 0.0
    settle_s: Positive = 0.35
    ring_hz: NotNegative = 1.6
    shaking_um_per_m: NotNegative = 0.0
    sway_um_per_m: NotNegative = 0.0
    sway_memory_s: Positive = 4.0
    resolution_um_per_m: Positive = 0.5
    rate_hz: Positive = 10.0


class Passer(Section, frozen=True):
    """A person who walks through the beam, ``after_s`` after the carriage came to the ``stop``-th stop (from 1)."""

    stop: Annotated[int, msgspec.Meta(ge=1)]
    after_s: NotNegative
    lasts_s: Positive


class Slip(Section, frozen=True):
    """The magnet under the detector slips by ``by_um`` for good, ``after_s`` after the ``stop``-th stop (from 1)."""

    stop: Annotated[int, msgspec.Meta(ge=1)]
    after_s: NotNegative
    by_um: Pair


class Operator(Section, frozen=True):
    """How the operator drives. Ranges are (from, to); he knows nothing of what is taken.

    ``hesitations`` is how many moves of the whole programme he interrupts. ``returns_from`` is the stop (from 1) of
    the forward pass from which he goes back ``returns_by`` stops, measures again, and goes on. After a passer-by he
    begins his count again. Driven slower than ``stick_below_mm_per_s`` the carriage sticks and slips on, ``stick_mm``
    at a time.
    """

    step_mm: Positive
    scatter_mm: NotNegative
    ends_mm: NotNegative
    speed_mm_per_s: tuple[Positive, Positive]
    ramp_s: Positive
    wait_s: tuple[Positive, Positive]
    turn_s: NotNegative
    hesitations: Annotated[int, msgspec.Meta(ge=0)] = 0
    hesitation_s: tuple[Positive, Positive] = (0.3, 1.2)
    returns_from: Annotated[int, msgspec.Meta(ge=2)] | None = None
    returns_by: Annotated[int, msgspec.Meta(ge=1)] = 1
    returns_within_mm: NotNegative = 3.0
    stick_mm: NotNegative = 0.0
    stick_below_mm_per_s: Positive = 5.0
