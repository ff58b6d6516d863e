"""The instruments of the workshop: what each says, line by line, in step with simulated time.

Physical directions: the detector's vertical counts up, its side towards the operator; the level counts the operator's
side up. A reading of the beam is the detector relative to the beam: the carriage's truth, plus how the beam lies and
wanders (offset, and angle times the distance from the source), plus air that grows with the distance, plus noise.
"""

from __future__ import annotations

import math
from typing import Protocol

import numpy as np

from waywright.readings.records import Floats
from waywright.simulation.carriage import Carriage
from waywright.simulation.noise import Memory, Wander
from waywright.simulation.places import Places
from waywright.simulation.scenario import Scenario
from waywright.simulation.truth import CarriageForm

# when it is said, in simulated seconds, and the text
Line = tuple[float, str]

LOST = "9999.9"
_AIR_AT_M = 5.0
_AIR_POWER = 1.5
_SHAKEN_AT_MM_PER_S = 100.0
_EDGE_S = 0.12
_EDGE_UM = 300.0
_INDEX_UM_PER_M_K = 0.93


class Grid:
    """The instants at which an instrument samples: k / rate."""

    def __init__(self, rate_hz: float) -> None:
        self._rate_hz = rate_hz
        self._next = 0

    def until(self, world_s: float) -> Floats:
        """All instants since the last call, up to and including a time; (n,) in s."""
        last = math.floor(world_s * self._rate_hz + 1e-9)
        instants = np.arange(self._next, last + 1) / self._rate_hz
        self._next = max(self._next, last + 1)
        return instants


class AirGradient:
    """How much warmer the air is a metre higher up; it wanders about its usual value."""

    def __init__(self, scenario: Scenario) -> None:
        air = scenario.air
        self._usual = air.gradient_k_per_m
        generator = np.random.default_rng([scenario.seed, 10])
        self._wander = Wander((air.gradient_swing_k_per_m,), air.gradient_period_s, generator)

    def at(self, instants_s: Floats) -> Floats:
        """In K/m at times (n,); (n,)."""
        return np.asarray(self._usual + self._wander.at(instants_s)[0])


class BeamDetector:
    """Two-axis position detector; one line a sample with the stamp of its own clock: ``<ms> V<um> S<um>``."""

    def __init__(self, scenario: Scenario, form: CarriageForm, carriage: Carriage) -> None:
        self._beam, self._air = scenario.beam, scenario.air
        self._form, self._carriage = form, carriage
        self._places = Places(scenario)
        self._grid = Grid(self._beam.rate_hz)
        drawn = np.random.default_rng([scenario.seed, 3])
        self._origin_ms = int(drawn.integers(10_000_000, 90_000_000))
        self._offset = Wander(scenario.drift.offset_um, scenario.drift.period_s, drawn)
        self._angle = Wander(scenario.drift.angle_um_per_m, scenario.drift.period_s, drawn)
        self._slow = Memory(2, self._air.memory_s, self._beam.rate_hz, drawn)
        self._noise = np.random.default_rng([scenario.seed, 4])
        self._gradient = AirGradient(scenario)
        self._slip_um = _column((0.0, 0.0) if scenario.slip is None else scenario.slip.by_um)

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time; ``paused_s`` is how much longer its own clock has run than the world."""
        instants = self._grid.until(world_s)
        rate = 1.0 + self._beam.clock_ppm * 1e-6
        stamps = self._origin_ms + np.rint((instants + paused_s) * rate * 1000.0).astype(np.int64)
        lost = self._carriage.in_beam(instants, _EDGE_S) == 1.0
        digits = decimals(self._beam.resolution_um)
        reading = rounded(self.reading_um(instants), self._beam.resolution_um)
        texts = [
            f"{stamp} V{LOST} S{LOST}" if gone else f"{stamp} V{up:+.{digits}f} S{side:+.{digits}f}"
            for stamp, gone, (up, side) in zip(stamps, lost, reading.T, strict=True)
        ]
        return list(zip(instants.tolist(), texts, strict=True))

    def reading_um(self, instants_s: Floats) -> Floats:
        """Height and side as the detector sees them at the next instants (n,); (2, n) in um."""
        motion = self._carriage.at(instants_s)
        distance_m = self._places.from_source_m(motion.position_mm)
        seen = self._form.at(motion.position_mm, instants_s)
        truth = np.stack([seen.height_um, seen.side_um])
        lie = _column(self._beam.alignment_um) + _column(self._beam.alignment_um_per_m) * distance_m
        wandered = self._offset.at(instants_s) + self._angle.at(instants_s) * distance_m
        white, own, cut = self._noise.standard_normal((instants_s.size, 6)).T.reshape(3, 2, -1)
        air = _column(self._air.white_um) * white + _column(self._air.slow_um) * self._slow.next(instants_s.size)
        shaking = self._beam.vibration_um * motion.speed_mm_per_s / _SHAKEN_AT_MM_PER_S
        shaded = _EDGE_UM * self._carriage.in_beam(instants_s, _EDGE_S) * cut
        growth = (distance_m / _AIR_AT_M) ** _AIR_POWER
        met = truth + lie + wandered + self._bent_um(instants_s, distance_m) + growth * air
        met = met + self._slip_um * self._carriage.has_slipped(instants_s) + _column(self._carriage.shifted_um)
        return self._said_um(met) + np.hypot(self._beam.noise_um, shaking) * own + shaded

    def _bent_um(self, instants_s: Floats, distance_m: Floats) -> Floats:
        """How much too high the detector seems, (2, n): the beam bends towards the cooler air, by dn/dT dT/dz d^2 / 2.

        Refractive index of air: -0.93e-6 per K at constant vapour pressure.
        """
        bent = _INDEX_UM_PER_M_K * self._gradient.at(instants_s) * distance_m**2 / 2.0
        return np.stack([bent, np.zeros(instants_s.size)])

    def _said_um(self, met_um: Floats) -> Floats:
        """What a detector says that is turned, not quite linear, or on the wrong wires, (2, n)."""
        turn = self._beam.roll_um_per_m * 1e-6
        up, side = met_um
        turned = np.stack([up * math.cos(turn) + side * math.sin(turn), side * math.cos(turn) - up * math.sin(turn)])
        said = turned + self._beam.nonlinearity_um * (turned / 1000.0) ** 3
        return np.asarray(said[::-1] if self._beam.swapped else said)


class DistanceMeter:
    """Reads the position of the carriage: ``<mm> mm``; no time stamp."""

    def __init__(self, scenario: Scenario, carriage: Carriage) -> None:
        self._meter, self._carriage = scenario.distance, carriage
        self._grid = Grid(self._meter.rate_hz)
        self._noise = np.random.default_rng([scenario.seed, 5])

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        motion = self._carriage.at(instants)
        position_mm = motion.position_mm - self._meter.backlash_mm / 2.0 * motion.sense
        read = position_mm + self._meter.noise_mm * self._noise.standard_normal(position_mm.size)
        digits = decimals(self._meter.resolution_mm)
        texts = [f"{value:.{digits}f} mm" for value in rounded(read, self._meter.resolution_mm)]
        return list(zip(instants.tolist(), texts, strict=True))


class FloorSway:
    """The floor leans to and fro with everything on it; whoever asks at the same rate feels the same."""

    def __init__(self, scenario: Scenario, rate_hz: float) -> None:
        self._size = scenario.level.sway_um_per_m
        self._memory = Memory(1, scenario.level.sway_memory_s, rate_hz, np.random.default_rng([scenario.seed, 11]))

    def next(self, samples: int) -> Floats:
        """Operator's side up in um/m for the next samples, (samples,)."""
        return np.asarray(self._size * self._memory.next(samples)[0]) if self._size else np.zeros(samples)


