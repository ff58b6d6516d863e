"""Sentences of the history of a machine."""

TEXT = {
    "history.lengths": (
        "Times ({times}), values ({values}) and uncertainties ({uncertainties}) must be as many, and two at least."
    ),
    "history.not_finite": "A number is infinite, not a number, or an uncertainty is not positive.",
    "history.nothing_in_common": (
        "The two states have {stations} stations on the same stretch of the bed; four are needed. Measure the same "
        "stretch, or choose other lines."
    ),
    "history.no_mark": (
        "The line {line!r} is not tied to a mark of the machine, so nobody knows where on the bed it lies. Say its "
        "zero mark with the set-up, or complete it later."
    ),
    "history.other_machine": "The two lines are at different machines: {first} and {second}.",
    "history.none": "{machine} has no measured lines yet.",
    "history.steady": "steady",
    "history.settlement": "settlement: {per_year:+.1f} {unit} a year",
    "history.season": "season: ±{amplitude:.1f} {unit} over the year",
    "history.event": "event: a step of {step:+.1f} {unit} before {day}",
    "history.too_few": "too few visits to tell",
    "history.test": (
        "Test: fall of chi squared against a constant, at the level of 5 %, a step multiplied by its places. Figures "
        "without stated uncertainty take the scatter of the visits."
    ),
    "history.weakness": (
        "With {visits} visits over {span_years:.1f} years a slope below {smallest_per_year:.1f} {unit} a year would "
        "mostly not be seen. Not tried: {untried}."
    ),
    "history.weakness_short": "All {visits} visits lie within a month: they tell nothing about slow or yearly changes.",
    "history.next": "Next check by {day}: {why}.",
    "history.next_not_in": 'the last verdict was not "conforms"',
    "history.next_reaches": "at the present slope the limit is reached then, uncertainty included",
    "history.next_first_year": "in the first year a bed is looked at after 3, 6 and 12 months",
    "history.next_yearly": "once a year",
    "history.next_event": "something happened to it: look whether it stays",
    "history.change": "Largest change {largest_um:.1f} µm (noise {noise_um:.1f} µm), bow {bow_um:+.1f} µm.",
    "history.change_none": "The two states differ by no more than the noise.",
    "history.change_bow": "The change is a plain bow ({share_bow:.0%} of it): heat or season rather than supports.",
    "history.change_supports": (
        "The change has its corners at the supports (they explain {share_supports:.0%}, a bow {share_bow:.0%}): "
        "supports have moved."
    ),
    "history.change_unexplained": (
        "Neither a bow nor the supports explain the change. Was it the same line, the same load, the same instrument?"
    ),
    "history.change_weakness": (
        "A stiff bed smooths the corners away, and two sunken ends look like a bow: look at temperatures too."
    ),
    "history.at_support": "Support {support}: {change} µm.",
    "history.figure_value": "value",
    "history.figure_bow": "bow",
    "history.figure_level": "level",
    "history.figure_twist": "twist",
    "history.name_settlement": "settlement",
    "history.name_event": "event",
    "history.name_season": "season",
    "history.name_none": "nothing",
}
