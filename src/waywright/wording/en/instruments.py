"""Sentences of the instruments: their description files and their links."""

TEXT = {
    "instruments.no_file": "The description file {file} cannot be read: {reason}. Check the path.",
    "instruments.not_utf8": "{file} is not UTF-8 text (byte {byte}). Save it as UTF-8.",
    "instruments.not_toml": "{file} is not valid TOML: {reason}.",
    "instruments.unknown_key": "{file}: the key {key} is not known. Allowed here: {allowed}.",
    "instruments.missing_key": "{file}: the key {key} is missing. Allowed: {allowed}.",
    "instruments.bad_value": "{file}: the value of {key} does not fit. Allowed: {allowed}.",
    "instruments.bad_pattern": (
        "{file}: {key} is not a regular expression ({reason}). Write named groups such as (?P<v>[-+]?\\d+\\.\\d+)."
    ),
    "instruments.unknown_group": "{file}: {key} names the group {group!r}, but the pattern has: {allowed}.",
    "instruments.same_channel": "{file}: {key}: there are two channels named {name!r}. Each needs its own name.",
    "instruments.bad_unit": "{file}: {key}: the unit {unit!r} does not fit. Allowed: {allowed}.",
    "instruments.bad_direction": "{file}: {key}: a channel of kind {kind} needs a direction. Allowed: {allowed}.",
    "instruments.no_direction": "{file}: {key}: a channel of kind {kind} has no direction. Remove the key.",
    "instruments.bad_factor": "{file}: {key} is {value}. Allowed: a finite number, for the factor not 0.",
    "instruments.bad_range": "{file}: {key} is [{lower}, {upper}]. Allowed: the lower limit first, then the upper.",
    "instruments.connected": "{source} is connected ({address}).",
    "instruments.not_reached": (
        "{source} cannot be reached at {address} ({reason}). Check cable and power; it is tried again by itself."
    ),
    "instruments.link_lost": "The link to {source} at {address} broke ({reason}). It is tried again by itself.",
    "instruments.link_quiet": (
        "Nothing has come from {source} at {address} for {duration_s:.0f} s. The link is opened again by itself."
    ),
    "instruments.unreadable": (
        "{lines} lines of {source} in a row do not fit the pattern of its description file. "
        "Check baud rate, parity and the pattern."
    ),
}
