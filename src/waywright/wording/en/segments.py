"""Sentences about segments of a line and links between lines."""

TEXT = {
    "segments.none": "There is no segment to join. Take a pass first.",
    "segments.overlap_short": (
        "Segment {segment} ({from_mm:.0f} to {to_mm:.0f} mm) shares {stations} stations with the others; at least "
        "{needed} are needed to find its tilt. Measure the overlap again with more stations."
    ),
    "segments.standard_deviation": (
        "A standard deviation of a segment is not a number above zero. Correct it, or leave all of them out."
    ),
    "segments.draws_differ": (
        "The segments carry different numbers of draws ({draws}). Give all of them the same number."
    ),
    "segments.covariance_shape": (
        "The covariance has the shape {shape} for {stations} stations. Give one row and one column for each station."
    ),
    "segments.link_readings": (
        "The link between the two lines has {readings} usable readings, at least {needed} is needed on each line. "
        "Measure the link again."
    ),
}
