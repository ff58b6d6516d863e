"""Deutsch: Sätze über das Unterschreiben eines Berichts und Bemerkungen darin."""

TEXT = {
    "report_sign.unknown_role": "Niemand unterschreibt als {role}. Wählen Sie: {known}.",
    "report_sign.no_name": "Eine Unterschrift braucht einen Namen. Sagen Sie mit --by, wer unterschreibt.",
    "report_sign.nothing_drawn": (
        "Es ist nichts gezeichnet. Unterschreiben Sie im Feld oder mit Tinte auf dem Ausdruck."
    ),
    "report_sign.unknown_note": "Ein Bericht hat keine Bemerkungen der Art {kind}. Wählen Sie: {known}.",
    "report_sign.no_words": "Eine Bemerkung der Art {kind} braucht Worte.",
    "report_sign.no_day": "{day!r} ist kein Datum. Schreiben Sie es als 2026-11-30.",
    "report_sign.too_many_points": "Die Unterschrift hat mehr als {limit} Punkte. Zeichnen Sie sie noch einmal.",
    "report_sign.outside_the_box": (
        "Die Unterschrift verlässt ihr Feld (x von 0 bis 1, y von 0 bis 0.3). Zeichnen Sie sie noch einmal."
    ),
    "report_sign.strokes_unreadable": (
        "{file} enthält keine Unterschrift: es muss eine JSON-Liste von Strichen sein, jeder eine Liste von [x, y] "
        "({detail})."
    ),
    "report_sign.signed": "{name} hat Bericht {number}, Revision {revision}, als {role} unterschrieben.",
    "report_sign.noted": "Der Bericht wird sagen: {words}",
    "report_sign.extra_missing": (
        "Digitale Signaturen brauchen den zusätzlichen Teil „sign“: einrichten mit „python3 x.py add sign“ (oder pip "
        "install 'waywright[sign]')."
    ),
    "report_sign.bad_certificate": (
        "{file} lässt sich nicht als Zertifikat mit Schlüssel öffnen: {detail}. Prüfen Sie die Passphrase."
    ),
    "report_sign.sealed": "{file} ist von {name} signiert; geschrieben wurde {target}.",
    "report_sign.not_signed": "{file} trägt keine digitale Signatur.",
    "report_sign.intact": "Signiert von {name} am {when}: was signiert wurde, ist unverändert.",
    "report_sign.broken": "Signiert von {name}: die Datei wurde nach dem Signieren geändert ({detail}).",
    "report_sign.more_than_signed": "Der Datei wurde etwas hinzugefügt, nachdem {name} sie signiert hatte.",
    "report_sign.trusted": "Das Zertifikat führt zu einem, dem Sie vertrauen.",
    "report_sign.not_trusted": (
        "Wer {name} ist, wurde nicht geprüft: geben Sie mit --trust das Zertifikat an, dem Sie vertrauen. ({detail})"
    ),
    "report_sign.seal_failed": "{file} lässt sich nicht signieren: {detail}.",
}
