"""Instruments that are connected and say nothing."""

TEXT = {
    "unheard.waiting": "waiting for the {titles}",
    "unheard.untold": "Nothing has come from the {title} yet.",
    "unheard.told": "Nothing has come from the {title} yet. {told}",
    "unheard.silent": (
        "Nothing has come from the {title} yet, though the link is open ({address}). Check that it is switched on and "
        "sends by itself, with the settings that its description file names."
    ),
    "unheard.next": (
        "As soon as it is heard this goes on by itself. To measure without it, disconnect and connect the others."
    ),
}
