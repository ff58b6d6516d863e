"""Steering of a source that can tilt its own beam."""

TEXT = {
    "guard_steer.no_steering": (
        "{source} offers no steering for what {detector} sees. Describe it (`[[steering]]` in the source's file), or "
        "align by hand (`guard align`)."
    ),
    "guard_steer.nothing_heard": "Nothing comes from {title}. Check its cable and power, then begin again.",
    "guard_steer.lost_at_once": "{channel} has no beam. Bring it onto the detector first, then begin again.",
    "guard_steer.say": "Say `--{name}`; steering needs it.",
    "guard_steer.no_keys": "The input has ended: nobody can say that the carriage stands, or stop the steering.",
    "guard_steer.say_near": "Drive the carriage near the source ({near_m:g} m), let it stand, and press Enter.",
    "guard_steer.say_far": "Drive the carriage to the far end ({far_m:g} m), let it stand, and press Enter.",
    "guard_steer.say_keys": (
        "Waywright tilts the source itself in steps of at most {largest:g} um/m; it moves nothing else. Enter while it "
        "steers, or ctrl-c, stops it at once. Never look into the beam."
    ),
    "guard_steer.say_step": "{channel}: tilted by {told:+.1f} um/m, far {before:+.1f} -> {after:+.1f} um",
    "guard_steer.aligned": (
        "The beam lies along the axis: far and near differ by {off_um:+.1f} um at most, {goal_um:.1f} um are allowed; "
        "{steps} steps."
    ),
    "guard_steer.beam-lost": (
        "Stopped: {channel} lost the beam after {steps} steps. Nothing more was sent. Clear the beam, or bring it back "
        "onto the detector by hand, and begin again near the source."
    ),
    "guard_steer.timeout": (
        "Stopped: {timeout_s:.0f} s are over after {steps} steps; far and near differ by {off_um:+.1f} um ({worst})."
    ),
    "guard_steer.stopped": "Stopped by key after {steps} steps; far and near differ by {off_um:+.1f} um ({worst}).",
    "guard_steer.not-confirmed": "Stopped after {steps} steps: {reason}",
    "guard_steer.wrong-way": (
        "Stopped: a step moved {channel} by {change_um:+.1f} um, {expected_um:+.1f} um were expected. The direction in "
        "the source's description, or the sign of the channel, is the wrong way round: do the direction test."
    ),
    "guard_steer.no-effect": (
        "Stopped: a step moved {channel} by {change_um:+.1f} um where {expected_um:+.1f} um were expected. Check the "
        "unit of the steering command, and that nothing blocks the source's tilt."
    ),
    "guard_steer.too-many-steps": (
        "Stopped after {steps} steps; far and near still differ by {off_um:+.1f} um ({worst}). Align by hand first."
    ),
}
