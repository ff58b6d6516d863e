"""Sentences about passes brought together."""

TEXT = {
    "passes.none": "There is no pass to evaluate. Take a pass first.",
    "passes.bad_direction": "{direction!r} is not a direction of a pass. Write forward or backward.",
    "passes.apart": (
        "The passes have no stretch in common: {stations} stations lie within the range of all of them, at least 3 are "
        "needed. Check the positions, or evaluate the passes one by one."
    ),
    "passes.no_times": (
        "The readings have no times, so a drift cannot be estimated. Use readings that were captured, or add a time to "
        "each reading."
    ),
    "passes.drift_one_pass": (
        "One pass cannot show a drift. Take a second pass in the same direction, or read the stations at both ends "
        "again."
    ),
    "passes.drift_or_reversal": (
        "With one pass each way, an even drift cannot be told from a reversal that grows along the axis. Take one more "
        "pass, or wait at the far end and read it twice, and read the near end twice as well."
    ),
    "passes.drift_closure_too_little": (
        "The places read twice ({places_mm} mm) do not show both an offset and an angle that drift: at the near end an "
        "angle is hardly seen. Read the far end twice as well."
    ),
    "passes.drift_not_separable": (
        "The drift cannot be told from a reversal that grows along the axis, so it is not removed. Take one more pass, "
        "or read both ends twice."
    ),
    "passes.false_alarm": "{false_alarm:g} is not a false-alarm rate. Give a share between 0 and 1, for example 0.01.",
    "passes.one_pass_cannot_tell": (
        "not compared: with one pass, a slip cannot be told from the shape of the way. Take a second pass."
    ),
    "passes.too_few_to_compare": (
        "not compared: the passes share {stations} stations, at least {needed} are needed to tell a slip from noise."
    ),
    "passes.too_many_to_compare": (
        "not compared: {readings} readings are more than the {most} that are compared station by station."
    ),
    "passes.found_spike": (
        "Pass {passes}: one reading at {from_mm:.0f} mm stands out by {size:+.1f} ± {standard_error:.1f} {unit}. Take "
        "it again, or leave it out and say why."
    ),
    "passes.found_step": (
        "Pass {passes}: from a place between {from_mm:.0f} and {to_mm:.0f} mm on, all readings are off by {size:+.1f} "
        "± {standard_error:.1f} {unit}. Something slipped and stayed: check magnets, source and detector, then take "
        "the pass again."
    ),
    "passes.found_shift": (
        "Pass {passes}: from a place between {from_mm:.0f} and {to_mm:.0f} mm on, the readings fit stations "
        "{shift_mm:+.0f} mm away ({size:+.2f} of a station). A station was read twice or left out: check the "
        "positions, then take the pass again."
    ),
    "passes.found_cannot-tell": (
        "Pass {passes}, between {from_mm:.0f} and {to_mm:.0f} mm: the readings do not fit the other passes, and cannot "
        "tell why ({kinds}). Take the pass again."
    ),
}