class CrossLevel:
    """Electronic level across the travel: ``X<um/m>``; rings after each halt, shakes while the carriage moves."""

    def __init__(self, scenario: Scenario, form: CarriageForm, carriage: Carriage) -> None:
        self._level, self._form, self._carriage = scenario.level, form, carriage
        self._grid = Grid(self._level.rate_hz)
        self._noise = np.random.default_rng([scenario.seed, 6])
        self._sway = FloorSway(scenario, self._level.rate_hz)

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        reading = self.reading_um_per_m(instants)
        digits = decimals(self._level.resolution_um_per_m)
        texts = [f"X{value:+.{digits}f}" for value in rounded(reading, self._level.resolution_um_per_m)]
        return list(zip(instants.tolist(), texts, strict=True))

    def reading_um_per_m(self, instants_s: Floats) -> Floats:
        """What the level says at the next instants (n,); (n,) in um/m."""
        motion = self._carriage.at(instants_s)
        shaking = self._level.shaking_um_per_m * motion.speed_mm_per_s / _SHAKEN_AT_MM_PER_S
        noise = np.hypot(self._level.noise_um_per_m, shaking) * self._noise.standard_normal(instants_s.size)
        halted_s = np.where(np.isfinite(motion.halted_s), motion.halted_s, 0.0)
        calm = np.where(np.isfinite(motion.halted_s), np.exp(-halted_s / self._level.settle_s), 0.0)
        ringing = self._level.settle_um_per_m * calm * np.cos(2.0 * np.pi * self._level.ring_hz * halted_s)
        roll = self._form.at(motion.position_mm, instants_s).roll_um_per_m
        return np.asarray(roll + self._level.zero_um_per_m + ringing + noise + self._sway.next(instants_s.size))


class Device(Protocol):
    """An instrument of the workshop."""

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """What it says at the instants since the last call, up to a simulated time."""


def devices(scenario: Scenario, form: CarriageForm, carriage: Carriage) -> dict[str, Device]:
    """The instruments of a scenario by name; the position comes first, so that nothing arrives before it."""
    return {
        "distance": DistanceMeter(scenario, carriage),
        "level": CrossLevel(scenario, form, carriage),
        "beam": BeamDetector(scenario, form, carriage),
    }


def rounded(values: Floats, resolution: float) -> Floats:
    """Values as an instrument shows them."""
    return np.asarray(np.rint(values / resolution) * resolution)


def decimals(resolution: float) -> int:
    """Decimals that show a resolution: 0.5 and 0.1 need one, 0.01 two; at least one."""
    return max(1, -math.floor(math.log10(resolution) + 1e-9))


def _column(pair: tuple[float, float]) -> Floats:
    return np.array(pair)[:, None]
