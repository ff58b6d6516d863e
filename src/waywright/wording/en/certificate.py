"""Sentences about calibration certificates that are brought in."""

TEXT = {
    "certificate.not_xml": "{file} is no XML that can be read: {detail}. Ask the laboratory for the certificate anew.",
    "certificate.entities": "{file} defines a document type or entities, which no certificate needs. It is not read.",
    "certificate.too_deep": (
        "{file} is nested deeper than {deepest} elements, or has more than {most}. It is not read."
    ),
    "certificate.not_a_certificate": "{file} is no digital calibration certificate (DCC): its root is {found!r}.",
    "certificate.no_number": "{file} has no number (uniqueIdentifier). Ask the laboratory for a complete certificate.",
    "certificate.bad_number": "{file}: {found!r} is no number that a certificate can hold.",
    "certificate.too_many_values": "{file} holds more than {limit} values and is not read.",
    "certificate.no_channel": (
        "The description does not write its channel {channel} as a [[channel]] table, so nothing can be put in. Add "
        "the linearity by hand."
    ),
    "certificate.brought_in": "Certificate {number} of {date} stands in {file}: {what}.",
    "certificate.uncertainty": "{name} {value:g}",
    "certificate.linearity": "table of errors for {channels}",
    "certificate.nothing": "number and date only, no uncertainty in a unit of its channels",
    "certificate.no_date": "an unknown day",
    "certificate.other_serial": (
        "Mind: the certificate is of an instrument with the numbers {serials}, the description says otherwise."
    ),
    "certificate.due": "A certificate does not say when it is due: write “due” into the description yourself.",
}
