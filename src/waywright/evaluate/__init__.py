"""Geometry from readings: reference lines, deviations, values. Arrays in, frozen records out.

Knows no device, file, clock or page. Station axis first; a second axis is always draws.
"""

from waywright.evaluate.angles import (
    GuidewayShape,
    check_base,
    heights_from_rotation,
    level_zero,
    slope_source,
    travel_sense,
    without_earth_curvature,
)
from waywright.evaluate.anomalies import Anomaly, PassesCheck, check_passes
from waywright.evaluate.drift import Closure, Drift, estimate_drift, remove_drift
from waywright.evaluate.flatness import PLANES, Flatness, ReferencePlane, flatness
from waywright.evaluate.given import ReferenceFlip, reference_flip, straightness_to_target
from waywright.evaluate.least_squares import Fit, fit, fit_polynomial
from waywright.evaluate.links import Link, LinkedParallelism, Slope, linked_parallelism, slope_of_line
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
from waywright.evaluate.passes import JoinedPasses, Traverse, join_passes
from waywright.evaluate.positioning import Positioning, positioning
from waywright.evaluate.results import LocalStraightness, Reason, ReferenceLine, Straightness
from waywright.evaluate.reversal import straightedge_reversal
from waywright.evaluate.segments import JoinedSegments, Segment, join_segments
from waywright.evaluate.spatial import SpatialStraightness, spatial_straightness
from waywright.evaluate.steps import heights_from_slopes, heights_from_steps
from waywright.evaluate.straightness import REFERENCES, straightness, straightness_by_reference
from waywright.evaluate.twist import Twist, twist

__all__ = [
    "PLANES",
    "REFERENCES",
    "Anomaly",
    "Closure",
    "Drift",
    "Fit",
    "Flatness",
    "GuidewayShape",
    "JoinedPasses",
    "JoinedSegments",
    "Link",
    "LinkedParallelism",
    "LocalStraightness",
    "NetworkHeights",
    "Parallelism",
    "PassesCheck",
    "Positioning",
    "Reason",
    "ReferenceFlip",
    "ReferenceLine",
    "ReferencePlane",
    "Segment",
    "Slope",
    "SlopeLine",
    "SpatialStraightness",
    "Squareness",
    "Straightness",
    "Traverse",
    "Twist",
    "check_base",
    "check_passes",
    "estimate_drift",
    "fit",
    "fit_polynomial",
    "flatness",
    "heights_from_network",
    "heights_from_rotation",
    "heights_from_slopes",
    "heights_from_steps",
    "join_passes",
    "join_segments",
    "level_zero",
    "linked_parallelism",
    "local_straightness",
    "parallelism",
    "positioning",
    "reference_flip",
    "remove_drift",
    "slope_of_line",
    "slope_source",
    "spatial_straightness",
    "square_reversal",
    "squareness",
    "straightedge_reversal",
    "straightness",
    "straightness_by_reference",
    "straightness_to_target",
    "three_squares",
    "travel_sense",
    "twist",
    "without_earth_curvature",
]
