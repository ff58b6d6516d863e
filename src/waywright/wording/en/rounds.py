"""Words of the rounds of correction on the pages."""

TEXT = {
    "rounds.begin": "begin this round",
    "rounds.open": "Round {number}",
    "rounds.answer": "what was done, in a few words",
    "rounds.answer_limit": "what the maker allows, such as 200 or 0.2 mm",
    "rounds.confirm": "confirm",
    "rounds.park": (
        "Park the carriage near {position_mm:.0f} mm and leave it there: that is where the reading answers best."
    ),
    "rounds.begin_support": "start turning: the reading of now is the start",
    "rounds.no_reading": "No height is read now: turn by the amount on the sheet.",
    "rounds.of_target": "of",
    "rounds.there": "there: stop turning",
    "rounds.by_amount": "by the amount on the sheet",
    "rounds.turns_to_go": "{turns} turn to go · {direction}",
    "rounds.degrees_to_go": "{degrees:.0f}° to go · {direction}",
    "rounds.clockwise": "clockwise",
    "rounds.anticlockwise": "anticlockwise",
    "rounds.turns_in_short": "{turns} turn, {direction}",
    "rounds.degrees_in_short": "{degrees:.0f}°, {direction}",
    "rounds.speak": "speak the turns to go",
    "rounds.practice_drives": "in practice: park the carriage there",
    "rounds.practice_turns": "in practice: the fitter turns it",
    "rounds.otherwise": "it was done otherwise",
    "rounds.done_um": "really moved, {unit}",
    "rounds.remark": "remark",
    "rounds.keep_otherwise": "keep it so, next support",
    "rounds.does_not_move": "it does not move",
    "rounds.before_measuring": (
        "Try every support by hand: each must carry. Wait until the bed has settled, then measure the same line again."
    ),
    "rounds.measured_after": "Measured after round {number}",
    "rounds.learn_words": (
        "The readings before and after the round say how stiff the bed really is; the next plan rests on that."
    ),
    "rounds.learn": "what did the round tell?",
    "rounds.history": "Round by round",
    "rounds.turned_since": "The bed was turned in round {number} after this line was measured: plan on the newer line.",
    "rounds.to_line_after": "to the line measured after it",
    "rounds.belief": "what round {number} told of the bed",
    "rounds.belief_rests": "What is believed of this bed rests on {rounds} measured rounds; the next plan uses it.",
    "rounds.belief_bending": (
        "Bending: {times:.2f} times as stiff as believed before; known to a factor of {now:.2f}, before {before:.2f}."
    ),
    "rounds.belief_torsion": (
        "Twisting: {times:.2f} times as stiff as believed before; known to a factor of {now:.2f}, before {before:.2f}."
    ),
    "rounds.belief_seats": (
        "The seat under a support in the middle is known to a factor of {now:.2f}, before {before:.2f}."
    ),
    "rounds.column_round": "round",
    "rounds.column_before": "before, {unit}",
    "rounds.column_expected": "expected (95 %)",
    "rounds.column_after": "read, {unit}",
    "rounds.column_supports": "supports",
    "rounds.not_measured": "not yet",
    "rounds.surprise": "Round {number} came out otherwise than it should.",
    "rounds.as_believed": "Round {number} came out as believed.",
    "rounds.details": "round {number}: moves and confirmations",
    "rounds.move": "Support {support}: asked {asked}, done {done}.",
    "rounds.not_told": "not told",
    "rounds.alarm_in": "Round {number}: {sentence}",
    "rounds.alarm_title": "Stop",
    "rounds.alarm_elsewhere": "It is ended at the laptop.",
    "rounds.mute": "Touch the screen once: browsers keep a page mute until then.",
    "rounds.alarm_seen": "seen; begin this support anew",
    "rounds.alarm_moved": "The carriage has moved by {moved_mm:.1f} mm while a support was being turned.",
    "rounds.alarm_jump": "The reading has jumped by {jump_um:+.0f} µm at support {support}: something slipped.",
    "rounds.alarm_wrong_way": (
        "The reading runs the wrong way by {gone_um:.0f} µm: is it support {support}, and is it turned the right way?"
    ),
    "rounds.bow_title": "Is this bow the bed's?",
    "rounds.bow_words": (
        "The line is bowed by {bow_um:+.0f} µm over {length_m:.1f} m. Heat, air and the detector make the same shape; "
        "supports must not be turned for the weather."
    ),
    "rounds.bow_cause": "what can make a bow",
    "rounds.bow_makes": "makes, {unit}",
    "rounds.bow_doubt": "±, {unit} (95 %)",
    "rounds.bow_known": "known by",
    "rounds.measured": "measured",
    "rounds.assumed": "assumed",
    "rounds.bow_why": "why supports are turned all the same",
    "rounds.bow_anyway": "go on to the plan",
    "rounds.else_title": "What supports cannot do",
    "rounds.else_shims": "a pack of shims",
    "rounds.else_scraping": "scraping",
    "rounds.else_table": "a table for the controller",
    "rounds.shim_wanted": "wanted, {unit}",
    "rounds.shim_stock": "foils at hand, µm x number",
    "rounds.shim_pack": "{foils} µm; off by {off}.",
    "rounds.way_width": "width of the way, mm",
    "rounds.scraping": "{volume:.0f} mm³ in all, at most {deepest:.0f} µm deep.",
    "rounds.at_mm": "at, {unit}",
    "rounds.take_off": "take off, {unit}",
    "rounds.spacing": "spacing, mm",
    "rounds.table_repeats": (
        "At most {repeatable:.1f} µm come back in every pass; a single pass scatters by {scatter:.1f} µm."
    ),
    "rounds.table_file": "table, CSV",
    "rounds.work_out": "work it out",
}
