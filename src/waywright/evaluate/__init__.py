"""Geometry from readings: reference lines, deviations, values. Arrays in, frozen records out.

Knows no device, file, clock or page. Station axis first; a second axis is always draws.
"""

from waywright.evaluate.least_squares import Fit, fit, fit_polynomial
from waywright.evaluate.local import local_straightness
from waywright.evaluate.results import LocalStraightness, Reason, ReferenceLine, Straightness
from waywright.evaluate.steps import heights_from_slopes, heights_from_steps
from waywright.evaluate.straightness import REFERENCES, straightness, straightness_by_reference

__all__ = [
    "REFERENCES",
    "Fit",
    "LocalStraightness",
    "Reason",
    "ReferenceLine",
    "Straightness",
    "fit",
    "fit_polynomial",
    "heights_from_slopes",
    "heights_from_steps",
    "local_straightness",
    "straightness",
    "straightness_by_reference",
]
