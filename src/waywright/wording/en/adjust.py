"""Sentences of a round of correction: confirmations, what was left out, an old belief used again."""

TEXT = {
    "adjust.which_round": (
        "{wanted!r} names {found} rounds of correction in {archive}. Give the end of the id of one; `waywright correct "
        "rounds` lists them."
    ),
    "adjust.not_confirmed": (
        "{lacking} safety confirmations of round {number} are open. Each needs an answer of its own before anything is "
        "turned: `waywright correct confirm`."
    ),
    "adjust.not_asked": "Nothing called {key} is to be confirmed in this round. To be confirmed: {asked}.",
    "adjust.confirm_says_nothing": (
        '{answer!r} does not say what was done. Write it in a few words, such as "main switch off, padlock 14", or '
        '"no such axis here".'
    ),
    "adjust.confirm_said_before": (
        "{answer!r} was the answer to another confirmation. Each is about something else: say what was done here."
    ),
    "adjust.confirm_no_number": "{answer!r} is no number. Give what the maker allows at one support, such as 200 or 0.2 mm.",
    "adjust.confirm_limit_below": (
        "The maker allows {limit_um:g} µm, but this round asks for up to {move_um:g} µm at one support. Set "
        "largest_move_um in the machine file and plan again."
    ),
    "adjust.round_without_belief": "Round {number} was kept without what it was planned on; nothing can be learnt from it.",
    "adjust.left_by_record": "Support {support} is locked by the machine file.",
    "adjust.left_beyond_stations": (
        "Support {support} stands beyond the measured travel: what turning it does would not be seen."
    ),
    "adjust.left_as_asked": "Support {support} was to be left alone.",
    "adjust.left_in_the_ways": "{value_um:.1f} µm are in the ways themselves; no support can take them out.",
    "adjust.left_twist_unmeasured": "Twist was not measured, so it was not corrected.",
    "adjust.left_joint": "A step across the joint at {bed_mm:.0f} mm is not levelled away.",
    "adjust.belief_reused": (
        "What {rounds} earlier rounds told of this bed is used again; it is {age_days:.0f} days old. Its stiffness is "
        "doubted by {doubt:.0%} (the machine file alone: {doubt_without:.0%}), its supports are taken as unknown. "
        "Seats and grout may have changed: turn little in the first round."
    ),
    "adjust.belief_not_reused": (
        "What was learnt of this bed {age_days:.0f} days ago is about other supports ({believed}) and is not used."
    ),
}
