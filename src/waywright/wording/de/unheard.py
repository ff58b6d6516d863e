"""Instruments that are connected and say nothing."""

TEXT = {
    "unheard.waiting": "wartet auf: {titles}",
    "unheard.untold": "Noch nichts zu hören: {title}.",
    "unheard.told": "Noch nichts zu hören: {title}. {told}",
    "unheard.silent": (
        "Noch nichts zu hören: {title}. Die Verbindung ist offen ({address}). Prüfen Sie, ob das Instrument "
        "eingeschaltet ist und von selbst sendet, mit den Einstellungen, die seine Beschreibung nennt."
    ),
    "unheard.next": (
        "Sobald es zu hören ist, geht es von selbst weiter. Um ohne es zu messen, trennen Sie die Instrumente und "
        "verbinden Sie nur die anderen."
    ),
}
