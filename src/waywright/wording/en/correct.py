"""Sentences of the correction."""

TEXT = {
    "correct.no_rest": "The bed finds no rest on its supports as described. Check mass, seats and supports.",
    "correct.not_held": (
        "{supports} supports cannot hold this bed. One row needs at least two, two rows at least three that do not "
        "stand in one line."
    ),
    "correct.side_jacks_missing": (
        'Side needs at least two side jacks; {supports} are described. Add supports with kind = "side-jack", or '
        "correct the side elsewhere."
    ),
    "correct.unknown_quantity": "{quantity!r} is not something that is measured of a bed. Use one of: {allowed}.",
    "correct.no_carriage": (
        "The readings are of the carriage, but the machine file has no [bed.carriage]. Add its pad spacing, or say "
        "that the guideway was measured."
    ),
    "correct.lengths_differ": "There are {positions} positions but {values} values of {name}. Give one for each.",
    "correct.station_off_bed": (
        "The station at {position_mm:g} mm lies off the bed, which reaches from 0 to {length_mm:g} mm. Positions here "
        "count along the bed: check the named mark and the direction."
    ),
    "correct.too_few_stations": "A plan needs at least three stations; there are {stations}. Measure more.",
    "correct.not_a_number": "Station {station} has no number for {name}. Leave the station out or measure it again.",
    "correct.negative_noise": "The noise of a reading cannot be {noise_um} µm. Give its standard deviation.",
    "correct.goal_not_positive": "The goal is {goal_um} µm. Give the straightness to be reached, above zero.",
    "correct.unknown_support": "There is no support {support} under this bed. There are: {supports}.",
    "correct.all_locked": (
        "All supports are locked or stand beyond the stations, so nothing can be turned. Unlock some, or measure the "
        "stretch above them."
    ),
    "correct.no_support_allowed": "At most {max_supports} supports may be touched: nothing can be planned.",
    "correct.no_plan": "No moves within the limits satisfy what is asked for. Allow larger moves or more supports.",
    "correct.belief_of_another_bed": (
        "What was learnt is about supports {believed}, but this bed stands on {supports}. Start afresh without it."
    ),
    "correct.moves_differ": "There are {moves} moves for {supports} supports. Give one each, zero where not turned.",
    "correct.roll_once": "Roll was measured on one of the two lines only. Give it before and after, or leave it out.",
}
