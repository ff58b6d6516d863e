"""Sentences of typing values in."""

TEXT = {
    "typing_in.division": "What is a division worth? State --division and --division-unit, for example 0.02 and mm/m.",
    "typing_in.places": (
        "There is no place to type for: from, to and step must lead forward, for example 0 to 5200 by 400."
    ),
    "typing_in.full": "All {places} places have their value.",
    "typing_in.no_number": "{said!r} is no number. Type it as on the dial, such as -12.5 or 3,2.",
    "typing_in.row": "Row {row} of the column is no number: {said!r}. Nothing of it was taken.",
    "typing_in.too_many": "The column has {rows} numbers, but only {places} places are left. Nothing of it was taken.",
    "typing_in.quantity": "{said!r} cannot be typed here. Allowed: {allowed}.",
    "typing_in.kept": "{readings} of {places} places have their value; they are in the archive.",
    "typing_in.ask": "{number:>3} of {places}  {place_mm:>8.1f} mm  ({unit}): ",
    "typing_in.doubt": (
        "     {number:g} {unit} does not fit its neighbours (about {expected:.3g} {unit} expected){hint}. "
        "Enter keeps it, another number replaces it: "
    ),
    "typing_in.slip_sign": "; the other sign would",
    "typing_in.slip_tenth": "; ten times as much would",
    "typing_in.slip_ten_times": "; a tenth of it would",
}
