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
}
