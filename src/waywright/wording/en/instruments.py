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
    "instruments.steering_command": "{file}: {key}: there is no command {name!r}. Allowed: {allowed}.",
    "instruments.steering_value": (
        "{file}: {key}: a steering command takes one value and nothing else; {name!r} must have {value!r} only."
    ),
    "instruments.no_direction": "{file}: {key}: a channel of kind {kind} has no direction. Remove the key.",
    "instruments.bad_factor": "{file}: {key} is {value}. Allowed: a finite number, for the factor not 0.",
    "instruments.bad_range": "{file}: {key} is [{lower}, {upper}]. Allowed: the lower limit first, then the upper.",
    "instruments.no_lines": (
        "{file}: {key} belongs to lines of text; this link brings named numbers. Remove the key; "
        "`group` of each channel names the node or data item."
    ),
    "instruments.read_only": "{file}: {key}: nothing can be sent on this link. Remove the key.",
    "instruments.bad_linearity": (
        "{file}: {key}: pairs of indicated value and error of indication, the indicated values rising."
    ),
    "instruments.bad_send": (
        "{file}: {key} does not fit its values ({reason}). Allowed in braces: {allowed}, such as {{name:.1f}}; "
        "a brace itself is written twice."
    ),
    "instruments.bad_answer": "{file}: {key} is not a regular expression ({reason}).",
    "instruments.bad_pair": (
        "{file}: {key} needs two different channels of one kind that have a direction. Allowed: {allowed}."
    ),
    "instruments.missing_part": (
        "The part {kind!r} is not installed, and this instrument needs it. Bring it with: {command}"
    ),
    "instruments.no_password": (
        "The environment variable {variable} holds no password. Set it before you start, the description file names it."
    ),
    "instruments.unknown_command": "{source} knows no command {name!r}. Its description file has: {allowed}.",
    "instruments.command_values": "The command {name!r} of {source} takes these values: {allowed}.",
    "instruments.command_range": (
        "{value} = {number:g} {unit} is beyond the limits of {source} ({lower:g} to {upper:g} {unit}). "
        "Nothing was sent."
    ),
    "instruments.command_not_sent": "{source} was not told {name!r}: the link is not open ({reason}).",
    "instruments.command_no_answer": (
        "{source} did not confirm {name!r} within {timeout_s:g} s. Look whether it has done it, then try again."
    ),
    "instruments.reads_controller": (
        "{source} reads the machine's controller at {address}, read only. What it reads is the machine's own scale: "
        "an error of that scale does not show in these readings."
    ),
    "instruments.garbled": (
        "{lines} lines of {source} in a row hold bytes that are no text. Baud rate, data bits or parity are probably "
        "not those of the instrument."
    ),
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
    "instruments.bad_address": (
        "{address!r} is no link. Write tcp://HOST:PORT, tcp-server://:PORT, udp://:PORT, "
        "serial:COM3?baud=9600&parity=even, file:PATH, visa:RESOURCE or mqtt://HOST/TOPIC."
    ),
    "instruments.nothing_heard": (
        "No whole line came in {duration_s:.0f} s ({said}). Check cable, power and settings of the link; "
        "if the instrument only speaks when asked, name the question with --send."
    ),
    "instruments.no_numbers": "Lines come, but none holds a number; the last one was {line!r}.",
    "instruments.no_example": "There is no example {name!r}. There are: {known}.",
    "instruments.example_written": (
        "{file} is an example with comments. Change link, pattern and channels to those of your instrument, then look "
        "at it with: waywright instrument check {file}"
    ),
    "instruments.file_exists": "{file} exists already. Name another file; nothing is overwritten.",
    "instruments.bad_command_value": "{said!r} is no value. Write name=number, for example x=12.5.",
    "instruments.command_done": "{name}: done.",
    "instruments.proposal": "{matched} of {lines} lines fit, {rate_hz:g} a second: {pattern}",
    "instruments.proposal_written": (
        "Written to {file}. Complete it where it says three dots, then look at it with: "
        "waywright instrument check {file}"
    ),
    "instruments.check_rate": (
        "{samples} samples, {rate_hz:.1f} a second ({expected_hz:g} stated), {gaps} gaps, "
        "longest time between two {longest_gap_s:.2f} s."
    ),
    "instruments.check_malformed": (
        "{malformed} lines refused, {checksum} of them by the checksum, {counter} out of turn; "
        "{missed} missed by the counter."
    ),
    "instruments.check_unmatched": "did not match: {line}",
    "instruments.check_flawed": "values that are none: {flawed}",
    "instruments.delay_too_few": "The delay is not determinable: too few values. Let both sources run for a minute.",
    "instruments.delay_too_short": "The delay is not determinable: the sources ran together for too short a time.",
    "instruments.delay_no_motion": "The delay is not determinable: nothing moved. Drive there and back with stops.",
    "instruments.delay_not_determinable": (
        "The delay is not determinable from this motion. Drive there and back, with stops and at different speeds; "
        "a detector must follow the motion, so tilt the beam on purpose."
    ),
    "instruments.no_channel": "There is no channel {channel}. There are: {allowed}.",
    "instruments.delay_found": (
        "{second} lags {first} by {delay_s:.3f} s (standard uncertainty {u_s:.3f} s). "
        "Write it as delay_s into [stream] of the description that lags."
    ),
}
