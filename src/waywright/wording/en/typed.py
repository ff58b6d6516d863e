"""Sentences of typing values in."""

TEXT = {
    "typed.division": "What is a division worth? State --division and --division-unit, for example 0.02 and mm/m.",
    "typed.places": "There is no place to type for: from, to and step must lead forward, for example 0 to 5200 by 400.",
    "typed.full": "All {places} places have their value.",
    "typed.no_number": "{said!r} is no number. Type it as on the dial, such as -12.5 or 3,2.",
    "typed.row": "Row {row} of the column is no number: {said!r}. Nothing of it was taken.",
    "typed.too_many": "The column has {rows} numbers, but only {places} places are left. Nothing of it was taken.",
    "typed.quantity": "{said!r} cannot be typed here. Allowed: {allowed}.",
    "typed.kept": "{readings} of {places} places have their value; they are in the archive.",
    "typed.ask": "{number:>3} of {places}  {place_mm:>8.1f} mm  ({unit}): ",
    "typed.doubt": (
        "     {number:g} {unit} does not fit its neighbours (about {expected:.3g} {unit} expected){hint}. "
        "Enter keeps it, another number replaces it: "
    ),
    "typed.slip_sign": "; the other sign would",
    "typed.slip_tenth": "; ten times as much would",
    "typed.slip_ten_times": "; a tenth of it would",
}
