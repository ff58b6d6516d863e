"""Geometry from readings: reference lines, deviations, values. Arrays in, frozen records out.

Knows no device, file, clock or page. Station axis first; a second axis is always draws.
"""

from waywright.evaluate.flatness import PLANES, Flatness, ReferencePlane, flatness
from waywright.evaluate.least_squares import Fit, fit, fit_polynomial
from waywright.evaluate.local import local_straightness
from waywright.evaluate.network import NetworkHeights, SlopeLine, heights_from_network
from waywright.evaluate.orientation import (
    Parallelism,
    Squareness,
    parallelism,
    square_reversal,
    squareness,
    three_squares,
)
from waywright.evaluate.positioning import Positioning, positioning
from waywright.evaluate.results import LocalStraightness, Reason, ReferenceLine, Straightness
from waywright.evaluate.reversal import straightedge_reversal
from waywright.evaluate.spatial import SpatialStraightness, spatial_straightness
from waywright.evaluate.steps import heights_from_slopes, heights_from_steps
from waywright.evaluate.straightness import REFERENCES, straightness, straightness_by_reference
from waywright.evaluate.twist import Twist, twist

__all__ = [
    "PLANES",
    "REFERENCES",
    "Fit",
    "Flatness",
    "LocalStraightness",
    "NetworkHeights",
    "Parallelism",
    "Positioning",
    "Reason",
    "ReferenceLine",
    "ReferencePlane",
    "SlopeLine",
    "SpatialStraightness",
    "Squareness",
    "Straightness",
    "Twist",
    "fit",
    "fit_polynomial",
    "flatness",
    "heights_from_network",
    "heights_from_slopes",
    "heights_from_steps",
    "local_straightness",
    "parallelism",
    "positioning",
    "spatial_straightness",
    "square_reversal",
    "squareness",
    "straightedge_reversal",
    "straightness",
    "straightness_by_reference",
    "three_squares",
    "twist",
]
