"""Deutsch: Sätze über TOML-Dateien."""

TEXT = {
    "toml.cannot_read": "{file} ist nicht lesbar: {reason}. Prüfen Sie Pfad und Rechte.",
    "toml.not_toml": "{file} ist keine TOML-Datei: {reason}. Berichtigen Sie die genannte Zeile.",
    "toml.bad_value": "{file}, Schlüssel {key}: {reason}. Berichtigen Sie den Wert.",
    "toml.unknown_key": "{file}, Schlüssel {key}: diesen Schlüssel gibt es nicht. Hier möglich: {allowed}.",
}
