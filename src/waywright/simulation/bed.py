"""The bed of the workshop on its supports: how it lies, how it sags under the carriage, what turning a support does.

The truth has a stiffness of its own, seats that differ from one another, and supports that may hang; the measuring
side knows none of it. The bed was machined on level supports under its own weight: what is told here is the change
from there. Heights are in the frame of the source, which stands on the bed and goes with it; roll is against gravity.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from waywright.correct import BedModel, Source, Stiffness, bed_model
from waywright.correct.seen import Stations, source_rows
from waywright.readings.records import Floats
from waywright.simulation.places import Places
from waywright.simulation.scenario import Scenario
from waywright.simulation.sections import BedTruth

_GRID_MM = 40.0
_MARGIN_MM = 20.0
_MM = 1e-3
_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class _Sight:
    """What the instruments see of the bed's shape. Rows (grid, shapes) for height and roll, (shapes,) at the source."""

    along_mm: Floats
    height: Floats
    roll: Floats
    source_twist: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Share:
    """How much of an earlier state of the supports has not gone yet."""

    part: float
    setting_um: Floats


class BedOnSupports:
    """The bed with its settings now. Turning changes them; what is not at once there creeps in."""

    def __init__(self, scenario: Scenario, bed: BedTruth) -> None:
        self._bed = bed
        self._model = _model(scenario)
        self._names = [support.name for support in self._model.supports]
        self._stiffness = _stiffness(scenario, bed, len(self._names))
        self._setting_um = np.array([bed.found_um.get(name, 0.0) for name in self._names])
        self._luck = np.random.default_rng([scenario.seed, 8])
        reach_mm = math.ceil((scenario.travel_mm + _MARGIN_MM) / _GRID_MM) * _GRID_MM
        self._position_mm = np.arange(-_GRID_MM, reach_mm + _GRID_MM, _GRID_MM)
        self._sight = _sight(self._model, scenario, self._position_mm)
        self._up_m = scenario.above_bearing_mm[1] * _MM
        self._level = self._model.level_shape(self._stiffness)
        self._before: list[_Share] = []
        self._tables: dict[bytes, Floats] = {}
        self._turned_s = -np.inf

    @property
    def supports(self) -> tuple[str, ...]:
        """Names as painted on the floor."""
        return tuple(self._names)

    def at(self, position_mm: Floats, world_s: Floats | float = np.inf) -> Floats:
        """Height and side in um and roll in um/m with the carriage at positions (n,), at times (n,) or one; (3, n)."""
        left = self._left(np.asarray(world_s, dtype=np.float64))
        now = self._between(self._lies(self._setting_um), position_mm)
        if not self._before or not np.any(left):
            return now
        table = sum(share.part * self._lies(share.setting_um) for share in self._before)
        return np.asarray(now + left * (self._between(np.asarray(table), position_mm) - now))

    def turn(self, support: str, move_um: float, world_s: float) -> float:
        """Turn a support at a time, as well as the fitter can; returns what he really did, in um."""
        spread_um = max(self._bed.turning_um, self._bed.turning_part * abs(move_um))
        # a fitter counts his turns: he is never off by more than twice his usual error
        done_um = move_um + spread_um * float(np.clip(self._luck.standard_normal(), -2.0, 2.0))
        left = float(self._left(np.array(world_s))) if self._before else 0.0
        earlier = [replace(share, part=left * share.part) for share in self._before]
        self._before = [_Share(1.0 - left, self._setting_um), *(each for each in earlier if each.part > _NOTHING)]
        self._setting_um = self._setting_um.copy()
        self._setting_um[self._names.index(support)] += done_um
        self._turned_s = world_s
        return done_um

    def force_n(self) -> dict[str, float]:
        """What each support carries of the bed's own weight now; nothing where it hangs."""
        force = self._model.rest(self._stiffness, self._setting_um).force_n
        return dict(zip(self._names, force.tolist(), strict=True))

    def _left(self, world_s: Floats) -> Floats:
        """Which part of the last turn has not come through yet, at times (n,)."""
        if not np.isfinite(self._turned_s):
            return np.zeros(world_s.shape)
        since_s = np.maximum(world_s - self._turned_s, 0.0)
        return np.asarray(self._bed.creep_part * np.exp(-since_s / self._bed.creep_s))

    def _lies(self, setting_um: Floats) -> Floats:
        """Height, side and roll on the grid with the carriage there, (3, grid), for settings; computed when asked."""
        key = setting_um.tobytes()
        if key not in self._tables:
            wanted = [self._setting_um, *(share.setting_um for share in self._before)]
            kept = {each.tobytes() for each in wanted}
            self._tables = {known: table for known, table in self._tables.items() if known in kept}
            self._tables[key] = self._seen(setting_um)
        return self._tables[key]

    def _seen(self, setting_um: Floats) -> Floats:
        """Each place of the carriage has its own rest."""
        shape = self._model.rests(self._stiffness, setting_um, self._sight.along_mm) - self._level
        height = (self._sight.height * shape).sum(axis=1)
        roll = (self._sight.roll * shape).sum(axis=1)
        # operator's side up leans what stands above the ways away from him; the source leans with its own place
        side = -self._up_m * (roll - shape @ self._sight.source_twist)
        return np.stack([height, side, roll])

    def _between(self, table: Floats, position_mm: Floats) -> Floats:
        return np.stack([np.interp(position_mm, self._position_mm, row) for row in table])


def _model(scenario: Scenario) -> BedModel:
    """The machine's bed, its carriage seen where the detector stands."""
    bed = scenario.machine.bed
    assert bed is not None
    assert bed.carriage is not None
    return bed_model(replace(bed, carriage=replace(bed.carriage, functional_point_mm=scenario.above_bearing_mm)))


def _stiffness(scenario: Scenario, bed: BedTruth, supports: int) -> Stiffness:
    luck = np.random.default_rng([scenario.seed, 7]).standard_normal(supports)
    return Stiffness(bed.bending_n_m2, bed.torsion_n_m2, bed.seat_n_per_um * np.exp(bed.seat_scatter * luck))


def _sight(model: BedModel, scenario: Scenario, position_mm: Floats) -> _Sight:
    along_mm = Places(scenario).bearing_mm(position_mm)
    seen = Stations(along_mm, np.zeros(along_mm.size), "carriage")
    source_mm = scenario.source.bed_mm or 0.0
    # the beam is met where the detector stands
    detector = replace(seen, along_mm=along_mm + scenario.above_bearing_mm[0])
    beam = source_rows(model.structure, detector, Source(source_mm))
    twist = model.structure.twist_rows(np.array([source_mm * _MM]))[0]
    return _Sight(along_mm, model.rows(seen) - beam, model.roll_rows(seen), twist)
