"""What a practice workshop consists of: a TOML file, checked field by field.

Two numbers in a row are (height, side). Deviations are physical: up and towards the operator are positive.
All values of the scenarios that come with the program are invented.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Annotated, TypeVar

import msgspec

from waywright.errors import BadInput
from waywright.machine import Machine
from waywright.visit.lines import Offset, PositionZero, SourceStand

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


class Beam(Section, frozen=True):
    """The two-axis detector and its beam.

    ``alignment_um`` and ``alignment_um_per_m`` are how far off, and how much aslant, the beam lies at the start.
    ``vibration_um`` is added while the carriage moves at 100 mm/s. ``clock_ppm`` is how fast its own clock gains.
    """

    noise_um: NotNegative = 0.0
    vibration_um: NotNegative = 0.0
    alignment_um: Pair = (0.0, 0.0)
    alignment_um_per_m: Pair = (0.0, 0.0)
    resolution_um: Positive = 0.1
    rate_hz: Positive = 50.0
    clock_ppm: float = 0.0


class Drift(Section, frozen=True):
    """Slow wandering of the beam: it stays within about these sizes and takes ``period_s`` to come round."""

    offset_um: Pair = (0.0, 0.0)
    angle_um_per_m: Pair = (0.0, 0.0)
    period_s: Positive = 1500.0


class Air(Section, frozen=True):
    """Air in the beam, root mean square of (height, side) 5 m from the source.

    It grows with the power 3/2 of the distance. ``white`` changes from sample to sample, ``slow`` has a memory.
    """

    white_um: tuple[NotNegative, NotNegative] = (0.0, 0.0)
    slow_um: tuple[NotNegative, NotNegative] = (0.0, 0.0)
    memory_s: Positive = 1.0


class DistanceMeter(Section, frozen=True):
    """The meter that reads the position of the carriage."""

    noise_mm: NotNegative = 0.0
    resolution_mm: Positive = 0.01
    rate_hz: Positive = 10.0


class Level(Section, frozen=True):
    """The electronic level on the carriage, across the travel.

    After a halt it rings with ``settle_um_per_m`` at ``ring_hz`` and calms down within ``settle_s`` (to 1/e).
    """

    noise_um_per_m: NotNegative = 0.0
    zero_um_per_m: float = 0.0
    settle_um_per_m: NotNegative = 0.0
    settle_s: Positive = 0.35
    ring_hz: NotNegative = 1.6
    shaking_um_per_m: NotNegative = 0.0
    resolution_um_per_m: Positive = 0.5
    rate_hz: Positive = 10.0


class Passer(Section, frozen=True):
    """A person who walks through the beam, ``after_s`` after the carriage came to the ``stop``-th stop (from 1)."""

    stop: Annotated[int, msgspec.Meta(ge=1)]
    after_s: NotNegative
    lasts_s: Positive


class Operator(Section, frozen=True):
    """How the operator drives. Ranges are (from, to); he knows nothing of what is taken.

    ``hesitations`` is how many moves of the whole programme he interrupts. ``returns_from`` is the stop (from 1) of
    the forward pass from which he goes back ``returns_by`` stops, measures again, and goes on. After a passer-by he
    begins his count again.
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


class Scenario(Section, frozen=True):
    """A practice workshop. Positions run from 0 to ``travel_mm``, counted from the zero's mark."""

    format: Annotated[int, msgspec.Meta(ge=1, le=1)]
    title: str
    seed: Seed
    machine: Machine
    zero: PositionZero
    source: SourceStand
    travel_mm: Positive
    detector_offset_mm: Offset
    operator: Operator
    bearing_centre_mm: Offset | None = None
    functional_point_mm: Offset | None = None
    truth: Truth = Truth()
    beam: Beam = Beam()
    drift: Drift = Drift()
    air: Air = Air()
    distance: DistanceMeter = DistanceMeter()
    level: Level = Level()
    passer: Passer | None = None

    def __post_init__(self) -> None:
        if self.mark_mm is None:
            raise ValueError(f"zero.mark {self.zero.mark!r} is not a mark of the machine")
        if self.source.bed_mm is None:
            raise ValueError("source.bed_mm is missing")
        back = self.operator.returns_from
        if back is not None and not self.operator.returns_by < back < self.stops:
            raise ValueError(f"operator.returns_from must be more than returns_by and less than {self.stops} stops")
        if self.passer is not None and self.passer.stop > self.stops:
            raise ValueError(f"passer.stop must be at most {self.stops}, the stops of the forward pass")
        if self.truth.bed is not None:
            self._check_bed(self.truth.bed)

    def _check_bed(self, truth: BedTruth) -> None:
        bed = self.machine.bed
        if bed is None or bed.carriage is None:
            raise ValueError("truth.bed needs machine.bed with supports and machine.bed.carriage")
        strange = truth.found_um.keys() - {support.name for support in bed.supports}
        if strange:
            raise ValueError(f"truth.bed.found_um names {', '.join(sorted(strange))}, no supports of the machine")

    @property
    def stops(self) -> int:
        """How many stations the operator makes on one traverse, both ends included."""
        return max(2, round(self.travel_mm / self.operator.step_mm) + 1)

    @property
    def above_bearing_mm(self) -> Offset:
        """The detector from the carriage's bearing centre: along the bed, up, towards the operator."""
        along, up, across = (
            detector - bearing
            for detector, bearing in zip(self.detector_offset_mm, self.bearing_centre_mm or (0.0,) * 3, strict=True)
        )
        return along, up, across

    @property
    def mark_mm(self) -> float | None:
        """Bed coordinate of the mark of the position zero."""
        return next((mark.bed_mm for mark in self.machine.marks if mark.name == self.zero.mark), None)


T = TypeVar("T")


def scenario_names() -> tuple[str, ...]:
    """Names of the scenarios that come with the program."""
    return tuple(
        sorted(item.name.removesuffix(".toml") for item in _shipped().iterdir() if item.name.endswith(".toml"))
    )


def load_scenario(name_or_path: str | Path) -> Scenario:
    """A scenario by its name or from a TOML file. Raises BadInput that names the file and what is wrong in it."""
    if isinstance(name_or_path, str) and name_or_path in scenario_names():
        return read_scenario((_shipped() / f"{name_or_path}.toml").read_bytes(), name_or_path)
    path = Path(name_or_path)
    try:
        content = path.read_bytes()
    except OSError as problem:
        known = ", ".join(scenario_names())
        raise BadInput("simulation.no_scenario", file=str(path), known=known) from problem
    return read_scenario(content, str(path))


def read_scenario(content: bytes, file: str) -> Scenario:
    """A scenario from the bytes of a TOML file. Raises BadInput with the place and what was expected."""
    return _checked(lambda: msgspec.toml.decode(content, type=Scenario), file)


def _checked(decode: Callable[[], T], file: str) -> T:
    try:
        return decode()
    except (msgspec.DecodeError, UnicodeDecodeError) as problem:
        raise BadInput("simulation.bad_scenario", file=file, problem=str(problem)) from problem


def _shipped() -> resources.abc.Traversable:
    return resources.files("waywright.simulation") / "scenarios"
