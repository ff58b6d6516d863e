"""Deutsch: Sätze zur Maschine und ihrer Datei."""

TEXT = {
    "machine.not_positive": (
        "{entry} ist {value}. Schreiben Sie eine Zahl über null, oder lassen Sie die Angabe weg, wenn sie unbekannt "
        "ist."
    ),
    "machine.negative": "{entry} ist {value}. Schreiben Sie null oder eine positive Zahl.",
    "machine.off_the_bed": (
        "{entry} ist {value:g} mm, das Bett reicht aber von 0 bis {length_mm:g} mm. Orte zählen längs des Betts von "
        "seinem linken Ende, wie der Bediener es sieht."
    ),
    "machine.not_one_of": "{entry} ist {value!r}. Möglich sind: {allowed}.",
    "machine.step_above_move": (
        "Der kleinste Schritt von Aufstellelement {support} ist größer als sein größter Weg. Berichtigen Sie "
        "smallest_step_um oder largest_move_um."
    ),
    "machine.support_name_twice": (
        "Zwei Aufstellelemente heißen {support}. Jedes braucht seinen eigenen Namen, wie er am Boden steht."
    ),
    "machine.support_place_twice": (
        "Die Aufstellelemente {support} und {other} stehen am selben Ort. Berichtigen Sie bed_mm oder row bei einem "
        "von ihnen."
    ),
    "machine.file_missing": "Es gibt keine Maschinendatei {path}. Prüfen Sie den Namen.",
    "machine.file_not_toml": (
        "{path} ist nicht als TOML lesbar: {reason}. Berichtigen Sie die Zeile und versuchen Sie es noch einmal."
    ),
    "machine.file_format": "{path} sagt format = {format!r}; diese Fassung liest format = 1.",
    "machine.file_unknown_key": "{path}: {place} hat den unbekannten Schlüssel {entry!r}. Bekannt sind dort: {known}.",
    "machine.file_wrong_type": "{path}: {place}: {reason}",
    "machine.file_missing_key": "{path}: {place} fehlt {entry}.",
}
