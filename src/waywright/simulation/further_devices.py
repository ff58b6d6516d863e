"""The workshop's instruments beside beam, distance meter and level; served when they are asked for.

Physical directions: tilt counts the right side up, turn anticlockwise from above, the indicator counts the carriage
sinking (its plunger is pressed in), the reference level the operator's side up.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from waywright.readings.records import Floats
from waywright.simulation.carriage import Carriage
from waywright.simulation.devices import AirGradient, Device, FloorSway, Grid, Line, decimals, rounded
from waywright.simulation.places import Places
from waywright.simulation.scenario import Scenario
from waywright.simulation.truth import CarriageForm

ARCSEC_UM_PER_M = 4.848136811095360
OVER_RANGE = "9.9E37"
_STEP_MM = 40.0
_AIR_AT_M = 5.0


class SteadyLevel:
    """The second level of a pair, left standing on the bed: ``X<um/m>``."""

    def __init__(self, scenario: Scenario, form: CarriageForm) -> None:
        self._level, self._form = scenario.reference_level, form
        self._grid = Grid(self._level.rate_hz)
        self._noise = np.random.default_rng([scenario.seed, 12])
        self._sway = FloorSway(scenario, self._level.rate_hz)

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        place = np.full(instants.shape, self._level.position_mm)
        noise = self._level.noise_um_per_m * self._noise.standard_normal(instants.size)
        reading = self._form.at(place, instants).roll_um_per_m + self._level.zero_um_per_m + noise
        said = rounded(reading + self._sway.next(instants.size), self._level.resolution_um_per_m)
        return [(instant, f"X{value:+.1f}") for instant, value in zip(instants.tolist(), said, strict=True)]


class PitchAndYaw:
    """How the carriage leans along its travel, seen by an autocollimator: ``P<arcsec> Y<arcsec>``.

    Tilt and turn are the slope of the carriage's path, which its pads have smoothed already.
    """

    def __init__(self, scenario: Scenario, form: CarriageForm, carriage: Carriage) -> None:
        self._collimator, self._form, self._carriage = scenario.autocollimator, form, carriage
        self._places = Places(scenario)
        self._sense = scenario.zero.sense
        self._grid = Grid(self._collimator.rate_hz)
        self._noise = np.random.default_rng([scenario.seed, 13])

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        seen = self.reading_um_per_m(instants) / ARCSEC_UM_PER_M
        said = rounded(seen, self._collimator.resolution_arcsec).T
        digits = decimals(self._collimator.resolution_arcsec)
        return [
            (instant, f"P{tilt:+.{digits}f} Y{turn:+.{digits}f}")
            for instant, (tilt, turn) in zip(instants.tolist(), said, strict=True)
        ]

    def reading_um_per_m(self, instants_s: Floats) -> Floats:
        """Tilt (right side up) and turn (anticlockwise from above) at the next instants (n,); (2, n) in um/m."""
        position_mm = self._carriage.at(instants_s).position_mm
        ahead, behind = (self._form.at(position_mm + end * _STEP_MM / 2.0, instants_s) for end in (1.0, -1.0))
        # towards growing positions, which is to the right where the zero's sense is +1
        per_m = self._sense * 1000.0 / _STEP_MM
        tilt = (ahead.height_um - behind.height_um) * per_m
        # towards the operator further right means turned clockwise from above
        turn = -(ahead.side_um - behind.side_um) * per_m
        air = self._collimator.air_um_per_m * np.sqrt(self._places.from_source_m(position_mm) / _AIR_AT_M)
        white = self._noise.standard_normal((instants_s.size, 2)).T
        zero = np.array(self._collimator.zero_um_per_m)[:, None]
        return np.asarray(np.stack([tilt, turn]) + zero + np.hypot(air, self._collimator.noise_um_per_m) * white)


class RidingIndicator:
    """A dial indicator on the carriage, its plunger on a straightedge: ``<um>``; over range beside the straightedge."""

    def __init__(self, scenario: Scenario, form: CarriageForm, carriage: Carriage) -> None:
        self._dial, self._form, self._carriage = scenario.indicator, form, carriage
        self._grid = Grid(self._dial.rate_hz)
        self._noise = np.random.default_rng([scenario.seed, 14])

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        motion = self._carriage.at(instants)
        noise = self._dial.noise_um * self._noise.standard_normal(instants.size)
        said = rounded(self.pressed_um(motion.position_mm, motion.sense, instants) + noise, self._dial.resolution_um)
        digits = decimals(self._dial.resolution_um)
        on_it = (motion.position_mm >= self._dial.from_mm) & (motion.position_mm <= self._dial.to_mm)
        return [
            (instant, f"{value:+.{digits}f}" if touches else OVER_RANGE)
            for instant, value, touches in zip(instants.tolist(), said, on_it, strict=True)
        ]

    def pressed_um(self, position_mm: Floats, sense: Floats, world_s: Floats) -> Floats:
        """How far the plunger is pressed in at positions (n,), reached in a sense (n,), at times (n,); (n,) in um."""
        u = (position_mm - self._dial.from_mm) / (self._dial.to_mm - self._dial.from_mm)
        edge = self._dial.set_um + self._dial.tilt_um * u + self._dial.bow_um * 4.0 * u * (1.0 - u)
        return np.asarray(edge - self._form.at(position_mm, world_s).height_um - self._dial.friction_um * sense)


class Thermometers:
    """Air low and high, bed top and foot: ``AL<degC> AH<degC> BT<degC> BF<degC>``."""

    def __init__(self, scenario: Scenario, form: CarriageForm) -> None:
        self._climate, self._form = scenario.climate, form
        self._gradient = AirGradient(scenario)
        bed = scenario.machine.bed
        length_mm = scenario.travel_mm if bed is None or bed.length_mm is None else bed.length_mm
        height_mm = 500.0 if bed is None or bed.height_mm is None else bed.height_mm
        # crown = a dT L^2 / (8 h): the bow of a bar that is warmer on top
        bow_um_per_k = self._climate.expansion_um_per_m_k * (length_mm * 1e-3) ** 2 / (8.0 * height_mm * 1e-3)
        self._k_per_um = 1.0 / bow_um_per_k
        self._grid = Grid(self._climate.rate_hz)
        self._noise = np.random.default_rng([scenario.seed, 15])

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        noise = self._climate.noise_k * self._noise.standard_normal((instants.size, 4))
        said = rounded(self.degc(instants).T + noise, self._climate.resolution_k)
        return [
            (instant, "AL{:.2f} AH{:.2f} BT{:.2f} BF{:.2f}".format(*row))
            for instant, row in zip(instants.tolist(), said.tolist(), strict=True)
        ]

    def degc(self, world_s: Floats) -> Floats:
        """Temperatures at times (n,): air low and high, bed top and foot; (4, n)."""
        rise = self._gradient.at(world_s) * (self._climate.high_m - self._climate.low_m)
        warming = self._form.warming
        crown_um = 0.0 if warming is None else warming.crown_um * (1.0 - np.exp(-world_s / warming.within_s))
        top = self._climate.bed_degc + self._k_per_um * crown_um + np.zeros(world_s.shape)
        foot = np.full(world_s.shape, self._climate.bed_degc)
        return np.stack([self._climate.air_degc - rise / 2.0, self._climate.air_degc + rise / 2.0, top, foot])


class ControllerPosition:
    """Where the controller believes the carriage to be: ``<mm>``; its scale is a little long, and there is play."""

    def __init__(self, scenario: Scenario, carriage: Carriage) -> None:
        self._scale, self._carriage = scenario.controller, carriage
        self._grid = Grid(self._scale.rate_hz)

    def lines(self, world_s: float, paused_s: float = 0.0) -> list[Line]:
        """Lines up to a simulated time."""
        instants = self._grid.until(world_s)
        motion = self._carriage.at(instants)
        told = motion.position_mm / (1.0 + 1e-6 * self._scale.scale_um_per_m)
        said = rounded(told + self._scale.backlash_mm / 2.0 * motion.sense, self._scale.resolution_mm)
        digits = decimals(self._scale.resolution_mm)
        return [(instant, f"{value:.{digits}f}") for instant, value in zip(instants.tolist(), said, strict=True)]


def further_devices(
    scenario: Scenario, form: CarriageForm, carriage: Carriage, names: Collection[str]
) -> dict[str, Device]:
    """Those of the further instruments that are asked for, by name; the climate is the thermometers once more."""
    every: dict[str, Device] = {
        "reference": SteadyLevel(scenario, form),
        "autocollimator": PitchAndYaw(scenario, form, carriage),
        "indicator": RidingIndicator(scenario, form, carriage),
        "thermometers": Thermometers(scenario, form),
        "controller": ControllerPosition(scenario, carriage),
        "climate": Thermometers(scenario, form),
    }
    return {name: device for name, device in every.items() if name in names}
