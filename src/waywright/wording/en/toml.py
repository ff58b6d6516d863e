"""Sentences about TOML files."""

TEXT = {
    "toml.cannot_read": "{file} cannot be read: {reason}. Check the path and the rights.",
    "toml.not_toml": "{file} is not a TOML file: {reason}. Correct the line that is named.",
    "toml.bad_value": "{file}, key {key}: {reason}. Correct the value.",
    "toml.unknown_key": "{file}, key {key}: there is no such key. Allowed here: {allowed}.",
}
