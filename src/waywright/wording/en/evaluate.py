"""Sentences of the evaluation."""

TEXT = {
    "evaluate.too_few_stations": (
        "A straight line needs at least {needed} stations; there are {stations}. Take more stations."
    ),
    "evaluate.positions_shape": (
        "Positions must be one list of numbers; these have the shape {shape}. Give one position for each station."
    ),
    "evaluate.position_not_a_number": (
        "The position of station {station} is not a number. Fill it in or leave the station out."
    ),
    "evaluate.values_shape": (
        "The {name} values have the shape {shape}. Give one value for each station, or a table with one row for each "
        "station and one column for each repetition."
    ),
    "evaluate.lengths_differ": (
        "There are {positions} positions but {values} {name} values. Give one value for each position."
    ),
    "evaluate.not_a_number": (
        "The {name} at station {station} (position {position_mm:g} mm) is not a number. Measure it again or leave the "
        "station out."
    ),
    "evaluate.unknown_reference": 'There is no reference line "{reference}". Choose one of: {known}.',
    "evaluate.end_not_single": (
        "There are {readings} readings at the end position {position_mm:g} mm, so the line through the end points is "
        "not clear. Keep one of them, or choose another reference line."
    ),
    "evaluate.not_increasing": (
        "Position {position_mm:g} mm of station {station} does not go on in the direction of the stations before it. "
        "Sort the stations by position and keep one reading for each."
    ),
    "evaluate.position_repeated": (
        "Position {position_mm:g} mm occurs more than once. Keep one reading for each position."
    ),
    "evaluate.window_length": (
        "A window of {window_mm:g} mm does not fit the measured length of {length_mm:g} mm. Choose a shorter window "
        "that is not zero."
    ),
    "evaluate.not_judged_spacing": "not judged: stations every {spacing_mm:.0f} mm, needed {needed_mm:.0f}",
    "evaluate.base_not_positive": (
        "The base length of step {step} is {base_mm:g} mm. Give the distance between the feet in mm; it is above zero."
    ),
    "evaluate.tilt_not_a_number": (
        "The tilt of step {step} is not a number. Measure that step again: without it the heights do not join."
    ),
    "evaluate.dependent_columns": (
        "The {columns} unknowns of the fit cannot be told apart with these places. Measure at more different places."
    ),
    "evaluate.too_few_observations": (
        "{observations} readings cannot determine {unknowns} unknowns. Take more readings."
    ),
    "evaluate.fit_shapes": (
        "The fit got columns of shape {columns} and readings of shape {observed}; they need the same number of rows."
    ),
    "evaluate.network_empty": "A network needs at least one line of tilts.",
    "evaluate.network_base": (
        "The base of line {line} is {base_mm:g} mm. Give the distance between the feet in mm; it is above zero."
    ),
    "evaluate.network_tilt": "Step {step} of line {line} is not a number. Measure that step again.",
    "evaluate.network_direction": "Line {line} starts and ends at the same place, so its direction is not known.",
    "evaluate.network_not_joined": (
        "Line {line} does not meet the others in a common point. Add a line that crosses both, or correct its start."
    ),
    "evaluate.points_on_a_line": (
        "The {points} points lie on one line, which does not fix a plane. Measure at points away from that line."
    ),
    "evaluate.three_points_needed": (
        "A plane through three points needs three different ones, by their numbers from 0 to {points} (not included)."
    ),
    "evaluate.plane_not_found": (
        "No minimum-zone plane was found for {points} points. Check the heights for slips, or use least squares."
    ),
    "evaluate.gauge_not_positive": "The gauge of the ways is {gauge_mm:g} mm. Give their distance; it is above zero.",
    "evaluate.squareness_code": (
        'There is no squareness "{code}". Write the turning letter, 0 and the second axis: C0Y, A0Z, B0Z and so on.'
    ),
    "evaluate.nothing_in_common": (
        "The first line ends at {first_end_mm:g} mm and the second starts at {second_start_mm:g} mm: they have no "
        "length in common. Measure both over the same length."
    ),
    "evaluate.runs_differ": (
        "There are {up} runs in the positive direction and {down} in the negative. Take as many each way."
    ),
    "evaluate.one_run": (
        "With one run each way no accuracy and no repeatability can be stated. ISO 230-2 asks for {needed} runs "
        "each way "
        "up to {longest_mm:.0f} mm."
    ),
    "evaluate.fewer_runs": (
        "ISO 230-2 asks for {needed} runs each way up to {longest_mm:.0f} mm; with {runs} these figures of accuracy "
        "and "
        "repeatability are not those of the standard."
    ),
    "evaluate.no_repeatability_so_long": (
        "Over {length_mm:.0f} mm ISO 230-2 takes one run each way and evaluates no repeatability: above "
        "{longest_mm:.0f} "
        "mm neither A nor R is stated. Where they were agreed on, measure a stretch of {longest_mm:.0f} mm."
    ),
    "evaluate.sets_differ": (
        "The normal set has the shape {normal}, the turned set {turned}. Both need the same stations and repetitions."
    ),
}
