"""The carriage between two programmes of the operator, on the workshop's own time."""

from __future__ import annotations

import numpy as np

from waywright.readings.records import Floats
from waywright.simulation.motion import Leg, Motion, duration_s
from waywright.simulation.operator import Programme

_GOING_MM_PER_S = 200.0
WHOLE, BRIEF = "whole", "brief"
"""Names of the operator's programmes: forward and back with everything that happens, or one quiet forward pass."""


class Carriage:
    """Stands where the programme starts until the operator begins; afterwards it follows him."""

    def __init__(self, programme: Programme, brief: Programme | None = None) -> None:
        self.programme = programme
        self._programmes = {WHOLE: programme} | ({} if brief is None else {BRIEF: brief})
        self._track = programme.track
        self._home_mm = programme.legs[0].from_mm
        self._began_s = np.inf
        self.shifted_um = (0.0, 0.0)
        """How far the detector was moved on the carriage, up and towards the operator."""
        self._slips_at_s = np.inf

    def begin(self, world_s: float, name: str = WHOLE) -> bool:
        """The operator begins a programme, unless he is driving or knows none of that name."""
        if self.is_driving(world_s) or name not in self._programmes:
            return False
        self.programme = self._programmes[name]
        self._track = self.programme.track
        self._began_s = world_s
        if self.programme.slip_s is not None and np.isinf(self._slips_at_s):
            self._slips_at_s = world_s + self.programme.slip_s
        return True

    def go_to(self, world_s: float, place_mm: float | None) -> bool:
        """The operator drives to a place (None: where his programmes begin) and stands there, unless he is driving."""
        if self.is_driving(world_s):
            return False
        place_mm = self._home_mm if place_mm is None else place_mm
        here_mm = float(self.at(np.array([world_s])).position_mm[0])
        if here_mm == place_mm:
            return True
        ramp_s = self.programme.ramp_s
        there_s = duration_s(place_mm - here_mm, _GOING_MM_PER_S, ramp_s)
        legs = (Leg(0.0, there_s, here_mm, place_mm), Leg(there_s, there_s + 0.5, place_mm, place_mm))
        self.programme = Programme(legs, (), (), (), ramp_s)
        self._track = self.programme.track
        self._began_s = world_s
        return True

    def has_begun(self) -> bool:
        """The operator has been told to drive."""
        return bool(np.isfinite(self._began_s))

    def is_driving(self, world_s: float) -> bool:
        """He has begun and not finished."""
        return self.has_begun() and world_s < self._began_s + self.programme.duration_s

    def has_finished(self, world_s: float) -> bool:
        """He has driven the whole programme."""
        return self.has_begun() and not self.is_driving(world_s)

    def direction(self, world_s: float) -> str | None:
        """The pass being driven, None when nobody drives."""
        return self.programme.direction(world_s - self._began_s) if self.is_driving(world_s) else None

    def at(self, world_s: Floats) -> Motion:
        """The motion at times (n,)."""
        return self._track.at(world_s - self._began_s)

    def in_beam(self, world_s: Floats, edge_s: float) -> Floats:
        """How much of the beam a passer-by covers at times (n,): 0 free, 1 lost, between at his edges."""
        since_s = world_s - self._began_s
        covered = np.zeros(world_s.shape)
        for began_s, ended_s in self.programme.passers_s:
            there = np.clip(np.minimum(since_s - began_s, ended_s - since_s) / edge_s, 0.0, 1.0)
            covered = np.maximum(covered, there)
        return covered

    def has_slipped(self, world_s: Floats) -> Floats:
        """1 from the moment on when what it carries slipped, at times (n,); it stays slipped."""
        return np.asarray((world_s >= self._slips_at_s).astype(np.float64))
