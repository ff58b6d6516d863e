"""Sentences about whether a set-up can be trusted."""

TEXT = {
    "guard.averages_too_long": (
        "{factor} readings in an average are too many for a recording of {samples}: two averages must fit into it."
    ),
    "guard.recording_too_short": (
        "A recording of {samples} usable samples says nothing about steadiness; at least {needed} are needed. Record "
        "for five minutes."
    ),
    "guard.not_positive": "{name} is {value}; it must be greater than zero.",
    "guard.not_a_share": "{value} is not a share. Give a number between 0 and 1, for example 0.9.",
    "guard.far_not_beyond_near": (
        "The far recording ({far_m} m from the source) must be farther away than the near one ({near_m} m). Record "
        "once close to the source and once at the other end."
    ),
    "guard.air_outside": "{name} is {value}; the equation for air holds from {low:g} to {high:g}.",
    "guard.steady_use": (
        "The beam is steady enough: average {averaging_s:.1f} s at each station and finish the pass within "
        "{sure_min:.0f} min."
    ),
    "guard.steady_disturbed_near": (
        "The near recording was disturbed ({samples} samples lost or far out): find the cause and record again."
    ),
    "guard.steady_disturbed_far": (
        "The far recording was disturbed ({samples} samples lost or far out): find the cause and record again."
    ),
    "guard.steady_scatter": (
        "The air is too restless: the scatter does not fall below {least_um:.2f} um, even when {averaging_s:.0f} s "
        "are averaged, and {wished_um:g} um are wished. Shield the beam or mix the air, or come at another hour."
    ),
    "guard.steady_scatter_unsure": (
        "The recording of {duration_s:.0f} s does not show whether {wished_um:g} um can be reached (smallest scatter "
        "{least_um:.2f} um at {averaging_s:.0f} s): record longer."
    ),
    "guard.steady_slow": (
        "Averaging would take {averaging_s:.0f} s a station for a scatter of {wished_um:g} um, more than "
        "{longest_s:.0f} s: calm the air or wish for less."
    ),
    "guard.steady_record_short": (
        "The recording is too short for averages of {averaging_s:.1f} s: record for at least {needed_min:.0f} min."
    ),
    "guard.steady_drift_unsure": (
        "The drift is not known well enough: a pass of {pass_min:.0f} min seems allowed (at most {longest_min:.0f} "
        "min), but only {sure_min:.1f} min are sure. Record longer, or make the pass shorter."
    ),
    "guard.steady_drift": (
        "The beam drifts too fast: a pass of {pass_min:.0f} min is planned, and after {longest_min:.1f} min a tenth "
        "of the tolerance is used up. Let the source warm up, fix it better, or make the pass shorter."
    ),
    "guard.source_common_practice": "common practice, no published source",
    "guard.rule_drift_share": "the drift during a pass stays below {value:g} of the tolerance",
    "guard.rule_longest_averaging": "at most {value:g} s are averaged at a station",
    "guard.rule_record_of_averages": "a recording is at least {value:g} times as long as the average it speaks for",
    "guard.rule_most_disturbed": "at most {value:g} of the samples are lost or far out",
    "guard.rule_scale": "the size of a known move is right within {value:g} of it",
    "guard.rule_roll": "the detector's roll is at most {value:g} degree",
    "guard.rule_seating": "a shim seats with a standard uncertainty of {value:g} um where nothing better is known",
    "guard.not_a_move": "A detector is moved up, down, towards or away from the operator, not {direction}.",
    "guard.negative_uncertainty": "The move of {size_um:g} um has a negative uncertainty. Give it as zero or more.",
    "guard.channels_not_crossed": (
        "One channel must be vertical and one sideways; they are described as {first} and {second}."
    ),
    "guard.which_moves": (
        "{moves} moves were given. Move the detector once up or down, and once towards or away from the operator."
    ),
    "guard.direction_proved": "Both channels count in the directions described.",
    "guard.direction_mirrored": (
        "One channel counts the other way round: the detector is mounted as a mirror image. Turn the sign of that "
        "channel, or mount the detector as described."
    ),
    "guard.direction_upside-down": "The detector is upside down: both channels count the other way round.",
    "guard.direction_swapped": "The channels are swapped: the vertical one sees sideways moves.",
    "guard.direction_quarter-turn": (
        "The detector is turned by a quarter: its channels are swapped and one counts backwards."
    ),
    "guard.direction_rolled": (
        "The detector is rolled by {roll_deg:+.1f} ± {error_deg:.1f} degrees: {percent:.1f} % of one deviation shows "
        "in the other. Level it and test again."
    ),
    "guard.direction_scale_off": (
        "The size is wrong ({direction}): {percent:+.1f} ± {error_percent:.1f} %. Check the shim, the unit and the "
        "factor of the channel."
    ),
    "guard.direction_scale_open": (
        "The size is not resolved ({direction}): {percent:+.1f} ± {error_percent:.1f} %. The shim is not good enough "
        "to say more; sign and channel are proved all the same."
    ),
    "guard.direction_one_move": "Only one direction was moved. Move the detector the other way as well.",
    "guard.direction_one_foot": (
        "The shim seems to lie under one foot only ({foot}): of {size_um:.0f} um the detector rose {seen_um:.0f} um "
        "and moved {side_um:+.0f} um sideways. Put it under all feet and test again."
    ),
    "guard.direction_not_resolved": (
        "Not resolved: a move of {size_um:.0f} um ({direction}) was seen as {up_um:+.1f} um up and {side_um:+.1f} um "
        "towards the operator, with a standard uncertainty of {error_um:.1f} um. Take a thicker shim, or average "
        "longer."
    ),
    "guard.level_proved": (
        "The level counts the right way: {seen_um_per_m:+.0f} um/m for a known tilt of {known_um_per_m:.0f} um/m."
    ),
    "guard.level_not_resolved": (
        "Not resolved: {seen_um_per_m:+.0f} um/m for a known tilt of {known_um_per_m:.0f} um/m, with a standard "
        "uncertainty of {error_um_per_m:.0f} um/m. Take a thicker shim."
    ),
    "guard.level_wrong_sign": (
        "The level counts the wrong way: {seen_um_per_m:+.0f} um/m where the tilt grew by {known_um_per_m:.0f} um/m. "
        "Turn it, or turn the sign of its channel."
    ),
    "guard.level_wrong_size": (
        "The level shows the wrong size: {seen_um_per_m:+.0f} um/m for a known tilt of {known_um_per_m:.0f} um/m. "
        "Check its unit and its base."
    ),
}
