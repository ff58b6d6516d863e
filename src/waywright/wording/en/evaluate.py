"""Sentences of the evaluation."""

TEXT = {
    "evaluate.too_few_stations": (
        "A straight line needs at least {needed} stations; there are {stations}. Take more stations."
    ),
}
