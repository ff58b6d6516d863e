"""Deutsch: Sätze über Kalibrierscheine, die eingelesen werden."""

TEXT = {
    "certificate.not_xml": (
        "{file} ist kein lesbares XML: {detail}. Bitten Sie das Laboratorium um einen neuen Kalibrierschein."
    ),
    "certificate.entities": (
        "{file} legt einen Dokumenttyp oder Entitäten fest, die kein Kalibrierschein braucht. Er wird nicht gelesen."
    ),
    "certificate.too_deep": (
        "{file} ist tiefer als {deepest} Elemente geschachtelt, oder hat mehr als {most}. Er wird nicht gelesen."
    ),
    "certificate.not_a_certificate": "{file} ist kein digitaler Kalibrierschein (DCC): die Wurzel ist {found!r}.",
    "certificate.no_number": (
        "{file} hat keine Nummer (uniqueIdentifier). Bitten Sie das Laboratorium um einen vollständigen "
        "Kalibrierschein."
    ),
    "certificate.bad_number": "{file}: {found!r} ist keine Zahl, die ein Kalibrierschein enthalten kann.",
    "certificate.too_many_values": "{file} enthält mehr als {limit} Werte und wird nicht gelesen.",
    "certificate.no_channel": (
        "Die Beschreibung schreibt ihren Kanal {channel} nicht als Tabelle [[channel]], also lässt sich nichts "
        "einsetzen. Tragen Sie die Linearität von Hand ein."
    ),
    "certificate.brought_in": "Kalibrierschein {number} vom {date} steht in {file}: {what}.",
    "certificate.uncertainty": "{name} {value:g}",
    "certificate.linearity": "Tabelle der Abweichungen für {channels}",
    "certificate.nothing": "nur Nummer und Datum, keine Unsicherheit in einer Einheit seiner Kanäle",
    "certificate.no_date": "einem unbekannten Tag",
    "certificate.other_serial": (
        "Achtung: der Kalibrierschein gilt einem Instrument mit den Nummern {serials}, die Beschreibung sagt anderes."
    ),
    "certificate.due": (
        "Ein Kalibrierschein sagt nicht, wann er fällig ist: schreiben Sie „due“ selbst in die Beschreibung."
    ),
}
