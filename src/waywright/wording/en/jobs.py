"""Sentences of the verbs."""

TEXT = {
    "jobs.no_straightness": (
        "{file} holds no straightness quantity (it has: {columns}). Name a column by its ISO 230-1 code and unit, for "
        "example EYZ_um."
    ),
    "jobs.quantity_missing": "{file} has no straightness quantity {quantity}; it has: {present}.",
    "jobs.which_pass": (
        "{found} passes have an id that ends in {wanted!r}. Name one that `waywright archive list --json` shows."
    ),
    "jobs.archive_sound": (
        "Everything is as it was written: {readings} readings, {records} records, {blocks} blocks of streams; every "
        "seal and every chain holds."
    ),
    "jobs.excluded": "left out: {reason}",
    "jobs.superseded_by": "taken again as no. {number}",
    "jobs.repeat": "repeat",
}
