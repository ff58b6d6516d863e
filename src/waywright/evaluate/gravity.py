"""Sag under its own weight: a straightedge on two supports, a mandrel in its chuck, an indicator's holder.

Euler-Bernoulli beams of even section (Roark's Formulas for Stress and Strain, cantilevers and overhanging beams by
superposition). Up is positive, so sag is negative. ``weight_over_stiffness`` is q / EI, weight per length over bending
stiffness, in 1/mm^3: for a full rectangle 12 rho g / (E h^2), whatever its width, for a round bar 16 rho g / (E d^2).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from waywright.errors import BadInput
from waywright.evaluate.arrays import FloatArray, positions

GRAVITY_M_PER_S2 = 9.80665
AIRY = 1.0 / np.sqrt(3.0)
"""Spacing of the supports over the length with the end faces parallel: 1 / sqrt 3."""
BESSEL = 0.5593801186330428
"""Spacing with the least shortening of the neutral axis."""
LEAST_SAG = 0.5537017978108165
"""Spacing with the least largest sag, ends level with the centre."""


@dataclass(frozen=True, slots=True)
class Material:
    """Young's modulus in GPa and density in kg/m^3."""

    modulus_gpa: float
    density_kg_per_m3: float


STEEL = Material(206.0, 7850.0)
GRANITE = Material(60.0, 2900.0)
"""A usual gabbro; stones differ by a third either way: take the maker's figures."""


def rectangle(height_mm: float, material: Material) -> float:
    """q / EI of a full rectangular section, ``height_mm`` in the direction of gravity, in 1/mm^3.

    Raises BadInput for anything not above zero.
    """
    return 12.0 * _weight_over_modulus(height_mm, material) / height_mm**2


def round_bar(diameter_mm: float, material: Material, bore_mm: float = 0.0) -> float:
    """q / EI of a round bar, or of a tube with a bore, in 1/mm^3. Raises BadInput for anything not above zero."""
    if not 0.0 <= bore_mm < diameter_mm:
        raise BadInput("geometry.bore", bore_mm=bore_mm, diameter_mm=diameter_mm)
    return 16.0 * _weight_over_modulus(diameter_mm, material) / (diameter_mm**2 + bore_mm**2)


def supports_at(length_mm: float, spacing: float = AIRY) -> tuple[float, float]:
    """Both supports, symmetrical, for a spacing as a share of the length."""
    rest = (1.0 - spacing) * length_mm / 2.0
    return rest, length_mm - rest


def straightedge_sag_um(
    place_mm: npt.ArrayLike, length_mm: float, supports_mm: tuple[float, float], weight_over_stiffness: float
) -> FloatArray:
    """Height (n,) in um of a straightedge on two supports against its unloaded shape, 0 at both supports.

    ``place_mm`` (n,) and ``supports_mm`` from its first end. Raises BadInput for places off the straightedge and
    supports that are not two different ones on it.
    """
    s = positions(place_mm, fewest=1)
    near, far = min(supports_mm), max(supports_mm)
    if not 0.0 <= near < far <= length_mm:
        raise BadInput("geometry.supports", first_mm=supports_mm[0], second_mm=supports_mm[1], length_mm=length_mm)
    for off in s[(s < 0.0) | (s > length_mm)][:1]:
        raise BadInput("geometry.off_the_straightedge", place_mm=float(off), length_mm=length_mm)
    at = np.array([near, far])
    raw = _macaulay(np.concatenate([at, s]), length_mm, near, far)
    slope = (raw[1] - raw[0]) / (far - near)
    return np.asarray((raw[2:] - raw[0] - slope * (s - near)) * weight_over_stiffness * 1000.0)


def cantilever_sag_um(
    place_mm: npt.ArrayLike, length_mm: float, weight_over_stiffness: float, end_load_lengths_mm: float = 0.0
) -> FloatArray:
    """Height (n,) in um of a bar held at one end, ``place_mm`` from there; never positive.

    ``end_load_lengths_mm`` is a weight at its free end (an indicator on its holder), as the length of bar that weighs
    the same. Raises BadInput for places off the bar.
    """
    s = positions(place_mm, fewest=1)
    for off in s[(s < 0.0) | (s > length_mm)][:1]:
        raise BadInput("geometry.off_the_straightedge", place_mm=float(off), length_mm=length_mm)
    own = s**2 * (6.0 * length_mm**2 - 4.0 * length_mm * s + s**2) / 24.0
    load = end_load_lengths_mm * s**2 * (3.0 * length_mm - s) / 6.0
    return -(own + load) * weight_over_stiffness * 1000.0


def _macaulay(s: FloatArray, length: float, near: float, far: float) -> FloatArray:
    """Twice integrated bending moment over q, without the two constants; in mm^4."""
    second = length * (length / 2.0 - near) / (far - near)  # reaction over q
    first = length - second
    at_near, at_far = (reaction * np.clip(s - at, 0.0, None) ** 3 for reaction, at in ((first, near), (second, far)))
    return np.asarray((at_near + at_far) / 6.0 - s**4 / 24.0)


def _weight_over_modulus(size_mm: float, material: Material) -> float:
    """rho g / E in 1/mm."""
    for value in (size_mm, material.modulus_gpa, material.density_kg_per_m3):
        if not (np.isfinite(value) and value > 0.0):
            raise BadInput("geometry.not_above_zero", value=value)
    return material.density_kg_per_m3 * GRAVITY_M_PER_S2 / (material.modulus_gpa * 1e9) / 1000.0
