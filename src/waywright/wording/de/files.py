"""Deutsch: Sätze der Dateien, die Menschen austauschen."""

TEXT = {
    "files.cannot_read": "{file} ist nicht lesbar: {reason}. Prüfen Sie Namen und Ordner.",
    "files.cannot_write": (
        "{file} ist nicht zu schreiben: {reason}. Wählen Sie einen anderen Ordner oder schaffen Sie Platz."
    ),
    "files.visit_file_too_large": ("{file} enthält mehr als {limit_mb:.0f} MB: So groß ist keine Datei eines Besuchs."),
    "files.table_too_large": (
        "{file} ist größer als {limit_mb:.0f} MB, die Grenze für eine Messwerttabelle. Teilen Sie sie, je gemessener "
        "Linie eine Datei."
    ),
    "files.table_not_text": (
        "{file} ist keine Texttabelle. Speichern Sie sie in dem Programm, aus dem sie kommt, als CSV (UTF-8) und "
        "lesen Sie diese Datei."
    ),
    "files.table_not_utf8": (
        "{file}, Zeile {line}: das ist kein UTF-8-Text. Speichern Sie die Tabelle als CSV mit der Kodierung UTF-8."
    ),
    "files.table_empty": (
        "{file} ist leer. Eine Messwerttabelle hat eine Kopfzeile wie position_mm,EYZ_um und eine Zeile je Station."
    ),
    "files.table_header_only": (
        "{file} hat in Zeile {line} eine Kopfzeile, aber darunter keine Messwerte. Fügen Sie je Station eine Zeile an."
    ),
    "files.table_broken_line": (
        "{file}, Zeile {line}: in {found!r} wird ein Anführungszeichen geöffnet und nicht geschlossen. Entfernen Sie "
        "es."
    ),
    "files.table_ragged": (
        "{file}, Zeile {line}: {found} Zellen, die Kopfzeile nennt aber {expected} Spalten. Geben Sie jeder Zeile so "
        "viele Zellen wie der Kopfzeile."
    ),
    "files.table_decimal_comma": (
        "{file}, Zeile {line}: {found} Zellen, die Kopfzeile nennt aber {expected} Spalten. Haben die Zahlen ein "
        "Dezimalkomma, so trennen Sie die Spalten mit Semikolon oder Tabulator."
    ),
    "files.table_unknown_column": (
        "{file}, Zeile {line}: die Spalte {column!r} ist nicht bekannt. Spalten sind Position, Zeit, Kurzzeichen nach "
        "ISO 230-1 mit Einheit (EYZ_um, ECZ_um_per_m), sd_ und n_ vor einem Kurzzeichen, pass, direction und n. "
        "Bemerkungen gehören in Zeilen, die mit # beginnen."
    ),
    "files.named_unknown_column": (
        "{file}, Zeile {line}: die Spalte {column!r} ist hier nicht bekannt. Spalten dieser Tabelle sind {known}."
    ),
    "files.named_column_missing": (
        "{file}, Zeile {line}: es fehlt die Spalte {column!r}. Fügen Sie sie hinzu; die Einheit darf eine andere sein."
    ),
    "files.table_unit_missing": (
        "{file}, Zeile {line}: die Spalte {column!r} hat keine Einheit. Schreiben Sie zum Beispiel {example}."
    ),
    "files.table_unit_unknown": (
        "{file}, Zeile {line}, Spalte {column}: die Einheit {found!r} ist hier nicht bekannt. Möglich sind: {allowed}."
    ),
    "files.table_column_twice": "{file}, Zeile {line}: die Spalte {column!r} steht zweimal da. Entfernen Sie eine.",
    "files.table_mixed_units": (
        "{file}, Zeile {line}: {first} und {second} geben eine Größe in zwei Einheiten. Nehmen Sie für beide eine."
    ),
    "files.table_no_position": (
        "{file}, Zeile {line}: keine Spalte mit Positionen. Fügen Sie eine hinzu, zum Beispiel position_mm."
    ),
    "files.table_no_quantity": (
        "{file}, Zeile {line}: keine Spalte mit Abweichungen. Fügen Sie eine hinzu, benannt nach Kurzzeichen aus ISO "
        "230-1 und Einheit, zum Beispiel EYZ_um."
    ),
    "files.cell_number": (
        "{file}, Zeile {line}, Spalte {column}: gefunden {found!r}, erwartet eine Zahl wie -12.5. Berichtigen Sie die "
        "Zelle."
    ),
    "files.cell_empty": (
        "{file}, Zeile {line}, Spalte {column}: die Zelle ist leer, erwartet: {expected}. Füllen Sie sie aus, oder "
        "entfernen Sie die Zeile, wenn die Station nicht gemessen wurde."
    ),
    "files.cell_decimal_mark": (
        "{file}, Zeile {line}, Spalte {column}: gefunden {found!r}, seit Zeile {first_line} ist das Dezimalzeichen "
        "dieser Datei aber {expected!r}. Nehmen Sie durchweg eines, und keines für Tausender."
    ),
    "files.cell_spread": (
        "{file}, Zeile {line}, Spalte {column}: gefunden {found!r}, erwartet eine Standardabweichung, die nicht "
        "negativ ist. Berichtigen Sie die Zelle oder lassen Sie sie leer."
    ),
    "files.cell_count": (
        "{file}, Zeile {line}, Spalte {column}: gefunden {found!r}, erwartet eine Anzahl von Einzelwerten, eine ganze "
        "Zahl ab 1. Berichtigen Sie die Zelle oder lassen Sie sie leer."
    ),
    "files.cell_pass": (
        "{file}, Zeile {line}, Spalte {column}: gefunden {found!r}, erwartet die Nummer des Durchgangs, eine ganze "
        "Zahl ab 1. Berichtigen Sie die Zelle."
    ),
    "files.cell_direction": (
        "{file}, Zeile {line}, Spalte {column}: gefunden {found!r}, erwartet forward oder backward. Berichtigen Sie "
        "die Zelle oder lassen Sie sie leer."
    ),
    "files.table_few_stations": (
        "{file}: es sind {stations} Stationen; eine Gerade braucht mindestens {needed}. Nehmen Sie mehr."
    ),
    "files.table_position_twice": (
        "{file}, Zeile {line}: die Position {position_mm:g} mm steht schon in Zeile {first_line} desselben "
        "Durchgangs. Behalten Sie den Messwert, der gilt, oder zählen Sie die Durchgänge in einer Spalte namens pass."
    ),
    "files.metadata_line": (
        "Die Bemerkung {note!r} passt nicht in eine Zeile einer Messwerttabelle. Nehmen Sie einen Namen ohne "
        "Doppelpunkt und Text ohne Zeilenwechsel und ohne Leerzeichen an den Enden."
    ),
    "files.record_lengths": (
        "Die Spalte {column} hat {values} Werte für {positions} Positionen. Geben Sie zu jeder Position einen an."
    ),
    "files.record_values": "Die Spalte {column} ist keine Liste endlicher Zahlen. Entfernen Sie, was keine Zahl ist.",
    "files.budget_format": (
        "{file} ist ein Budget im Format {found}; diese Fassung liest Format {known}. Beginnen Sie mit einem fertigen "
        "Budget dieser Fassung, oder bringen Sie Waywright auf den neuen Stand."
    ),
    "files.no_ready_budget": "Für {method!r} gibt es kein fertiges Budget. Verfahren mit einem: {known}.",
}
