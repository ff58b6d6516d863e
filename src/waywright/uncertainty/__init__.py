"""How far a value can be trusted: distributions through the evaluation, budgets, what a true profile may be."""

from waywright.uncertainty.advice import Action, what_would_help
from waywright.uncertainty.bed_shapes import BedShapes
from waywright.uncertainty.belief import Believer, ProfileBelief
from waywright.uncertainty.contribution import Acts, Budget, Contribution, Correlated
from waywright.uncertainty.degrees import coverage_factor, welch_satterthwaite
from waywright.uncertainty.draws import standard_normals
from waywright.uncertainty.effects import Effect, Measured, covariance, effects
from waywright.uncertainty.inputs import Input, arcsine, exact, normal, rectangular, student, triangular
from waywright.uncertainty.monte_carlo import monte_carlo
from waywright.uncertainty.outcome import Outcome
from waywright.uncertainty.profiles import NoiseFloor, noise_floor_um, noise_values
from waywright.uncertainty.propagation import Propagated, propagate
from waywright.uncertainty.stated import Row, Stated
from waywright.uncertainty.stating import Judged, measured_of, state, state_straightness, straightness_value

__all__ = [
    "Action",
    "Acts",
    "BedShapes",
    "Believer",
    "Budget",
    "Contribution",
    "Correlated",
    "Effect",
    "Input",
    "Judged",
    "Measured",
    "NoiseFloor",
    "Outcome",
    "ProfileBelief",
    "Propagated",
    "Row",
    "Stated",
    "arcsine",
    "covariance",
    "coverage_factor",
    "effects",
    "exact",
    "measured_of",
    "monte_carlo",
    "noise_floor_um",
    "noise_values",
    "normal",
    "propagate",
    "rectangular",
    "standard_normals",
    "state",
    "state_straightness",
    "straightness_value",
    "student",
    "triangular",
    "welch_satterthwaite",
    "what_would_help",
]
