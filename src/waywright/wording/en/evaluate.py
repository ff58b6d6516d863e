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
    "evaluate.not_judged_spacing": "not judged: stations every {spacing_mm:.4g} mm, needed {needed_mm:.4g}",
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
}
