"""Uncertainty of geometry: distributions through the evaluation, budgets, what a bed's true shape may be."""

from waywright.uncertainty.degrees import coverage_factor, welch_satterthwaite
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.inputs import Input, arcsine, exact, normal, rectangular, student, triangular
from waywright.uncertainty.monte_carlo import monte_carlo
from waywright.uncertainty.outcome import Outcome
from waywright.uncertainty.profiles import NoiseFloor, noise_floor_um, noise_values
from waywright.uncertainty.propagation import Propagated, propagate

__all__ = [
    "Input",
    "NoiseFloor",
    "Outcome",
    "Propagated",
    "arcsine",
    "coverage_factor",
    "exact",
    "monte_carlo",
    "noise_floor_um",
    "noise_values",
    "normal",
    "propagate",
    "rectangular",
    "standard_normals",
    "student",
    "triangular",
    "welch_satterthwaite",
]
