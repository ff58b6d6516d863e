"""Rules that the guard goes by, and where they come from."""

TEXT = {
    "guard_rules.source_common_practice": "common practice, no published source",
    "guard_rules.drift_share": "the drift during a pass stays below {value:g} of the tolerance",
    "guard_rules.longest_averaging": "at most {value:g} s are averaged at a station",
    "guard_rules.record_of_averages": "a recording is at least {value:g} times as long as the average it speaks for",
    "guard_rules.most_disturbed": "at most {value:g} of the samples are lost or far out",
    "guard_rules.scale": "the size of a known move is right within {value:g} of it",
    "guard_rules.roll": "the detector's roll is at most {value:g} degree",
    "guard_rules.seating": "a shim seats with a standard uncertainty of {value:g} um where nothing better is known",
    "guard_rules.nonlinearity_share": "the error by the detector's nonlinearity stays below {value:g} of the tolerance",
    "guard_rules.excursion_of_smallest": "the excursion is at most about {value:g} times the smallest deviation sought",
    "guard_rules.excursion_of_range": "the excursion is at most {value:g} of the detector's range",
    "guard_rules.bow_share": (
        "a bow is believed if everything that could imitate it stays within {value:g} of the tolerance"
    ),
    "guard_rules.bow_third": (
        "a bow is believed if everything that could imitate it stays within {value:.2g} of the bow"
    ),
    "guard_rules.closure_share": "a closure stays within {value:g} of the tolerance",
    "guard_rules.closure_uncertainties": (
        "or within {value:g} times the standard uncertainty of a difference of two readings"
    ),
    "guard_rules.temperature_rate": "temperatures change by at most {value:g} K per hour",
    "guard_rules.station_apart": "a station stands within {value:g} of the spacing of its place",
    "guard_rules.stations_per_spacing": "{value:g} steps from one support to the next, and a station over each support",
    "guard_rules.stations_per_window": "{value:g} steps in the window of a local tolerance",
    "guard_rules.fewest_steps": "at least {value:g} steps along the travel",
    "guard_rules.passes_each_way": "at least {value:g} pass each way",
    "guard_rules.uncertainty_share": "an expanded uncertainty (k = 2) of {value:g} of the tolerance is wished for",
    "guard_rules.reduced_feed": "a reduced feed of {value:g} mm/min between stations",
    "guard_rules.settle": "{value:g} s to settle after each stop",
    "guard_rules.gradient": "the air's temperature changes by at most {value:g} K per metre of height",
    "guard_rules.creep": "after adjusting, readings creep by at most {value:g} of the tolerance per hour",
    "guard_rules.wait": "as left is measured at least {value:g} min after the last move",
    "guard_rules.recheck": "a provisional result is checked again after {value:g} days",
    "guard_rules.uncertainty_worst": "the expanded uncertainty is at most {value:.2g} of the tolerance",
    "guard_rules.comparable": "states are compared if the bed's temperature differs by at most {value:g} K",
}
