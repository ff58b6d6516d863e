"""Refractivity of air and what a gradient across the beam does to it.

Refractivity: P. E. Ciddor, Refractive index of air: new equations for the visible and near infrared, Applied Optics 35
(1996) 1566, with the Davis (1981) compressibility and saturation pressure used there. Valid from 300 nm to 1690 nm.

A beam bends towards the denser, usually the colder air: with the gradient dn/dy across it by (dn/dy) L^2 / 2 at the far
end, of which L^2 / 8 is a bow between the ends and the rest a tilt. Without any gradient of temperature the pressure,
which falls with height, still bends a level beam.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from waywright.errors import BadInput

KELVIN = 273.15
_GAS = 8.314510  # J / (mol K), as in the paper
_WATER_KG = 0.018015
_GRAVITY = 9.80665
EARTH_RADIUS_M = 6.371e6  # mean radius, IUGG (from memory)


@dataclass(frozen=True, slots=True)
class Air:
    """Air at the beam. ``humidity_percent`` is relative, ``co2_ppm`` the share of carbon dioxide."""

    temperature_degc: float = 20.0
    pressure_hpa: float = 1013.25
    humidity_percent: float = 50.0
    co2_ppm: float = 450.0
    wavelength_nm: float = 633.0

    def __post_init__(self) -> None:
        for name, low, high in _RANGES:
            value = getattr(self, name)
            if not low <= value <= high:
                raise BadInput("guard.air_outside", name=name, value=value, low=low, high=high)


_RANGES = (
    ("temperature_degc", -40.0, 100.0),
    ("pressure_hpa", 500.0, 1400.0),
    ("humidity_percent", 0.0, 100.0),
    ("co2_ppm", 0.0, 2000.0),
    ("wavelength_nm", 300.0, 1690.0),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class AirSensitivity:
    """Change of the refractive index, times 1e-6: per K at constant vapour pressure and at constant relative humidity,
    and per metre of height by the falling pressure.
    """

    per_k: float
    per_k_constant_humidity: float
    per_m_of_height: float


@dataclass(frozen=True, slots=True)
class BeamBend:
    """What a gradient across the beam does over ``length_m``: ``end_um`` at the far end, ``bow_um`` in the middle of
    the end line as the *readings* show it, ``angle_um_per_m`` at the end. Positive readings and gradients point the
    same way, for example up: warmer above bends the beam down, so readings at the far end rise and look hollow.
    """

    length_m: float
    gradient_k_per_m: float
    index_per_k: float
    end_um: float
    bow_um: float
    angle_um_per_m: float


def refractivity(air: Air) -> float:
    """(n - 1) times 1e6 for the phase of monochromatic light."""
    pressure_pa = air.pressure_hpa * 100.0
    return _refractivity(air, air.temperature_degc, pressure_pa, _vapour_share(air, air.temperature_degc, pressure_pa))


def sensitivity(air: Air) -> AirSensitivity:
    """Derivatives of the refractive index by central differences of 0.1 K and 10 Pa."""
    t, p = air.temperature_degc, air.pressure_hpa * 100.0
    share = _vapour_share(air, t, p)
    step_k, step_pa = 0.1, 10.0

    def per_k(constant_humidity: bool) -> float:
        values = [
            _refractivity(air, t + s, p, _vapour_share(air, t + s, p) if constant_humidity else share)
            for s in (step_k, -step_k)
        ]
        return (values[0] - values[1]) / (2 * step_k)

    per_pa = (_refractivity(air, t, p + step_pa, share) - _refractivity(air, t, p - step_pa, share)) / (2 * step_pa)
    return AirSensitivity(per_k(False), per_k(True), -per_pa * _density(air, t, p, share) * _GRAVITY)


def beam_bend(length_m: float, gradient_k_per_m: float, air: Air | None = None) -> BeamBend:
    """Bend of a beam by a steady gradient of temperature across it, at constant vapour pressure.

    ``gradient_k_per_m`` is positive where it is warmer in the direction that readings count positive.
    """
    if not length_m > 0.0:
        raise BadInput("guard.not_positive", name="length_m", value=length_m)
    per_k = sensitivity(air or Air()).per_k
    slope = per_k * gradient_k_per_m  # 1e-6 per m: the beam's curvature
    return BeamBend(
        length_m, gradient_k_per_m, per_k, -slope * length_m**2 / 2.0, slope * length_m**2 / 8.0, -slope * length_m
    )


def pressure_bow_um(length_m: float, air: Air | None = None) -> float:
    """Bow of height readings of a level beam in air of even temperature: pressure bends it down; hollow is negative."""
    return sensitivity(air or Air()).per_m_of_height * length_m**2 / 8.0


def bed_bow_um(length_m: float, height_m: float, top_minus_foot_k: float, expansion_per_k: float = 11e-6) -> float:
    """Bow of a free bed whose top is warmer than its foot: alpha dT L^2 / (8 h), positive is a hump.

    ``length_m`` is the length of the line, ``height_m`` that of the bed between the two temperatures. A bed held down
    by anchors bows less. The bending of an evenly heated beam (for example S. Timoshenko, Strength of Materials).
    """
    for name, value in (("length_m", length_m), ("height_m", height_m)):
        if not value > 0.0:
            raise BadInput("guard.not_positive", name=name, value=value)
    return expansion_per_k * top_minus_foot_k * length_m**2 / (8.0 * height_m) * 1e6


def earth_bow_um(length_m: float) -> float:
    """How hollow a straight way reads with a level, which follows the curved earth: -L^2 / (8 R)."""
    return -(length_m**2) / (8.0 * EARTH_RADIUS_M) * 1e6


def _vapour_share(air: Air, t: float, p: float) -> float:
    """Molar fraction of water vapour."""
    kelvin = t + KELVIN
    saturation = math.exp(1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)
    enhancement = 1.00062 + 3.14e-8 * p + 5.6e-7 * t**2
    return enhancement * air.humidity_percent / 100.0 * saturation / p


def _compressibility(t: float, p: float, x: float) -> float:
    r = p / (t + KELVIN)
    first = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t**2
    mixed = (5.707e-6 - 2.051e-8 * t) * x + (1.9898e-4 - 2.376e-6 * t) * x**2
    return 1.0 - r * (first + mixed) + r**2 * (1.83e-11 - 0.765e-8 * x**2)


def _dry_kg(air: Air) -> float:
    return 1e-3 * (28.9635 + 12.011e-6 * (air.co2_ppm - 400.0))


def _density(air: Air, t: float, p: float, x: float) -> float:
    """Of moist air, kg/m3."""
    molar = _dry_kg(air) * (1.0 - x) + _WATER_KG * x
    return p * molar / (_compressibility(t, p, x) * _GAS * (t + KELVIN))


def _refractivity(air: Air, t: float, p: float, x: float) -> float:
    """Equation 5 of the paper: the parts of dry air and of vapour, each in proportion to its density."""
    wave2 = (1e3 / air.wavelength_nm) ** 2
    standard = 5792105.0 / (238.0185 - wave2) + 167917.0 / (57.362 - wave2)
    dry = standard * (1.0 + 0.534e-6 * (air.co2_ppm - 450.0))
    vapour = 1.022 * (295.235 + 2.6422 * wave2 - 0.032380 * wave2**2 + 0.004028 * wave2**3)
    total = _density(air, t, p, x)
    molar = _dry_kg(air) * (1.0 - x) + _WATER_KG * x
    dry_share = total * _dry_kg(air) * (1.0 - x) / molar / _density(air, 15.0, 101325.0, 0.0)
    vapour_share = total * _WATER_KG * x / molar / _density(air, 20.0, 1333.0, 1.0)
    return (dry_share * dry + vapour_share * vapour) * 1e-2
