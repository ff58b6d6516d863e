"""Sentences about TOML files."""

TEXT = {
    "toml.cannot_read": "{file} cannot be read: {reason}. Check the path and the rights.",
    "toml.not_toml": "{file} is not a TOML file: {reason}. Correct the line that is named.",
    "toml.too_large": (
        "{file} is larger than {limit_mb:.0f} MB. That is no file that a person has written; it is not read."
    ),
    "toml.too_deep": "{file} is nested too deeply. That is no file that a person has written; it is not read.",
    "toml.bad_value": "{file}, key {key}: {reason}. Correct the value.",
    "toml.unknown_key": "{file}, key {key}: there is no such key. Allowed here: {allowed}.",
}
