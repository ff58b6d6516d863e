"""Sentences of tolerance rules and verdicts."""

TEXT = {
    "verdict.rule_syntax": (
        "The tolerance rule cannot be read at character {position}:\n  {rule}\n  {marker}\n"
        "Expected here: {expected}. The reference page of tolerance rules has examples to copy."
    ),
    "verdict.rule_decimal_comma": (
        "A comma stands between two numbers at character {position}:\n  {rule}\n  {marker}\n"
        "Write {number} with a point if you mean one number, or put a space after the comma."
    ),
    "verdict.rule_number": (
        "The number at character {position} is too small or too large for a tolerance:\n  {rule}\n  {marker}\n"
        "Numbers are in mm unless a unit follows; allowed are {smallest} to {largest}."
    ),
    "verdict.rule_steps_descend": (
        "Steps grow from left to right; at character {position} something of at least {more_than} mm belongs:\n"
        "  {rule}\n  {marker}\nPut the steps in order of length."
    ),
    "verdict.rule_twice": "The phrase {phrase!r} stands twice (character {position}):\n  {rule}\n  {marker}\nKeep one.",
    "verdict.rule_floor_above_max": (
        "The rule asks for at least {at_least_mm} mm and at most {max_mm} mm:\n  {rule}\n  {marker}\nCorrect "
        "one of the two."
    ),
    "verdict.rule_too_long": "The tolerance rule has {length} characters; at most {longest} are read. Shorten it.",
    "verdict.beyond_last_step": (
        "The rule ends at {up_to_mm:g} mm and says nothing for {length_mm:g} mm. Add a step, or what is added "
        "per further "
        "length."
    ),
    "verdict.no_single_limit": (
        "The part {part!r} of the rule has no single limit for a length: it needs the measured curve. Check the rule "
        "against a result instead."
    ),
    "verdict.bad_length": "A length of {length_mm} mm cannot be judged. Give the measured length in mm.",
    "verdict.not_judged_length": (
        "Not judged by {part!r}: the rule ends at {up_to_mm:g} mm, the line is {length_mm:g} mm long."
    ),
    "verdict.not_judged_needs_angle": (
        "Not judged by {part!r}: the result is an angle and the rule a length. Write the rule as a ratio such "
        "as 0.02/500."
    ),
    "verdict.not_judged_needs_curve": "Not judged by {part!r}: it needs the curve of deviations, not one value.",
    "verdict.not_judged_needs_length": "Not judged by {part!r}: the measured length is not known. State it.",
    "verdict.not_judged_needs_direction": (
        "Not judged by {part!r}: which physical direction positive values point to is not stated, or lies across it."
    ),
    "verdict.not_judged_needs_place": (
        "Not judged by {part!r}: where {place!r} lies along the line is not stated. Say whether positions grow "
        "towards it."
    ),
    "verdict.not_judged_stations": (
        "Not judged by {part!r}: stations stand up to {spacing_mm:.0f} mm apart, a window of {window_mm:g} mm "
        "needs four. Take stations closer together."
    ),
    "verdict.value_not_a_number": "A value of {value} cannot be judged. Give a number in um.",
    "verdict.unknown_burden": "Who has to prove is {burden!r}; use one of: {known}.",
    "verdict.uncertainty_missing": (
        "A verdict needs the uncertainty of the value. Give its standard uncertainty in um, or U with its "
        "coverage factor."
    ),
    "verdict.uncertainty_twice": "The distribution already holds the uncertainty; do not give another one.",
    "verdict.bad_uncertainty": (
        "An uncertainty of {uncertainty_um} um with coverage factor {coverage_factor} cannot be used. "
        "Both are finite, the factor positive."
    ),
    "verdict.bad_limits": "Limits from {lower_um} to {limit_um} um leave no room. The lower one comes first.",
    "verdict.bad_confidence": "A confidence of {confidence} is not between 0.5 and 1. The usual one is 0.95.",
    "verdict.bad_spread": (
        "Spreads of {sd_um} um and {standard_uncertainty_um} um: both the machines' and the measurement's are positive."
    ),
    "verdict.conforms": "conforms",
    "verdict.does_not_conform": "does not conform",
    "verdict.undecided": "undecided",
    "verdict.burden_supplier": "The supplier has to prove conformity.",
    "verdict.burden_customer": "The customer has to prove non-conformity.",
    "verdict.burden_shared": "The burden of proof is shared.",
    "verdict.consumers_risk": "Risk that what is accepted is out of tolerance: {risk:.1%}.",
    "verdict.producers_risk": "Risk that what is refused is in tolerance: {risk:.1%}.",
    "verdict.burden_simple": "Simple acceptance: the measured value alone is compared, as agreed.",
    "verdict.not_judged_needs_slope": (
        "Not judged by {part!r}: the readings do not say where the line itself leads, only how straight it is. "
        "Judge it on levels, parallelism or squareness."
    ),
    "verdict.because_conforms": (
        "{part}: {value:.1f} {unit} against {limit:.1f} {unit}; with {probability:.1%} the true value keeps it, "
        "{confidence:.0%} prove it."
    ),
    "verdict.because_does_not_conform": (
        "{part}: {value:.1f} {unit} against {limit:.1f} {unit}; "
        "only with {probability:.1%} does the true value keep it."
    ),
    "verdict.because_undecided": (
        "{part}: {value:.1f} {unit} against {limit:.1f} {unit}; with {probability:.1%} the true value keeps it, which "
        "proves neither; {confidence:.0%} would."
    ),
    "verdict.because_simple": (
        "{part}: {value:.1f} {unit} as measured against {limit:.1f} {unit}; the uncertainty is left out, as agreed."
    ),
    "verdict.depends_on_reference": (
        "The verdict depends on the reference line: {verdicts}. Agree on one before deciding."
    ),
}
