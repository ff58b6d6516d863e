"""Named contributions to the uncertainty of a profile, and the budget that holds them.

A contribution says how large it is and how it acts on the readings. What acts the same way on every reading of a pass
(drift, air, a square's own error) is drawn once per trial; scatter is drawn for each reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from waywright.errors import BadInput
from waywright.uncertainty.bed_shapes import BedShapes


class Acts(StrEnum):
    """How a contribution acts on the readings of a pass. In brackets the unit of its value.

    Where the readings are angles themselves (a cross level for twist), um/m stands for um.

    d is the distance from the source in m, t the share of the pass's time from 0 to 1, h what was read in um.
    """

    READING = "reading"
    """each reading by itself [um]: scatter, repeatability of the axis, resolution, foot contact of one reading"""
    TURBULENCE = "turbulence"
    """each reading by itself, growing as (d / 10 m)^1.5 [um at 10 m]"""
    STEP = "step"
    """each height step by itself, so that heights wander: contact of the feet [um]"""
    STEP_ANGLE = "step-angle"
    """each tilt reading by itself, summed over the base: b theta [um/m]"""
    DRIFT_OFFSET = "drift-offset"
    """even drift of the offset over the pass: t [um]"""
    DRIFT_ANGLE = "drift-angle"
    """even drift of the direction over the pass: t d; after a line fit a bow of theta L / 4 [um/m]"""
    AIR_GRADIENT = "air-gradient"
    """steady temperature gradient across the beam: 0.93 d^2 / 2 um per K/m (dn/dT = -0.93e-6 per K at constant
    vapour pressure, 20 degC) [K/m]"""
    BED_GRADIENT = "bed-gradient"
    """change of the temperature gradient from the bed's foot to its top while it is measured: cast iron bends by
    11.5e-6 per K times L^2 / 8 in the middle [K/m]"""
    BOW = "bow"
    """own bow of a straightedge or wire, in the middle [um]"""
    TILT = "tilt"
    """a slope: zero of a level, error of a square or pentaprism; no part of straightness [um/m]"""
    JOIN = "join"
    """a kink where two segments are joined, at each join by itself [um/m]"""
    ABBE = "abbe"
    """uncertainty of an offset times the angle of the carriage [mm]"""
    ROLL = "roll"
    """roll of the detector times the other deviation [mrad]"""
    SCALE = "scale"
    """scale or base length or expansion: a share of what was read [1]"""
    NONLINEARITY = "nonlinearity"
    """a wave of the detector over the excursion [um]"""


UNIT_OF = {
    Acts.READING: "um",
    Acts.TURBULENCE: "um",
    Acts.STEP: "um",
    Acts.STEP_ANGLE: "um/m",
    Acts.DRIFT_OFFSET: "um",
    Acts.DRIFT_ANGLE: "um/m",
    Acts.AIR_GRADIENT: "K/m",
    Acts.BED_GRADIENT: "K/m",
    Acts.BOW: "um",
    Acts.TILT: "um/m",
    Acts.JOIN: "um/m",
    Acts.ABBE: "mm",
    Acts.ROLL: "mrad",
    Acts.SCALE: "1",
    Acts.NONLINEARITY: "um",
}

_DIVISOR = {"normal": 1.0, "rectangular": math.sqrt(3.0), "triangular": math.sqrt(6.0), "arcsine": math.sqrt(2.0)}
SOURCES = ("measured", "certificate", "assumed", "computed")


@dataclass(frozen=True, slots=True)
class Contribution:
    """One line of a budget.

    ``value`` is the standard deviation of a normal distribution, the half-width of the others, in ``unit``.
    ``source`` is "measured" (in this visit), "certificate" or "assumed".
    """

    name: str
    acts: Acts
    value: float
    unit: str
    distribution: str = "normal"
    degrees_of_freedom: float = math.inf
    source: str = "assumed"
    note: str = ""

    def __post_init__(self) -> None:
        needed = UNIT_OF[Acts(self.acts)]
        if self.unit != needed and (self.unit, needed) != ("um/m", "um"):
            raise BadInput(
                "uncertainty.unit_of_contribution", name=self.name, unit=self.unit, needed=UNIT_OF[self.acts]
            )
        if not (math.isfinite(self.value) and self.value >= 0.0 and self.degrees_of_freedom > 0.0):
            raise BadInput("uncertainty.value_of_contribution", name=self.name, value=self.value)
        for word, known in ((self.distribution, tuple(_DIVISOR)), (self.source, SOURCES)):
            if word not in known:
                raise BadInput("uncertainty.word_of_contribution", name=self.name, word=word, known=", ".join(known))

    @property
    def standard_uncertainty(self) -> float:
        """In the unit of the contribution."""
        return self.value / _DIVISOR[self.distribution]


@dataclass(frozen=True, slots=True)
class Correlated:
    """Two contributions of one budget that vary together."""

    first: str
    second: str
    coefficient: float


@dataclass(frozen=True, slots=True)
class Budget:
    """Everything that makes a value of one method uncertain.

    ``reads`` is the unit of the readings: "um", or "um/m" where they are angles that stay angles. ``format`` is that
    of the budget file.
    """

    method: str
    contribution: tuple[Contribution, ...]
    correlation: tuple[Correlated, ...] = ()
    bed: BedShapes = field(default_factory=BedShapes)
    title: str = ""
    format: int = 1
    reads: Literal["um", "um/m"] = "um"

    def __post_init__(self) -> None:
        for one in self.contribution:
            if UNIT_OF[Acts(one.acts)] == "um" and one.unit != self.reads:
                raise BadInput("uncertainty.unit_of_contribution", name=one.name, unit=one.unit, needed=self.reads)
        names = [one.name for one in self.contribution]
        for name in names:
            if names.count(name) > 1:
                raise BadInput("uncertainty.contribution_twice", name=name)
        for pair in self.correlation:
            for name in (pair.first, pair.second):
                if name not in names:
                    raise BadInput("uncertainty.unknown_input", name=name, known=", ".join(names))
            if pair.first == pair.second or not -1.0 <= pair.coefficient <= 1.0:
                raise BadInput(
                    "uncertainty.bad_correlation", first=pair.first, second=pair.second, coefficient=pair.coefficient
                )
