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
    "guard.level_not_turned": "Its zero is not known: turn it by 180 degrees on the same spot and read it again.",
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
    "guard.bad_linearity": (
        "The linearity table has {readings} readings and {errors} errors. Give at least two of each, as many of one "
        "as of the other."
    ),
    "guard.linearity_not_increasing": (
        "The readings of the linearity table must increase; the first is {first_um:g} um."
    ),
    "guard.beyond_linearity": (
        "Readings from {lowest_um:.0f} to {highest_um:.0f} um reach beyond the linearity table ({first_um:.0f} to "
        "{last_um:.0f} um). Align the beam nearer to the middle."
    ),
    "guard.two_distances": (
        "Readings at {distances} distance(s) do not show how the beam lies. Read near the source and far from it."
    ),
    "guard.beyond_range": (
        "{reading_um:.0f} um lies beyond the detector's range ({low_um:.0f} to {high_um:.0f} um). Bring the beam onto"
        " the detector first."
    ),
    "guard.align_good-enough": (
        "Good enough: over {excursion_um:.0f} um the detector's nonlinearity adds {error_um:.2f} um, less than "
        "{limit_um:.2f} um."
    ),
    "guard.align_align": (
        "Align the beam: over {excursion_um:.0f} um the detector's nonlinearity adds {error_um:.2f} um, and "
        "{limit_um:.2f} um are allowed."
    ),
    "guard.align_by_rule_good-enough": (
        "Good enough: an excursion of {excursion_um:.0f} um is within {longest_um:.0f} um."
    ),
    "guard.align_by_rule_align": (
        "Align the beam: an excursion of {excursion_um:.0f} um is more than {longest_um:.0f} um."
    ),
    "guard.bow_method": "{method!r} is not a method that the bow challenge knows. Write beam or level.",
    "guard.bow_small_doubt": (
        "Believe the bow of {bow_um:+.1f} um: everything that could imitate it together is within {together_um:.1f} "
        "um, less than a tenth of the tolerance ({limit_um:.1f} um)."
    ),
    "guard.bow_believe": (
        "Believe the bow: of {bow_um:+.1f} um at most {together_um:.1f} um can be imitated; {remaining_um:+.1f} ± "
        "{doubt_um:.1f} um remain."
    ),
    "guard.bow_heat": (
        "Measure at another hour: a warm or cold bed may make {reach_um:.1f} um of the bow of {bow_um:+.1f} um. Turn "
        "no support before the bed's top and foot are alike, or their temperatures are measured."
    ),
    "guard.bow_air": (
        "Mix the air: layered air may make {reach_um:.1f} um of the bow of {bow_um:+.1f} um. Let fans blow along the "
        "beam, or measure the air's temperature above and below it, and measure again. Turn no support yet."
    ),
    "guard.bow_angle-drift": (
        "Measure at another hour: the beam's angle may have drifted by {reach_um:.1f} um of the bow of {bow_um:+.1f} "
        "um. Let the source settle, and take passes both ways. Turn no support yet."
    ),
    "guard.bow_nonlinearity": (
        "Use a second method: the detector's own nonlinearity may make {reach_um:.1f} um of the bow of {bow_um:+.1f} "
        "um. Align the beam better, or measure with a level as well. Turn no support yet."
    ),
    "guard.bow_pressure": (
        "Use a second method: the pressure of the air, which falls with height, makes {reach_um:.1f} um of the bow of"
        " {bow_um:+.1f} um."
    ),
    "guard.bow_earth": (
        "Use a second method: a level follows the curved earth, which makes {reach_um:.1f} um of the bow of "
        "{bow_um:+.1f} um."
    ),
    "guard.too_few_for_outliers": "{values} values are too few to call one of them an outlier.",
    "guard.pass_arrays": (
        "Positions ({positions}) and values ({values}) of a pass do not belong together, or one is not a number."
    ),
    "guard.plan_no_length": (
        "There is no way from {from_mm:g} to {to_mm:g} mm. The second position must be the larger one."
    ),
    "guard.plan_axis": "{axis!r} is not an axis of the machine. Write X, Y, Z, U, V or W.",
    "guard.plan_stations": "{stations} stations are no pass. Give at least two, in ascending order.",
    "guard.plan_by_supports": (
        "{stations} stations, at most {step_mm:.0f} mm apart: a quarter of the distance of the supports, and one over"
        " each."
    ),
    "guard.plan_by_local-window": (
        "{stations} stations, at most {step_mm:.0f} mm apart: a third of the window of the local tolerance."
    ),
    "guard.plan_by_travel": "{stations} stations, at most {step_mm:.0f} mm apart: a tenth of the travel.",
    "guard.plan_drift": (
        "A pass takes {pass_min:.0f} min, and the drift allows {longest_min:.0f} min: measure in segments, or calm "
        "the source and record again."
    ),
    "guard.plan_scatter": (
        "The scatter leaves {reached_um:.2f} um at a station, and {wished_um:.2f} um are wished: calm the air, or "
        "wish for less."
    ),
    "guard.no_reason": (
        "Say why the work goes on although the test ({test}) is not good; the report carries the reason."
    ),
    "guard.nothing_in_the_way": "The test ({test}) is good ({outcome}): nothing stands in the way.",
    "guard.which_test": (
        "{found} tests of this line have an id that ends in {wanted!r}. Name one that `waywright guard list --json` "
        "shows."
    ),
    "guard.no_common_channel": "{near} and {far} have no channel in common. Give the columns the same names in both.",
    "guard.unreadable": "{file} cannot be read ({problem}). Check the name of the file.",
    "guard.column_missing": "{file} lacks the column {column} (it has: {found}). Name the columns in the first line.",
    "guard.bad_row": "{file}, line {row}: {cells} cells, but the header has {columns} columns.",
    "guard.bad_cell": "{file}, line {row}: {cell!r} is not a number. Leave a cell empty where the beam was lost.",
    "guard.uneven": (
        "The times in {file} are not evenly spaced (usually {spacing_s:g} s). Record at an even rate, and leave cells"
        " empty where the beam was lost."
    ),
    "guard.say_outcome": "{outcome} ({detail})",
    "guard.say_channels": "The first channel counts {first}, the second {second}.",
    "guard.say_scale": "Size ({direction}): {value:.3f} ± {error:.3f} of the move.",
    "guard.say_roll": "Roll: {roll_deg:+.2f} ± {error_deg:.2f} degrees.",
    "guard.say_turned": (
        "Turned by 180 degrees: its zero is {zero:+.0f} ± {error:.1f} um/m, the true tilt {tilt:+.0f} ± {error:.1f} "
        "um/m"
        " in the level's own sign."
    ),
    "guard.say_half_resolved": "Not resolved: a level needs its sign and its zero.",
    "guard.say_temperature": "{place}: {value:.2f} °C",
    "guard.say_rules": "Rules used:",
    "guard.say_refractivity": "refractivity, n - 1",
    "guard.say_per_k": "change with temperature, at constant vapour pressure",
    "guard.say_end": "readings at the far end, by the gradient",
    "guard.say_bow": "bow of readings, by the gradient",
    "guard.say_pressure": "bow of readings, by the pressure of the air",
    "guard.say_earth": "bow of readings of a level, by the curved earth",
    "guard.say_bed": "bow of a free bed, by its temperatures",
    "guard.say_measured_bow": "as measured",
    "guard.say_measured": "measured",
    "guard.say_assumed": "assumed",
    "guard.say_remaining": "what remains",
    "guard.cause_heat": "bed warmer at its top or foot",
    "guard.cause_air": "layered air",
    "guard.cause_pressure": "pressure of the air",
    "guard.cause_angle-drift": "angle of the beam drifting during the pass",
    "guard.cause_nonlinearity": "detector's nonlinearity",
    "guard.cause_earth": "curved earth",
    "guard.say_effort": (
        "{stations} stations, {passes} passes, {averaging_s:.1f} s averaged at each: {pass_min:.0f} min a pass, "
        "{total_min:.0f} min in all. Scatter of a station's mean: {reached_um:.2f} um."
    ),
    "guard.say_no_evidence": "Nothing was tested yet for this line.",
    "guard.alarm_bed": (
        "The bed's top and foot differ by {value:+.2f} K (up to {limit:.2f} K can be the thermometers): a bow may be "
        "heat. Do the bow challenge before turning a support."
    ),
    "guard.alarm_air": (
        "The air is layered by {value:+.2f} K per metre (up to {limit:.2f} can be the thermometers): a bow may be the"
        " air. Mix it, or do the bow challenge."
    ),
    "guard.say_open": "open",
    "guard.say_closed": "something stands in the way",
}
