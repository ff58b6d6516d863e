"""Deutsch: Sätze über einen Bericht, der nachgerechnet wird."""

TEXT = {
    "report_verify.agrees": "Der Bericht stimmt mit seinen Daten überein.",
    "report_verify.counted": (
        "Bericht {number}, Revision {revision}: {numbers} gedruckte Zahlen auf {pages} Seiten, neu gerechnet aus "
        "{readings} gesiegelten Messwerten in {passes} Durchgängen. Wurzel über alle Ketten: {root}"
    ),
    "report_verify.disagrees": "Der Bericht stimmt an {findings} Stellen nicht mit seinen Daten überein:",
    "report_verify.number_differs": (
        "Seite {page}, nach „{before}“: gedruckt ist „{printed}“, die Daten geben „{computed}“."
    ),
    "report_verify.word_differs": "Seite {page}, nach „{before}“: da steht „{printed}“, die Daten geben „{computed}“.",
    "report_verify.drawn_differently": "Seite {page}: die Wörter stimmen überein, aber etwas ist anders gezeichnet.",
    "report_verify.other_pages": "Es sind {printed} Seiten, die Daten geben {computed}.",
    "report_verify.file_missing": "Die Datei {name}, die darin liegen sollte, fehlt.",
    "report_verify.file_differs": "{name}, Zeile {line}: da steht „{printed}“, die Daten geben „{computed}“.",
    "report_verify.reading_changed": (
        "Durchgang …{pass_id}, Messwert {number} bei {position_mm:.1f} mm ist nicht, was gesiegelt wurde: sein "
        "Fingerabdruck ist ein anderer."
    ),
    "report_verify.reading_unreadable": "Durchgang …{pass_id}, Messwert {number} ist kein gesiegelter Messwert.",
    "report_verify.chain_broken": "Durchgang …{pass_id}, Messwert {number} folgt nicht auf den davor.",
    "report_verify.root_differs": "Die Wurzel über alle Ketten ist {computed}…, die Daten sagen {printed}….",
    "report_verify.signed_something_else": "{name} hat andere Daten ({signed}…) unterschrieben als diese.",
    "report_verify.not_computed": "Der Bericht lässt sich nicht nachrechnen: {why}",
    "report_verify.not_in_archive": "Durchgang …{pass_id} steht nicht so im Archiv, wie der Bericht ihn hat.",
    "report_verify.records_not_in_archive": (
        "Die {links} Einträge des Rechners {name} stehen nicht so im Archiv, wie der Bericht sie hat."
    ),
    "report_verify.other_version": (
        "Der Bericht wurde mit Waywright {made} gemacht, dies ist {now}; eine andere Fassung kann Seiten anders setzen."
    ),
    "report_verify.carries_signature": "Die Datei trägt eine digitale Signatur; „waywright report signed“ prüft sie.",
    "report_verify.no_data": (
        "{file} enthält kein {name}: es ist kein Bericht dieses Programms, oder er wurde neu gedruckt. Bitten Sie um "
        "die ursprüngliche Datei."
    ),
    "report_verify.data_unreadable": "Die Daten im Bericht sind nicht lesbar: {detail}.",
    "report_verify.data_too_large": "Die Daten im Bericht sind größer als {limit_mb:.0f} MB. Sie werden nicht gelesen.",
    "report_verify.other_format": (
        "Die Daten darin haben das Format „{found}“, dieses Programm kennt „{known}“. Prüfen Sie ihn mit einem "
        "neueren Programm."
    ),
    "report_verify.too_large": "{file} ist größer als {limit_mb:.0f} MB und wird nicht gelesen.",
    "report_verify.too_many_pages": "{file} hat mehr als {limit} Seiten und wird nicht gelesen.",
    "report_verify.too_many_files": "{file} enthält mehr als {limit} Dateien und wird nicht gelesen.",
    "report_verify.locked": (
        "{file} ist verschlüsselt. Berichte dieses Programms sind es nie; bitten Sie um die ursprüngliche Datei."
    ),
    "report_verify.not_a_pdf": "{file} ist nicht als PDF lesbar: {detail}.",
}
