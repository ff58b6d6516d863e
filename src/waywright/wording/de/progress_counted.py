"""Deutsch: Zeilen danach, was sie sind, hinter einer Zahl."""

TEXT = {
    "progress_counted.subject": "Gegenstände",
    "progress_counted.record": "Beschreibungen",
    "progress_counted.content": "angehängte Dateien",
    "progress_counted.reading": "Messwerte",
    "progress_counted.stream_block": "Blöcke von Datenströmen",
    "progress_counted.pass_event": "Ereignisse",
}
