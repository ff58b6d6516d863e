"""The carriage's true height, side and roll along its travel, as physical directions at the detector.

Up, towards the operator and operator's side up are positive. It is the form that was machined into the ways, and how
the bed lies on its supports. The machined form of each quantity is a bow (zero at both ends of the travel), an S, a
wave at the spacing of the supports and a short form of eight sines with random phases.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waywright.readings.records import Floats
from waywright.simulation.bed import BedOnSupports
from waywright.simulation.places import Places
from waywright.simulation.scenario import Scenario
from waywright.simulation.sections import Form, Warming

_SHORT_SINES = 8
# a carriage bridges what is much shorter than itself
_SHORT_MM = (200.0, 600.0)


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """One quantity along the travel, drawn once from the seed. Phases and wavelengths are (sines,)."""

    form: Form
    travel_mm: float
    spacing_mm: float
    wave_phase: float
    short_wavelength_mm: Floats
    short_phase: Floats

    def at(self, position_mm: Floats) -> Floats:
        """Values at positions (n,), in the unit of the form; (n,)."""
        u = position_mm / self.travel_mm
        bow = self.form.bow * 4.0 * u * (1.0 - u)
        skew = self.form.skew * np.sin(2.0 * np.pi * u)
        wave = self.form.wave * np.cos(2.0 * np.pi * position_mm / self.spacing_mm + self.wave_phase)
        turns = position_mm[:, None] / self.short_wavelength_mm
        short = np.sin(2.0 * np.pi * turns + self.short_phase).sum(axis=1)
        # eight unit sines have the root mean square sqrt(8 / 2)
        return np.asarray(bow + skew + wave + self.form.short * short / np.sqrt(_SHORT_SINES / 2.0))


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """The carriage at positions (n,): height and side in um, roll in um/m; each (n,)."""

    height_um: Floats
    side_um: Floats
    roll_um_per_m: Floats


@dataclass(frozen=True, slots=True, eq=False)
class CarriageForm:
    """The machined form of height, side and roll; the bed on its supports and how it warms, where there is such."""

    height: Shape
    side: Shape
    roll: Shape
    bed: BedOnSupports | None = None
    warming: Warming | None = None

    def at(self, position_mm: Floats, world_s: Floats | float = np.inf) -> Seen:
        """The carriage at positions (n,) and times (n,) or one; without a time, when the bed has settled."""
        machined = np.stack([shape.at(position_mm) for shape in (self.height, self.side, self.roll)])
        if self.bed is not None:
            machined = machined + self.bed.at(position_mm, world_s)
        if self.warming is not None:
            u = position_mm / self.height.travel_mm
            warm = 1.0 - np.exp(-np.asarray(world_s) / self.warming.within_s)
            machined = machined + np.array([[1.0], [0.0], [0.0]]) * self.warming.crown_um * warm * 4.0 * u * (1.0 - u)
        return Seen(*machined)


def carriage_form(scenario: Scenario) -> CarriageForm:
    """The truth of a scenario as found; the same seed gives the same truth."""
    generator = np.random.default_rng([scenario.seed, 1])
    forms = (scenario.truth.height, scenario.truth.side, scenario.truth.roll)
    truth = scenario.truth
    bed = None if truth.bed is None else BedOnSupports(scenario, truth.bed)
    height, side, roll = (_shape(form, scenario, generator) for form in forms)
    return CarriageForm(height, side, roll, bed, truth.warming)


def _shape(form: Form, scenario: Scenario, generator: np.random.Generator) -> Shape:
    places = Places(scenario)
    shortest, longest = _SHORT_MM
    return Shape(
        form,
        scenario.travel_mm,
        places.support_spacing_mm,
        # highest above a support, give or take a tenth of the spacing
        2.0 * np.pi * (generator.uniform(-0.1, 0.1) - places.first_support_mm / places.support_spacing_mm),
        1.0 / generator.uniform(1.0 / longest, 1.0 / shortest, _SHORT_SINES),
        generator.uniform(0.0, 2.0 * np.pi, _SHORT_SINES),
    )
