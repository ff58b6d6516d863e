"""Sentences of the machine and its file."""

TEXT = {
    "machine.not_positive": "{entry} is {value}. Write a number above zero, or leave it out if it is unknown.",
    "machine.negative": "{entry} is {value}. Write zero or a positive number.",
    "machine.off_the_bed": (
        "{entry} is {value:g} mm, but the bed reaches from 0 to {length_mm:g} mm. Places are counted along the bed "
        "from its left end, as the operator sees it."
    ),
    "machine.not_one_of": "{entry} is {value!r}. Use one of: {allowed}.",
    "machine.step_above_move": (
        "The smallest step of support {support} is larger than its largest move. Correct smallest_step_um or "
        "largest_move_um."
    ),
    "machine.support_name_twice": (
        "Two supports are called {support}. Each needs a name of its own, as painted on the floor."
    ),
    "machine.support_place_twice": (
        "Supports {support} and {other} stand at the same place. Correct bed_mm or row of one of them."
    ),
    "machine.file_missing": "There is no machine file {path}. Check the name.",
    "machine.file_not_toml": "{path} cannot be read as TOML: {reason}. Correct that line and try again.",
    "machine.file_format": "{path} says format = {format!r}; this version reads format = 1.",
    "machine.file_unknown_key": "{path}: {place} has a key {entry!r} that is not known. Known there: {known}.",
    "machine.file_wrong_type": "{path}: {place}: {reason}",
    "machine.file_missing_key": "{path}: {place} lacks {entry}.",
}
