"""Words of the page Judge."""

TEXT = {
    "judge.rule": "tolerance rule, for example 0.02/1000 or 20 um",
    "judge.budget_label": "uncertainty by",
    "judge.budget_ready": "the ready budget that fits",
    "judge.budget_beam": "beam detector",
    "judge.budget_level": "level",
    "judge.budget_autocollimator": "autocollimator",
    "judge.budget_straightedge": "straightedge and indicator",
    "judge.burden_label": "who has to prove",
    "judge.burden_supplier": "supplier: that it conforms",
    "judge.burden_customer": "customer: that it does not",
    "judge.burden_shared": "shared",
    "judge.burden_simple": "simple, as agreed",
    "judge.extremes": ("largest {largest} at {largest_at} {unit}, smallest {smallest} at {smallest_at} {unit}"),
    "judge.working_out": "The uncertainty is being worked out …",
    "judge.stated": "U = {u} {unit} (k = {k:.1f}); with 95 % from {low} to {high} {unit}",
    "judge.floor": (
        "A perfect way would have read {floor} {unit} by noise alone, 95 % of them less than {upper} {unit}."
    ),
    "judge.zone": (
        "Guard band {guard} {unit}: about {acceptance} {unit} prove conformity, {rejection} {unit} the contrary."
    ),
    "judge.helps": "What would help most:",
    "judge.help": "{action}: U {before} to {after} {unit}",
    "judge.budget": "budget: {title}",
    "judge.budget_row": "{name}: {contribution} {unit}, {source}",
    "judge.every_pass": "every pass about every line",
    "judge.compared": "{word}: {then} {unit} on {day} ({state}), {now} {unit} now.",
    "judge.bed_title": "The bed in space",
    "judge.bed_words": (
        "Deviations {factor} × enlarged, {gauge} mm between the ways; filled is above, hollow below. Turn it with a "
        "finger, the arrow keys or the words above."
    ),
    "judge.bed_label": (
        "The bed in space: height over {height:.1f} µm, side over {side:.1f} µm, twist over {twist:.1f} µm/m."
    ),
    "judge.front": "front",
    "judge.rear": "rear",
    "judge.turn_left": "turn left",
    "judge.turn_right": "turn right",
    "judge.turn_up": "tilt up",
    "judge.turn_down": "tilt down",
}
