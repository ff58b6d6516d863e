"""What watching a pass finds, and which station to take again."""

TEXT = {
    "guard_watch.missed": (
        "A station was missed between {from_mm:.0f} and {to_mm:.0f} mm ({missed:.0f} of {spacing_mm:.0f} mm). Go "
        "back and"
        " take it."
    ),
    "guard_watch.doubled": (
        "The readings at {from_mm:.0f} and {to_mm:.0f} mm lie much closer than {spacing_mm:.0f} mm: the same station "
        "twice? Drive on to the next."
    ),
    "guard_watch.scatter": (
        "Take the station at {position_mm:.0f} mm again: the samples of {channel} scatter by {sd:.2f} {unit}, usual is"
        " {usual:.2f} (limit {limit:.2f}). Is somebody in the beam, or does something vibrate? The old reading stays."
    ),
    "guard_watch.outlier": (
        "Take the station at {position_mm:.0f} mm again: {channel} is off its neighbours by {off:+.1f} {unit}, the "
        "others scatter by {spread:.1f}. The old reading stays."
    ),
    "guard_watch.spike": (
        "Take the station at {position_mm:.0f} mm again: {channel} is off the other passes by {size:+.1f} ± "
        "{standard_error:.1f} {unit}. The old reading stays."
    ),
    "guard_watch.cannot-tell_here": (
        "Take the station at {position_mm:.0f} mm again: {channel} does not fit the other passes there ({kinds}). The "
        "old reading stays."
    ),
    "guard_watch.step": (
        "From a place between {from_mm:.0f} and {to_mm:.0f} mm on, {channel} is off the other passes by {size:+.1f} ± "
        "{standard_error:.1f} {unit} and stays so: something slipped. Check magnets, source and detector, then take "
        "the pass again."
    ),
    "guard_watch.shift": (
        "From a place between {from_mm:.0f} and {to_mm:.0f} mm on, {channel} fits stations {shift_mm:+.0f} mm away: a "
        "station was read twice or left out. Check the positions, then take the pass again."
    ),
    "guard_watch.cannot-tell": (
        "Between {from_mm:.0f} and {to_mm:.0f} mm {channel} does not fit the other passes, and it cannot be told why "
        "({kinds}). Go back to {from_mm:.0f} mm and take the stations from there again."
    ),
    "guard_watch.closure": (
        "The pass does not close: {change:+.1f} between the first and the last reading at the same place, {limit:.1f}"
        " are allowed. Take the pass again."
    ),
    "guard_watch.closure_at": (
        "At {position_mm:.0f} mm {channel} does not close: {change:+.1f} {unit} from pass {first:.0f} to pass "
        "{again:.0f}, "
        "{limit:.1f} are allowed. Let source and air settle, then take the pass again."
    ),
    "guard_watch.drift": (
        "{channel} drifts: {change:+.1f} {unit} during a pass, as passes of one direction show, and {limit:.1f} are "
        "allowed. Let the source settle, or make the passes shorter."
    ),
    "guard_watch.temperature": (
        "The temperature changed by {change_k:+.1f} K in {minutes:.0f} min, faster than {limit_k_per_h:g} K per hour."
        " Wait until it is steady, then take the pass again."
    ),
    "guard_watch.where": "pass {passes} {code}",
    "guard_watch.nothing_found": "Nothing stands out: the passes agree within their scatter.",
    "guard_watch.now_again": " take again: {places} mm",
}
