"""Sentences of the capture of a pass."""

TEXT = {
    "capture.computer_slept": (
        "The computer did not run for {gone_s:.0f} s, probably asleep. Nothing was read meanwhile."
    ),
    "capture.disturbed": (
        "At {position_mm:.0f} mm {channel} was disturbed for {duration_s:.1f} s. The reading was taken again by itself."
    ),
    "capture.disturbed_not_taken": (
        "At {position_mm:.0f} mm {channel} was disturbed for {duration_s:.1f} s and the axis went on before the "
        "reading could be taken again. Go back there and wait."
    ),
    "capture.lost": (
        "At {position_mm:.0f} mm {channel} was lost for {duration_s:.1f} s. The reading was taken again by itself."
    ),
    "capture.lost_not_taken": (
        "At {position_mm:.0f} mm {channel} was lost for {duration_s:.1f} s and the axis went on before the reading "
        "could be taken again. Clear the beam, go back there and wait."
    ),
    "capture.restless": (
        "At {position_mm:.0f} mm {channel} scatters {times:.0f} times as much as before and stays so. The reading was "
        "taken; look for draught or vibration."
    ),
    "capture.not_calm": (
        "At {position_mm:.0f} mm the standard error of {channel} came down to {standard_error:.2g} {unit} only "
        "(wished: {wished:.2g} {unit}). Wait for calmer air or allow a longer window."
    ),
    "capture.too_small_step": (
        "The stop at {position_mm:.1f} mm is only {step_mm:.1f} mm from the last station (smallest step "
        "{smallest_step_mm:.0f} mm): no new station."
    ),
    "capture.repeat": (
        "The station at {position_mm:.0f} mm was measured again. The new reading replaces number {number:.0f}, which "
        "is kept."
    ),
    "capture.hand_moved": (
        "The axis moved at {position_mm:.0f} mm while a reading was taken by hand. There is no reading; stand still "
        "and trigger again."
    ),
    "capture.gap": (
        "At {position_mm:.0f} mm {duration_s:.1f} s of {source} are missing. No reading spans the gap; the window "
        "began anew after it."
    ),
    "capture.silent": (
        "Nothing has come from {source} for {duration_s:.1f} s. Everything taken is kept; check its cable and power. "
        "The pass goes on when it returns."
    ),
    "capture.returned": "{source} is back after {duration_s:.1f} s. The pass goes on.",
    "capture.slept": (
        "The computer slept for {duration_s:.0f} s. No reading spans the sleep; the pass goes on where the axis stands."
    ),
    "capture.travel_end": "The station at {position_mm:.0f} mm is the end of the travel: the pass is finished.",
    "capture.continued": "The pass goes on after {readings} readings.",
    "capture.temperature": "{place}: {value_degc:.2f} °C, recorded with the pass.",
    "capture.sources_ended": "All instruments have stopped sending. The pass was stopped; everything taken is kept.",
    "capture.channel_missing": (
        "No instrument has the channel {channel}. Choose one of: {known}, or give the description file of the "
        "instrument that has it."
    ),
    "capture.channel_twice": (
        "The channel {channel} comes from two instruments. Give one of them another name in its description file."
    ),
}
