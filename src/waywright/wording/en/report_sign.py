"""Sentences about signing a report and about notes in it."""

TEXT = {
    "report_sign.unknown_role": "Nobody signs as {role}. Choose one of: {known}.",
    "report_sign.no_name": "A signature needs a name. Say who signs with --by.",
    "report_sign.nothing_drawn": "Nothing is drawn. Sign in the box, or choose to sign in ink on the print.",
    "report_sign.unknown_note": "A report has no notes of kind {kind}. Choose one of: {known}.",
    "report_sign.no_words": "A note of kind {kind} needs words.",
    "report_sign.no_day": "{day!r} is no date. Write it as 2026-11-30.",
    "report_sign.too_many_points": "The signature has more than {limit} points. Draw it again.",
    "report_sign.outside_the_box": "The signature leaves its box (x from 0 to 1, y from 0 to 0.3). Draw it again.",
    "report_sign.strokes_unreadable": (
        "{file} holds no signature: it must be a JSON list of strokes, each a list of [x, y] ({detail})."
    ),
    "report_sign.signed": "{name} signed report {number}, revision {revision}, as {role}.",
    "report_sign.noted": "The report will say: {words}",
    "report_sign.extra_missing": (
        "Digital signatures need the optional part “sign”: install it with “python3 x.py add sign” (or pip install "
        "'waywright[sign]')."
    ),
    "report_sign.bad_certificate": (
        "{file} cannot be opened as a certificate with its key: {detail}. Check the passphrase."
    ),
    "report_sign.sealed": "{file} is signed by {name}; it was written to {target}.",
    "report_sign.not_signed": "{file} carries no digital signature.",
    "report_sign.intact": "Signed by {name} at {when}: what was signed is unchanged.",
    "report_sign.broken": "Signed by {name}: the file was changed after signing ({detail}).",
    "report_sign.more_than_signed": "Something was added to the file after {name} signed it.",
    "report_sign.trusted": "The certificate leads to one that you trust.",
    "report_sign.not_trusted": (
        "Who {name} is was not checked: give the certificate you trust with --trust. ({detail})"
    ),
    "report_sign.seal_failed": "{file} cannot be signed: {detail}.",
}
