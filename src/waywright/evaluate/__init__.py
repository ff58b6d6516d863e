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
from waywright.evaluate.angular import Angular, angular_error
from waywright.evaluate.anomalies import Anomaly, PassesCheck, check_passes
from waywright.evaluate.artefacts import parallelism_by_fringes_um, plate_limit_um, vial_radius_m
from waywright.evaluate.drift import Closure, Drift, estimate_drift, remove_drift
from waywright.evaluate.flatness import PLANES, Flatness, ReferencePlane, flatness
from waywright.evaluate.functional_point import (
    AtFunctionalPoint,
    LevelPlaces,
    at_functional_point,
    level_places,
    offset_along_axes,
)
from waywright.evaluate.given import ReferenceFlip, reference_flip, straightness_to_target
from waywright.evaluate.gravity import (
    Material,
    cantilever_sag_um,
    rectangle,
    round_bar,
    straightedge_sag_um,
    supports_at,
)
from waywright.evaluate.joint import Joint, joint
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
from waywright.evaluate.reversal import Separated, straightedge_reversal
from waywright.evaluate.segments import JoinedSegments, Segment, join_segments
from waywright.evaluate.spatial import SpatialStraightness, spatial_straightness
from waywright.evaluate.spindle import SpindleToAxis, spindle_to_axis
from waywright.evaluate.squares import ComparedSquares, compare_squares
from waywright.evaluate.steps import heights_from_slopes, heights_from_steps
from waywright.evaluate.straightness import REFERENCES, straightness, straightness_by_reference
from waywright.evaluate.twist import Twist, twist
from waywright.evaluate.two_ways import TwoWays, two_ways
from waywright.evaluate.vertical import RamDroop, RollFromLines, ram_droop, roll_from_lines

__all__ = [
    "PLANES",
    "REFERENCES",
    "Angular",
    "Anomaly",
    "AtFunctionalPoint",
    "Closure",
    "ComparedSquares",
    "Drift",
    "Fit",
    "Flatness",
    "GuidewayShape",
    "JoinedPasses",
    "JoinedSegments",
    "Joint",
    "LevelPlaces",
    "Link",
    "LinkedParallelism",
    "LocalStraightness",
    "Material",
    "NetworkHeights",
    "Parallelism",
    "PassesCheck",
    "Positioning",
    "RamDroop",
    "Reason",
    "ReferenceFlip",
    "ReferenceLine",
    "ReferencePlane",
    "RollFromLines",
    "Segment",
    "Separated",
    "Slope",
    "SlopeLine",
    "SpatialStraightness",
    "SpindleToAxis",
    "Squareness",
    "Straightness",
    "Traverse",
    "Twist",
    "TwoWays",
    "angular_error",
    "at_functional_point",
    "cantilever_sag_um",
    "check_base",
    "check_passes",
    "compare_squares",
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
    "joint",
    "level_places",
    "level_zero",
    "linked_parallelism",
    "local_straightness",
    "offset_along_axes",
    "parallelism",
    "parallelism_by_fringes_um",
    "plate_limit_um",
    "positioning",
    "ram_droop",
    "rectangle",
    "reference_flip",
    "remove_drift",
    "roll_from_lines",
    "round_bar",
    "slope_of_line",
    "slope_source",
    "spatial_straightness",
    "spindle_to_axis",
    "square_reversal",
    "squareness",
    "straightedge_reversal",
    "straightedge_sag_um",
    "straightness",
    "straightness_by_reference",
    "straightness_to_target",
    "supports_at",
    "three_squares",
    "travel_sense",
    "twist",
    "two_ways",
    "vial_radius_m",
    "without_earth_curvature",
]
