"""Sentences of the command line."""

TEXT = {
    "cli.results_reference": (
        "All figures in µm. Largest and smallest are deviations from the {reference}, {sign}; the value, largest minus "
        "smallest, stands below each reference line."
    ),
    "cli.iso_sign": "in the ISO sign of the code",
    "cli.physical_sign": "positive {directions}",
    "cli.end-points": "line through the end points",
    "cli.least-squares": "least-squares line",
    "cli.minimum-zone": "middle line of the minimum zone",
    "cli.target": "target curve",
    "cli.given": "given line",
    "cli.column_end-points": "end points",
    "cli.column_least-squares": "least squares",
    "cli.column_minimum-zone": "min. zone",
    "cli.column_given": "given line",
    "cli.column_target": "target",
    "cli.to_target": "{where}: {value_um:.1f} µm from the target curve, largest minus smallest.",
    "cli.to_given": "{where}: {value_um:.1f} µm from the given line, largest minus smallest.",
    "cli.flip": "{code}, {label}: {said}",
    "cli.basis": "{code}, {label}: {said}",
    "cli.mean_of": "mean of {passes}",
    "cli.one_pass": "{number} {direction}",
    "cli.local": "{where}: over any {window_mm:.0f} mm at most {value_um:.1f} µm, worst from {start_mm:.0f} mm on.",
    "cli.local_not_judged": "{where}: {reason}",
    "cli.demo_intro": (
        "Practice in the invented workshop Hollin Reach, {factor:g} times as fast as real. Every name and number of it "
        "is invented; the instruments are real links, and the measuring side knows nothing of the truth."
    ),
    "cli.signs": "Positive is {directions}. Behind ± stands the standard deviation of a single sample.",
    "cli.after_capture": "Report: waywright report{where}",
    "cli.laser": (
        "Never look into the beam; end it on something dull. Keep clear of the moving axis. Waywright moves nothing."
    ),
    "cli.forward": "forward",
    "cli.backward": "backward",
    "cli.armed": "pass {number}, {direction}: armed",
    "cli.ended": "The pass is {outcome}. Readings taken: {readings}, every one saved.",
    "cli.finished": "finished",
    "cli.stopped": "stopped; it can be continued",
    "cli.failed": "broken off",
    "cli.now_waiting": "waiting for the instruments",
    "cli.now_moving": "moving",
    "cli.now_averaging": "standing still, averaging",
    "cli.now_taken": "taken",
    "cli.now_resting": "standing still",
    "cli.now_silent": "silent: {silent}",
    "cli.files": "Files",
    "cli.truth": "What only the workshop knew, at the same stations and about the same line",
    "cli.truth_line": (
        "{code}: measured {measured:.1f} {unit}, true {true:.1f} {unit}; largest difference along the line "
        "{difference:.1f} {unit}"
    ),
    "cli.turned_both": (
        "To separate the square's own error, measure both axes again with the square turned over and give both tables."
    ),
    "cli.keys": (
        "Enter takes a reading by hand, e and Enter ends the pass, ctrl-c stops. A place and degrees, such as bed top "
        "20.4, is a temperature of the pass."
    ),
    "cli.practise": (
        "First, in another window:\n  waywright capture {instruments} --machine {machine} --set-up {setup} "
        "--passes forward,backward --averaging-s 3 --factor {factor:g}"
    ),
    "cli.correct_now": "{machine}: {now_um:.1f} µm now, {goal_um:.1f} µm wanted.",
    "cli.correct_touched": "supports touched",
    "cli.correct_value": "value after, µm",
    "cli.correct_bound": "not below, µm",
    "cli.correct_proven": "proven best",
    "cli.correct_chosen": "chosen",
    "cli.correct_expected": (
        "Expected after the round: {value_um:.1f} µm, with 95 % between {low_um:.1f} and {high_um:.1f} µm."
    ),
    "cli.correct_confirm": "Before anything is turned, confirm each",
    "cli.correct_sheet": "Sheet for the fitter, one support at a time",
    "cli.correct_warnings": "Mind",
    "cli.correct_afterwards": "Afterwards",
    "cli.decide_figures": (
        "{value_um:.2f} µm against a limit of {limit_um:.2f} µm, standard uncertainty {u_um:.2f} µm: with a "
        "probability of {probability:.1%} the true value keeps the limit."
    ),
    "cli.decide_zone": (
        "Guard band {guard:.2f} {unit}: conformity is proved up to {acceptance:.2f} {unit}, non-conformity from "
        "{rejection:.2f} {unit} on; between them nothing is proved."
    ),
    "cli.stated_zone": (
        "Guard band {guard:.1f} {unit}, so about {acceptance:.1f} {unit} prove conformity and {rejection:.1f} {unit} "
        "non-conformity; the verdict rests on the probability itself."
    ),
    "cli.decide_accepted": "So it is accepted.",
    "cli.decide_refused": "So it is not accepted.",
    "cli.decide_talk": "So both sides have to talk: measure better, or agree on a concession.",
    "cli.stated": (
        "{code}: {value:.1f} {unit} as read; the true value lies with 95 % between {low:.1f} and {high:.1f} {unit} "
        "(U = {expanded:.1f} {unit}, k = {k:.2f}, best {best:.1f} {unit})."
    ),
    "cli.stated_floor": (
        "{code}: a perfect axis would have read {floor:.1f} {unit} with this noise, 95 % of them less than "
        "{upper:.1f} {unit}."
    ),
    "cli.stated_floor_surface": (
        "{code}: a perfect surface would have read {floor:.1f} {unit} with this noise, 95 % of them less than "
        "{upper:.1f} {unit}."
    ),
    "cli.stated_verdict": "{code}: {verdict}",
    "cli.stated_rows": (
        "The rows together: u = {combined:.2f} {unit}, effective degrees of freedom {freedom}, k = {k:.2f}, "
        "U = {expanded:.2f} {unit}."
    ),
    "cli.stated_help": "U {before:.1f} to {after:.1f} µm: {action}",
}
