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
    "adjust.confirm_no_number": (
        "{answer!r} is no number. Give what the maker allows at one support, such as 200 or 0.2 mm."
    ),
    "adjust.confirm_limit_below": (
        "The maker allows {limit_um:g} µm, but this round asks for up to {move_um:g} µm at one support. Set "
        "largest_move_um in the machine file and plan again."
    ),
    "adjust.round_without_belief": (
        "Round {number} was kept without what it was planned on; nothing can be learnt from it."
    ),
    "adjust.left_by_record": "Support {support} is locked by the machine file.",
    "adjust.left_beyond_stations": (
        "Support {support} stands beyond the measured travel: what turning it does would not be seen."
    ),
    "adjust.left_as_asked": "Support {support} was to stay as it is.",
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
    "adjust.passes_share_little": (
        "The passes share only {shared:.0%} of what was measured: the plan rests on {length_mm:.0f} mm, and supports "
        "beyond stay as they are. Measure again, or leave the short pass out."
    ),
    "adjust.lifts_off": (
        "Support {support} lets go of the bed while the carriage stands elsewhere. Raise it a little, or "
        "weight the bed."
    ),
    "adjust.crown_below_zero": (
        "A crown of {crown_um:g} µm is a hollow. Beds are made convex or flat: give zero or more."
    ),
    "adjust.no_moving_mass": (
        "A crown for the moving mass needs the mass of the carriage. Add [bed.carriage] with mass_kg to the "
        "machine file."
    ),
    "adjust.no_such_rail": (
        "There is no rail {rail!r} here; the bed has {rails}. With rails = 2 in the machine file give one "
        "of: {allowed}."
    ),
    "adjust.other_rail_needs_level": (
        "The other rail of {machine} follows the master by cross level and gauge: give the roll, and gauge_mm in the "
        "machine file."
    ),
    "adjust.settling_too_large": (
        "{settling_um:g} µm for settling do not fit into a goal of {goal_um:g} µm. Give less, or a wider goal."
    ),
    "adjust.no_side": (
        "{file} holds no side (it has: {columns}). Side jacks are planned from the straightness towards the operator."
    ),
    "adjust.which_column": "{file} has the columns {columns}. Say with --column which straightness is meant.",
    "adjust.no_height_channel": (
        "No channel of {line} measures the height, so nothing can be watched. Choose a line with the height."
    ),
    "adjust.no_answer": "The input ended before everything was confirmed. Nothing may be turned yet.",
    "adjust.sheet_too_long": "{supports} supports do not fit on one page. Plan with --max-supports, or in two rounds.",
    "adjust.sheet_not_written": "{path} cannot be written: {reason}. Choose another place.",
    "adjust.sheet_title": "{machine}: sheet for the fitter{round}",
    "adjust.sheet_round": ", round {number}",
    "adjust.sheet_summary": (
        "Now {now_um:.0f} µm, wanted {goal_um:.0f} µm. Expected after this round: {value_um:.0f} µm, with 95 % between "
        "{low_um:.0f} and {high_um:.0f} µm."
    ),
    "adjust.sheet_footer": (
        "A proposal. The maker's instructions, local rules and licensed practice come first. Waywright moves nothing."
    ),
    "adjust.sheet_confirm": "Before anything is turned: confirm each, and say how",
    "adjust.sheet_steps": "One support at a time, in this order",
    "adjust.sheet_warnings": "Mind",
    "adjust.sheet_afterwards": "Afterwards",
    "adjust.sheet_fitter": "fitter",
    "adjust.sheet_date": "date, time",
    "adjust.sheet_head_number": "no",
    "adjust.sheet_head_support": "support",
    "adjust.sheet_head_what": "what to do",
    "adjust.sheet_head_done": "done, µm",
    "adjust.kept": "Kept as round {number} ({id}). Next: waywright correct confirm {id}",
    "adjust.column_id": "round",
    "adjust.column_number": "no",
    "adjust.column_before": "before, µm",
    "adjust.column_expected": "expected (95 %)",
    "adjust.column_after": "read, µm",
    "adjust.column_supports": "asked, µm",
    "adjust.column_open": "to confirm",
    "adjust.column_surprise": "surprise",
    "adjust.yes": "yes",
    "adjust.all_confirmed": "Everything of round {number} is confirmed. Supports may be turned.",
    "adjust.told": "Support {support}: {done_um:+.0f} µm done, {asked_um:+.0f} µm asked.",
    "adjust.support_done": "Support {support} is done and kept with the round.",
    "adjust.stop": "STOP. {said} Enter: seen.",
    "adjust.no_reading": "Support {support}: no reading. Is the beam free?",
    "adjust.without_target": "Support {support}: {reading_um} µm; this station does not show what it does.",
    "adjust.live": "Support {support}: {now} µm of {target} µm",
    "adjust.there": "there: stop turning",
    "adjust.turns_to_go": "{turns} turn to go, {direction} ({lift} µm)",
    "adjust.degrees_to_go": "{degrees:.0f}° to go, {direction} ({lift} µm)",
    "adjust.clockwise": "clockwise",
    "adjust.anticlockwise": "anticlockwise",
    "adjust.neighbours": "the bed over its neighbours by then: {those}",
    "adjust.sinks": "sinks {sunk_um:.0f} of {expected_um:.0f} µm",
    "adjust.sunk_enough": "sunk {sunk_um:.0f} of {expected_um:.0f} µm: stop tightening",
    "adjust.night_done": (
        "{hours:.1f} h watched: the bed {outcome}, {range_um:.1f} µm in all, {drift_um_per_h:+.2f} µm an hour."
    ),
    "adjust.outcome_stays": "stays",
    "adjust.outcome_drifts": "drifts",
    "adjust.outcome_jumped": "has jumped",
    "adjust.night_drifts": (
        "The reading went through {range_um:.1f} µm in {hours:.1f} h, more than {limit_um:g} µm, evenly "
        "({drift_um_per_h:+.2f} µm an hour). Compare with the temperatures before anything is turned."
    ),
    "adjust.night_jumped": (
        "The reading went through {range_um:.1f} µm in {hours:.1f} h, more than {limit_um:g} µm, with a step of "
        "{jump_um:+.1f} µm. Something slipped: try the supports and the detector's foot by hand."
    ),
    "adjust.round_read": (
        "Round {number}: {before_um:.1f} µm before, {expected_um:.1f} µm expected, {after_um:.1f} µm read."
    ),
    "adjust.surprise": "The round came out otherwise than it should. What may have happened:",
    "adjust.as_believed": "The round came out as believed.",
    "adjust.shim_pack": "{foils} µm: {pieces} foils, {off_um:+.0f} µm off.",
    "adjust.at_mm": "at, mm",
    "adjust.take_off": "take off, µm",
    "adjust.scraping": "{volume_mm3:.0f} mm³ in all, {deepest_um:.1f} µm at the deepest.",
    "adjust.table_written": "{points} points written to {path}.",
    "adjust.sign_kept": "{applied_um:+g} µm gave {change_um:+g} µm: use the table as it is.",
    "adjust.sign_turned": "{applied_um:+g} µm gave {change_um:+g} µm: turn all signs of the table over.",
    "adjust.state_done": "done",
    "adjust.state_now": "NOW",
    "adjust.state_later": "later",
    "adjust.stage_rough": "rough level on few supports",
    "adjust.stage_contact": "contact at every support",
    "adjust.stage_twist": "twist",
    "adjust.stage_height": "height",
    "adjust.stage_side": "side",
    "adjust.stage_joints": "joints",
    "adjust.stage_bolts": "bolts",
}
