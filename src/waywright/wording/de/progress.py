"""Deutsch: was ein Fortschrittsbalken zählt."""

TEXT = {
    "progress.check": "Messwerte prüfen",
    "progress.copy": "Seiten kopieren",
    "progress.lines": "Linien rechnen",
    "progress.subject": "Gegenstände",
    "progress.record": "Beschreibungen",
    "progress.content": "angehängte Dateien",
    "progress.reading": "Durchgänge mit Messwerten",
    "progress.stream_block": "Durchgänge mit Datenströmen",
    "progress.pass_event": "Ereignisse",
}
