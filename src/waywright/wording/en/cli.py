"""Sentences of the command line."""

TEXT = {
    "cli.results_reference": (
        "All figures in µm. Largest and smallest are deviations from the {reference}, in the ISO sign of the code; the "
        "value, largest minus smallest, stands below each of the three reference lines."
    ),
    "cli.end-points": "line through the end points",
    "cli.least-squares": "least-squares line",
    "cli.minimum-zone": "middle line of the minimum zone",
    "cli.mean_of": "mean of {passes}",
    "cli.one_pass": "{number} {direction}",
    "cli.local": "{where}: over any {window_mm:.0f} mm at most {value_um:.1f} µm, worst from {start_mm:.0f} mm on.",
    "cli.local_not_judged": "{where}: {reason}",
}
