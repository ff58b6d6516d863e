"""Deutsch: Sätze über Tabellen anderer Programme."""

TEXT = {
    "foreign.too_large": "{file} ist größer als {limit_mb:.0f} MB und wird nicht gelesen. Teilen Sie die Datei.",
    "foreign.too_many_rows": "{file} hat mehr als {limit} Zeilen und wird nicht gelesen. Teilen Sie die Datei.",
    "foreign.too_many_columns": "{file}, Zeile {line}: mehr als {limit} Spalten. Das ist keine Messwerttabelle.",
    "foreign.long_cell": (
        "{file}, Zeile {line}: eine Zelle ist länger als {limit} Zeichen. Das ist keine Messwerttabelle."
    ),
    "foreign.broken_line": (
        "{file}, Zeile {line} lässt sich nicht in Zellen teilen. Speichern Sie die Tabelle neu als CSV."
    ),
    "foreign.old_workbook": "{file} ist eine Arbeitsmappe der alten Art (.xls). Speichern Sie sie als .xlsx oder CSV.",
    "foreign.not_a_workbook": (
        "{file} ist nicht als Arbeitsmappe lesbar: {detail}. Speichern Sie sie neu als .xlsx oder CSV."
    ),
    "foreign.no_sheet": "{file} hat kein Blatt {sheet!r}. Vorhanden: {known}.",
    "foreign.zip_tricks": (
        "{file} ist nicht gebaut wie eine Arbeitsmappe. Sie wird nicht gelesen; speichern Sie sie neu als .xlsx oder "
        "CSV."
    ),
    "foreign.unpacks_too_large": "{file} entpackt sich auf mehr als {limit_mb:.0f} MB und wird nicht gelesen.",
    "foreign.entities": "{file} legt Entitäten fest, die keine Arbeitsmappe braucht. Sie wird nicht gelesen.",
    "foreign.locked": "{file} ist durch ein Passwort geschützt. Speichern Sie sie ohne eines.",
    "foreign.no_header": (
        "{file} hat {rows} Zeilen, die Zuordnung sucht die Überschriften in Zeile {row}. Berichtigen Sie header_row."
    ),
    "foreign.few_rows": (
        "{file} hat {rows} Zeilen mit einer Position; nötig sind {needed}. Prüfen Sie header_row und die Spalte."
    ),
    "foreign.no_values": "Die Zuordnung nennt für {file} keine Wertspalte. Fügen Sie ein [[value]] hinzu.",
    "foreign.no_axes": (
        "Die Zuordnung sagt positive für {column!r}, also muss sie auch sagen, wie die Achsen liegen: up und operator."
    ),
    "foreign.no_column": "{file} hat keine Spalte {column!r}. Ihre Überschriften sind: {known}.",
    "foreign.bad_number": (
        "{file}, Zeile {row}, Spalte {column}: {found!r} ist keine Zahl mit dem Dezimalzeichen {decimal!r}. "
        "Berichtigen Sie die Zelle oder die Zuordnung."
    ),
    "foreign.bad_pass": "{file}, Spalte {column}: Nummern von Durchgängen müssen ganz sein, ab 0.",
    "foreign.bad_direction": (
        "{file}, Zeile {row}, Spalte {column}: {found!r} ist weder {forward!r} noch {backward!r}. Berichtigen Sie die "
        "Zuordnung."
    ),
    "foreign.no_table": (
        "{file} hat keine drei Zeilen mit Zahlen untereinander und Überschriften darüber. Fügen Sie eine Zeile mit "
        "Überschriften ein."
    ),
    "foreign.looked": "{file}: Überschriften in Zeile {row}: {headings}",
    "foreign.sheets": "Blätter: {sheets}",
    "foreign.mapping_written": (
        "Eine Zuordnung zum Durchsehen liegt in {file}: prüfen Sie Kurzzeichen, Einheiten und Vorzeichen."
    ),
    "foreign.converted": "{rows} Messwerte in {file}: {codes}",
}
