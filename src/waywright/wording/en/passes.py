"""Sentences about passes brought together."""

TEXT = {
    "passes.none": "There is no pass to evaluate. Take a pass first.",
    "passes.bad_direction": "{direction!r} is not a direction of a pass. Write forward or backward.",
    "passes.apart": (
        "The passes have no stretch in common: {stations} stations lie within the range of all of them, at least 3 are "
        "needed. Check the positions, or evaluate the passes one by one."
    ),
}
