"""What a practice workshop consists of: a TOML file, checked field by field.

Two numbers in a row are (height, side). Deviations are physical: up and towards the operator are positive.
All values of the scenarios that come with the program are invented.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, time
from importlib import resources
from pathlib import Path
from typing import Annotated, Any, TypeVar

import msgspec

from waywright.errors import BadInput
from waywright.machine import Machine
from waywright.simulation.further_sections import Autocollimator, Climate, Controller, Indicator, ReferenceLevel
from waywright.simulation.sections import (
    Air,
    Beam,
    BedTruth,
    DistanceMeter,
    Drift,
    Level,
    Operator,
    Passer,
    Positive,
    Section,
    Seed,
    Slip,
    Truth,
)
from waywright.visit.lines import Offset, PositionZero, SourceStand

LARGEST_BYTES = 2_000_000


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
    reference_level: ReferenceLevel = ReferenceLevel()
    autocollimator: Autocollimator = Autocollimator()
    indicator: Indicator = Indicator()
    climate: Climate = Climate()
    controller: Controller = Controller()
    passers: tuple[Passer, ...] = ()
    slip: Slip | None = None

    def __post_init__(self) -> None:
        if self.mark_mm is None:
            raise ValueError(f"zero.mark {self.zero.mark!r} is not a mark of the machine")
        if self.source.bed_mm is None:
            raise ValueError("source.bed_mm is missing")
        back = self.operator.returns_from
        if back is not None and not self.operator.returns_by < back < self.stops:
            raise ValueError(f"operator.returns_from must be more than returns_by and less than {self.stops} stops")
        events = (*self.passers, *(() if self.slip is None else (self.slip,)))
        if any(event.stop > self.stops for event in events):
            raise ValueError(f"passers.stop and slip.stop must be at most {self.stops}, the stops of the forward pass")
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
    name = str(name_or_path)
    if name in scenario_names():
        return read_scenario((_shipped() / f"{name}.toml").read_bytes(), name)
    path = Path(name_or_path)
    try:
        with path.open("rb") as stream:
            content = stream.read(LARGEST_BYTES + 1)
    except OSError as problem:
        known = ", ".join(scenario_names())
        raise BadInput("simulation.no_scenario", file=str(path), known=known) from problem
    return read_scenario(content, str(path))


def read_scenario(content: bytes, file: str) -> Scenario:
    """A scenario from the bytes of a TOML file. Raises BadInput with the place and what was expected.

    ``based_on`` names a scenario that comes with the program: the file then says only what is different.
    """

    if len(content) > LARGEST_BYTES:
        raise BadInput("toml.too_large", file=file, limit_mb=LARGEST_BYTES / 1e6)

    def decode() -> Scenario:
        table = msgspec.toml.decode(content, type=dict[str, Any])
        base = table.pop("based_on", None)
        if base is not None:
            table = _merged(_shipped_table(base), table)
        return msgspec.convert(table, Scenario, builtin_types=(datetime, date, time), str_keys=True)

    return _checked(decode, file)


def _shipped_table(name: object) -> dict[str, Any]:
    if name not in scenario_names():
        raise msgspec.ValidationError(f"based_on must be one of {', '.join(scenario_names())}; got {name!r}")
    return msgspec.toml.decode((_shipped() / f"{name}.toml").read_bytes(), type=dict[str, Any])


def _merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Tables are merged key by key; lists and single values are replaced."""
    both = {
        key: _merged(base[key], value) if isinstance(value, dict) and isinstance(base.get(key), dict) else value
        for key, value in changes.items()
    }
    return base | both


def _checked(decode: Callable[[], T], file: str) -> T:
    try:
        return decode()
    except RecursionError as problem:
        raise BadInput("toml.too_deep", file=file) from problem
    except (msgspec.DecodeError, UnicodeDecodeError, ValueError) as problem:
        raise BadInput("simulation.bad_scenario", file=file, problem=str(problem)) from problem


def _shipped() -> resources.abc.Traversable:
    return resources.files("waywright.simulation") / "scenarios"
