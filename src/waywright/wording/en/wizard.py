"""Words of the page that describes a new instrument."""

TEXT = {
    "wizard.link": "describe an instrument that has no file yet",
    "wizard.title": "A new instrument",
    "wizard.words": (
        "Give the address it is heard at. Its lines are shown as they come; from them a description is proposed, which "
        "you complete and check before anything is measured with it."
    ),
    "wizard.address": "address",
    "wizard.name": "short name",
    "wizard.send": "asked with (stays empty where it speaks by itself)",
    "wizard.rate": "lines a second, about",
    "wizard.listen": "listen",
    "wizard.live": "What comes now",
    "wizard.proposal": "What it seems to say",
    "wizard.heard": "{lines} lines, {matched} of this shape, {rate:g} a second.",
    "wizard.description": "description (TOML)",
    "wizard.check": "check it against the link",
    "wizard.keep": "keep this description",
    "wizard.kept": "{title} is kept at this computer and can be chosen from now on.",
    "wizard.three_dots": "Look at every line with three dots first and take the dots away: they are guesses.",
    "wizard.unmatched": "Not read: {line}",
    "wizard.column_channel": "channel",
    "wizard.column_now": "now",
    "wizard.column_scatter": "scatter",
    "wizard.column_least": "least",
    "wizard.column_most": "most",
    "wizard.column_rate": "lines/s, now / stated",
}
